import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { commandLine } from '../support/command-line';
import { anyText } from '../support/any-text';

/** Cells as tired people and odd spreadsheets leave them. */
const cell = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.double({ min: 0.1, max: 5000, noNaN: true }).map((value) => value.toPrecision(4)),
  },
  { weight: 3, arbitrary: fc.integer({ min: -20, max: 400 }).map(String) },
  {
    weight: 1,
    arbitrary: fc.constantFrom(
      '',
      '-',
      '0',
      '1k2',
      '1,2',
      '"1,200"',
      'open',
      '∞',
      'NaN',
      '1e308',
      '-0',
      '"a ""b"""',
      'up',
      'low',
      '°C',
      '#',
    ),
  },
);
const header = fc.constantFrom(
  'resistance_ohm,reading',
  'resistance_ohm,reading_C,leg',
  'Resistance (kOhm);Reading [°F];at stop',
  'temperature_C,resistance_ohm',
  'temperature_F,resistance_ohm,u_temperature_F',
  'psi;ohm',
  'level_percent\tresistance_ohm',
);
const table = fc
  .tuple(header, fc.array(fc.array(cell, { minLength: 1, maxLength: 4 }), { maxLength: 9 }))
  .map(([head, rows]) => {
    const separator = head.includes('\t') ? '\t' : head.includes(';') ? ';' : ',';
    return [head, ...rows.map((row) => row.join(separator))].join('\n');
  });

/** Well-formed tables of numbers that may still make no sense: repeated, constant, turning, tiny, huge, negative. */
const number = fc.oneof(
  { weight: 5, arbitrary: fc.double({ min: 1, max: 2000, noNaN: true }) },
  { weight: 2, arbitrary: fc.integer({ min: 0, max: 120 }) },
  { weight: 1, arbitrary: fc.constantFrom(0, 1e-9, 1e9, 50, 50, -40) },
);
const sensible = fc
  .array(
    fc.tuple(fc.double({ min: 1, max: 2000, noNaN: true }), fc.double({ min: -3, max: 3, noNaN: true })),
    {
      minLength: 3,
      maxLength: 12,
    },
  )
  .map((pairs) => pairs.map(([ohm, noise]) => [ohm, 150 - 20 * Math.log(ohm) + noise] as const));
const pairs = fc.oneof(sensible, fc.array(fc.tuple(number, number), { minLength: 1, maxLength: 12 }));
const gaugeTable = pairs.map((rows) =>
  ['resistance_ohm,reading_C', ...rows.map((row) => row.map((value) => value.toPrecision(5)).join(','))].join(
    '\n',
  ),
);
const senderTable = pairs.map((rows) =>
  [
    'resistance_ohm,temperature_C',
    ...rows.map((row) => row.map((value) => value.toPrecision(5)).join(',')),
  ].join('\n'),
);

const everyNumberIsFinite = (text: string): boolean => !/:\s*(NaN|-?Infinity)\b/.test(text);

/** Each command must answer, refuse or reject; a fault of the program (code 1) is never the answer to a file. */
async function behaves(argv: readonly string[], files: Readonly<Record<string, string>>): Promise<void> {
  const { code, out, err } = await commandLine([...argv, '--json'], files);
  expect([0, 2, 3], `${JSON.stringify(files)} ${err}`).toContain(code);
  if (code === 2) {
    expect(out).toBe('');
    expect(err.split('\n').filter((line) => line.startsWith('needlewright: '))).toHaveLength(1);
    return;
  }
  expect(() => z.json().parse(JSON.parse(out))).not.toThrow();
  expect(everyNumberIsFinite(out)).toBe(true);
}

describe('on any file at all', () => {
  it.each(['curve', 'sender'])('%s answers, refuses or rejects, and is never at fault', async (name) => {
    await fc.assert(
      fc.asyncProperty(table, (text) => behaves([name, 'x.csv'], { 'x.csv': text })),
      { numRuns: 150, seed: 20_260_301 },
    );
  });

  it('curve and sender keep to finite numbers on tables that are well formed and senseless', async () => {
    await fc.assert(
      fc.asyncProperty(gaugeTable, (text) =>
        behaves(['curve', 'x', '--marks', '40,80,120', '--at', '0,100'], { x: text }),
      ),
      { numRuns: 150, seed: 20_260_303 },
    );
    await fc.assert(
      fc.asyncProperty(senderTable, (text) =>
        behaves(['sender', 'x', '--at', '60', '--ohm', '100'], { x: text }),
      ),
      { numRuns: 150, seed: 20_260_304 },
    );
  });

  it('trim keeps to finite numbers on them too', async () => {
    await fc.assert(
      fc.asyncProperty(gaugeTable, senderTable, (gauge, sender) =>
        behaves(['trim', '--gauge', 'g', '--sender', 's', '--max-parts', '1', '--gauge-ohm', '60'], {
          g: gauge,
          s: sender,
        }),
      ),
      { numRuns: 60, seed: 20_260_305 },
    );
  });

  it('trim answers, refuses or rejects, and is never at fault', async () => {
    await fc.assert(
      fc.asyncProperty(table, table, (gauge, sender) =>
        behaves(['trim', '--gauge', 'g.csv', '--sender', 's.csv', '--max-parts', '1'], {
          'g.csv': gauge,
          's.csv': sender,
        }),
      ),
      { numRuns: 60, seed: 20_260_302 },
    );
  });

  it.each(['curve', 'sender', 'budget', 'identify'])('%s survives rubbish', async (name) => {
    const extra = name === 'identify' ? ['--known', 'x'] : [];
    await fc.assert(
      fc.asyncProperty(anyText(120), (text) => behaves([name, 'x', ...extra], { x: text })),
      { numRuns: 100 },
    );
  });
});
