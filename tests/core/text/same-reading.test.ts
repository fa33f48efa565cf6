import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { unitChange } from '../../../host/core/units';
import { senderTable } from '../../../host/core/text/sender-table';
import { commandLine } from '../../support/command-line';
import { tables, type TableCase } from './tables';

/** As the page asks for a table of a sender whose unit is the table's own. */
const onThePage = ({ text, unit }: TableCase) => senderTable(text, { unit, headless: true });

const Read = z.object({
  unit: z.string(),
  points: z.array(z.object({ value: z.number(), resistance_ohm: z.number() })),
});

describe('a table is read alike by page and command', () => {
  it('has at least sixty tables to show it by', () => expect(tables.length).toBeGreaterThanOrEqual(60));

  it.each(tables.map((table) => [table.name, table] as const))('page: %s', (_, table) => {
    const read = onThePage(table);
    if (read.kind !== 'sender-table') {
      expect(read.code).toBe(table.code);
      expect(read.kind === 'problem' ? read.ask?.units : undefined).toEqual(table.ask);
      return;
    }
    expect(table.code).toBeUndefined();
    expect(read.unit).toBe(table.unit);
    expect(read.points.map((point) => [point.value, point.resistanceOhm])).toEqual(table.points);
    expect(read.problems.map(({ row }) => row)).toEqual(table.wrongRows ?? []);
  });

  it.each(tables.map((table) => [table.name, table] as const))('command: %s', async (_, table) => {
    const ran = await commandLine(['sender', 't.csv', '--model', 'table', '--json'], { 't.csv': table.text });
    if (table.code !== undefined || table.wrongRows !== undefined) {
      expect(ran.code, ran.err).toBe(2);
      const read = onThePage(table);
      const row = read.kind === 'sender-table' ? read.problems[0]?.row : read.row;
      const message = read.kind === 'sender-table' ? read.problems[0]?.message : read.message;
      expect(ran.err).toContain(message?.replace(/\.$/, ''));
      if (row !== undefined) expect(ran.err).toContain(`row ${row}`);
      return;
    }
    expect(ran.code, ran.err).toBe(0);
    const found = Read.parse(ran.json());
    expect(found.unit).toBe(table.unit);
    expect(found.points.map((point) => [point.value, point.resistance_ohm])).toEqual(table.points);
  });
});

describe('what a person says of a table', () => {
  it('lets each cell stand in the unit it bears', () => {
    const text = 'Temperature;R (Ω)\n20 °C;1243\n104 °F;543';
    const read = senderTable(text, { said: { temperature: 'as-written' } });
    expect(read).toMatchObject({ kind: 'sender-table', unit: 'degC', problems: [] });
    expect(read.kind === 'sender-table' && read.points.map(({ value }) => value)).toEqual([20, 40]);
  });

  it('settles a resistance that does not say its unit', () => {
    const read = senderTable('temperature_C;resistance\n20;1.243', { said: { resistance: 'kohm' } });
    expect(read).toMatchObject({ kind: 'sender-table', points: [{ resistanceOhm: 1243 }] });
  });

  it('settles a whole column whose scale is in doubt, either way', () => {
    const kilo = 'temperature_C;resistance_ohm\n20;1.243\n60;0.2622\n80;0.1379';
    const ohmOf = (unit: string) => senderTable(kilo, { said: { resistance: unit } });
    expect(ohmOf('kohm')).toMatchObject({ points: [{ resistanceOhm: 1243 }, {}, {}] });
    expect(ohmOf('ohm')).toMatchObject({ points: [{ resistanceOhm: 1.243 }, {}, {}] });
    const level = 'level_percent;resistance_ohm\n0;240\n0.5;103\n1;33';
    const read = senderTable(level, { said: { level: 'fraction' } });
    expect(read.kind === 'sender-table' && read.points.map(({ value }) => value)).toEqual([0, 50, 100]);
  });

  it('is needed where the table speaks of another quantity than the sender', () => {
    const read = senderTable('pressure_bar;ohm\n1;10', { unit: 'degC' });
    expect(read).toMatchObject({ kind: 'problem', code: 'TABLE_UNITS_DIFFER' });
    // No word of anybody makes a level a temperature.
    const level = senderTable('level_percent;ohm\n0;240\n50;103\n100;33', { unit: 'degC' });
    expect(level).toMatchObject({ code: 'TABLE_UNITS_DIFFER' });
    expect(level).not.toHaveProperty('ask');
    expect(senderTable('temperature_F;ohm\n104;10', { unit: 'degC' })).toMatchObject({ unit: 'degF' });
  });

  it('turns into the same ohms whatever unit the heading is in', () => {
    const change = unitChange('kohm', 'ohm');
    expect(change).toMatchObject({ factor: 1000, offset: 0 });
  });
});
