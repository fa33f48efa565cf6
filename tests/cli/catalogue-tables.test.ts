import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { commandLine, type Files, type Ran } from '../support/command-line';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'catalogue-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));
const run = (words: readonly string[], files: Files = {}): Promise<Ran> =>
  commandLine(['catalogue', ...words, '--catalogue', folder], files);
const Imported = z.looseObject({
  cards: z.array(z.looseObject({ sha256: z.string(), points: z.number(), new: z.boolean() })),
});

const PAIRS = [
  ['40', '1200'],
  ['62.5', '610.5'],
  ['80', '300'],
  ['100', '161'],
] as const;
const table = (mark: string, comma: '.' | ',', end = '\n'): string =>
  [
    ['temperature (\u00b0C)', 'resistance_ohm'].join(mark),
    ...PAIRS.map((pair) => pair.map((cell) => cell.replace('.', comma)).join(mark)),
  ].join(end);
const bytes = (text: string, encoding: BufferEncoding): Uint8Array =>
  new Uint8Array(Buffer.from(text, encoding));
const swapped = (text: string): Uint8Array => new Uint8Array(Buffer.from(text, 'utf16le').swap16());

describe('one table, however a program of another country saved it', () => {
  it('is one card', async () => {
    const files = {
      'comma.csv': bytes(table(',', '.'), 'utf8'),
      'mark.csv': bytes(`\ufeff${table(';', ',', '\r\n')}`, 'utf8'),
      'wide.csv': bytes(`\ufeff${table('\t', ',')}`, 'utf16le'),
      'wide-swapped.csv': swapped(`\ufeff${table(';', ',')}`),
      'wide-unmarked.csv': bytes(table(';', ','), 'utf16le'),
      'old.csv': bytes(table(';', ',', '\r'), 'latin1'),
      'spaces.csv': bytes(table('   ', '.').replace('resistance_ohm', 'ohm'), 'utf8'),
    };
    const hashes = new Map<string, string>();
    for (const [name, content] of Object.entries(files)) {
      const ran = await run(['import', 'x.csv', '--description', 'coolant', '--json'], { 'x.csv': content });
      expect([name, ran.code, ran.err]).toEqual([name, 0, '']);
      const [card] = Imported.parse(ran.json()).cards;
      expect([name, card?.points, card?.new]).toEqual([name, PAIRS.length, hashes.size === 0]);
      hashes.set(name, card?.sha256 ?? '');
    }
    expect(new Set(hashes.values()).size).toBe(1);
  });

  it('that means two things by its commas is asked about, not guessed', async () => {
    const ran = await run(['import', 'x.csv', '--json'], {
      'x.csv': 'temperature_C,resistance_ohm\n40,1,200\n80,0,300\n',
    });
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/x\.csv: left out, row 2, column 3: there are 3 cells/);
  });

  it('of 50 MB is refused with its size, at once and without filling the memory', async () => {
    const rows = 'temperature_C,resistance_ohm\n' + '40,1200\n'.repeat(6_500_000);
    const before = process.memoryUsage().heapUsed;
    const ran = await run(['import', 'huge.csv'], { 'huge.csv': bytes(rows, 'latin1') });
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/huge\.csv: .*50 million characters/);
    expect(process.memoryUsage().heapUsed - before).toBeLessThan(500 * 2 ** 20);
  });
});
