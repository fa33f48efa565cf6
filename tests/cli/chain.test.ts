import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { commandLine } from '../support/command-line';

/** A sender of B 3,800 K and the gauge that was marked for it, each as a table; invented. */
const ohm = (celsius: number): number => 700 * Math.exp(3800 * (1 / (celsius + 273.15) - 1 / 298.15));
const at = [30, 40, 55, 70, 85, 100, 115, 125];
const sender = ['temperature_C,resistance_ohm', ...at.map((c) => `${c},${ohm(c).toFixed(2)}`)].join('\n');
const gauge = ['resistance_ohm,reading_C', ...at.map((c) => `${ohm(c).toFixed(2)},${c}`)].join('\n');
/** 25 ohm too many in the wire: the needle reads what a sender of so many more ohms would give. */
const shownWith = (more: number, celsius: number): number =>
  1 / (Math.log((ohm(celsius) + more) / 700) / 3800 + 1 / 298.15) - 273.15;
const pairs = (more: number): string =>
  ['temperature_C,reading_C', ...[50, 80, 110].map((c) => `${c},${shownWith(more, c).toFixed(1)}`)].join(
    '\n',
  );

const ran = (text: string, ...options: readonly string[]) =>
  commandLine(['chain', 'pairs.csv', '--gauge', 'gauge.csv', '--sender', 'sender.csv', ...options], {
    'pairs.csv': text,
    'gauge.csv': gauge,
    'sender.csv': sender,
  });
const probe = ['--reference', 'flow-probe'];

describe('the chain test as a command', () => {
  it('agrees where the needle shows what the two curves say', async () => {
    const { code, out, err } = await ran(pairs(0), ...probe);
    expect(code).toBe(0);
    expect(out).toContain('together show what their curves say');
    expect(err).toContain('own heat is left out');
  });

  it('says that a fault remains, ranks what it could mean and asks for one reading', async () => {
    const { out } = await ran(pairs(25), ...probe);
    expect(out).toContain('A fault remains');
    expect(out).toMatch(/too many in the wire/);
    expect(out).toMatch(/Read next: /);
  });

  it('answers as its schema says', async () => {
    const schema = z.fromJSONSchema(z.looseObject({}).parse((await commandLine(['schema', 'chain'])).json()));
    for (const more of [0, 25]) {
      const { json } = await ran(pairs(more), ...probe, '--json');
      expect(schema.safeParse(json()).success).toBe(true);
      expect(json()).toMatchObject({ kind: 'chain', fault_remains: more > 0 });
    }
  });

  it('foretells through what is fitted: the same 25 ohm in series are no fault then', async () => {
    const { json } = await ran(pairs(25), ...probe, '--fitted', 'series:25', '--json');
    expect(json()).toMatchObject({ fault_remains: false });
  });

  it('takes pairs in another unit of temperature', async () => {
    const inFahrenheit = `temperature_F,reading_F\n${1.8 * 80 + 32},${1.8 * 80 + 32}`;
    expect((await ran(inFahrenheit, ...probe, '--json')).json()).toMatchObject({
      unit: 'degC',
      fault_remains: false,
    });
  });

  it.each([
    [['--fitted', 'series'], 'series takes 1 ohms'],
    [['--fitted', 'pi:1,2'], 'is none of'],
    [['--fitted', 'series:x'], '--fitted series:x'],
    [['--fitted', 'series:0'], 'more than 0 ohm'],
    [['--fitted', 'gauge-shunt:100'], 'needs --gauge-ohm'],
  ])('refuses %j', async (options, words) => {
    const { code, err } = await ran(pairs(0), ...probe, ...options);
    expect(code).toBe(2);
    expect(err).toContain(words);
  });

  it('refuses a place without a curve, and pairs of another quantity', async () => {
    expect((await ran('temperature_C,reading_C\n200,120', ...probe)).code).toBe(3);
    const { code, err } = await ran('pressure_kPa,reading_kPa\n200,120', ...probe);
    expect(code).toBe(2);
    expect(err).toContain('the pairs are in kPa, the dial in degC');
  });
});
