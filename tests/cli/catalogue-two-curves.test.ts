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
const Ids = z.looseObject({ cards: z.array(z.looseObject({ id: z.string() })) });

const OHMS = [10, 20, 40, 60, 90, 120, 180, 260];
/** A moving coil on a rheostat, 40 to 120 degC; a weak hairspring lets it go further by a share of its way. */
const degrees = (ohm: number, weak: number): number => 40 + 80 * (1 + weak) * (52 / (ohm + 52));
const gauge = (weak: number, jitter: readonly number[]): string =>
  [
    'resistance_ohm,reading_degC',
    ...OHMS.map((ohm, i) => `${ohm},${(degrees(ohm, weak) + (jitter[i] ?? 0)).toFixed(1)}`),
  ].join('\n');
/** Looks of a person: two sweeps of one afternoon. */
const FIRST = [0.1, -0.2, 0.1, 0.2, -0.1, 0, 0.2, -0.1];
const SECOND = [-0.1, 0.1, 0.2, -0.2, 0, 0.1, -0.1, 0.2];

const added = async (name: string, text: string): Promise<string> => {
  const ran = await run(['add', name, '--json'], { [name]: text });
  return Ids.parse(ran.json()).cards[0]!.id;
};

const Disagree = z.looseObject({
  disagree: z.array(
    z.looseObject({
      cards: z.tuple([z.string(), z.string()]),
      at: z.number(),
      shows: z.tuple([z.number(), z.number()]),
      explained: z.number(),
      unit: z.string(),
      message: z.string(),
    }),
  ),
});
const disagreements = (ran: Ran) => Disagree.parse(ran.json()).disagree;

describe('two curves of one part', () => {
  it('that agree are said to be of one part, and nothing else', async () => {
    const [one, two] = [await added('a.csv', gauge(0, FIRST)), await added('b.csv', gauge(0, SECOND))];
    expect(disagreements(await run(['same', one, two, '--json']))).toEqual([]);
    const shown = await run(['show', one]);
    expect(shown.out).toContain(`other curves of this part: ${two}`);
    expect(shown.out).not.toContain('disagree');
  });

  it('that disagree are both kept and shown: where, by how many degrees, and what to do', async () => {
    const [one, two] = [await added('a.csv', gauge(0, FIRST)), await added('b.csv', gauge(0.1, SECOND))];
    const [found] = disagreements(await run(['same', one, two, '--json']));
    expect(found).toMatchObject({ unit: 'degC' });
    expect([...found!.cards].sort()).toEqual([one, two].sort());
    const by =
      found!.cards[0] === one ? found!.shows[1] - found!.shows[0] : found!.shows[0] - found!.shows[1];
    expect(Math.abs(by - 0.1 * (degrees(found!.at, 0) - 40))).toBeLessThan(1);
    expect(found!.explained).toBeLessThan(by);
    for (const words of [
      ['show', one],
      ['show', two],
    ]) {
      const { out } = await run(words);
      expect(out).toMatch(/disagree\. At [\d.]+ ohm, \w{10} reads [\d.]+ degC and \w{10} [\d.]+ degC/);
      expect(out).toMatch(/[\d.]+ degC apart, where their uncertainties explain [\d.]+ degC/);
      expect(out).toContain('Read this gauge once more near');
      expect(out).toContain('catalogue withdraw ID --because');
    }
    expect((await run(['list'])).err).toMatch(/curves of one part disagree: \w{10} and \w{10}/);
    await run(['model', 'Dray 4 coolant', one, two]);
    const model = await run(['model', 'Dray 4 coolant']);
    expect(model.out).toContain('Dray 4 coolant: 1 specimen');
    expect(model.out).toContain('disagree');
  });

  it.each([
    ['withdrawn', (one: string) => ['withdraw', one, '--because', 'the meter was flat']],
    ['replaced', (one: string, two: string) => ['withdraw', one, '--replaced-by', two, '--because', 'worn']],
    ['of two parts after all', (one: string) => ['apart', one]],
  ])('disagree no more once one is %s', async (_, words) => {
    const [one, two] = [await added('a.csv', gauge(0, FIRST)), await added('b.csv', gauge(0.1, SECOND))];
    await run(['same', one, two]);
    expect((await run(words(one, two))).code).toBe(0);
    expect(disagreements(await run(['show', two, '--json']))).toEqual([]);
    expect((await run(['list'])).err).toBe('');
  });

  it('of a sender are told in ohms at its value', async () => {
    const table = (share: number): string =>
      ['temperature_C,resistance_ohm']
        .concat(
          [20, 40, 60, 80, 100, 120].map(
            (at) => `${at},${(share * 2500 * Math.exp(-0.033 * at)).toFixed(1)}`,
          ),
        )
        .join('\n');
    const ids = Ids.parse(
      (await run(['add', 'a.csv', 'b.csv', '--json'], { 'a.csv': table(1), 'b.csv': table(1.3) })).json(),
    ).cards.map(({ id }) => id);
    const [found] = disagreements(await run(['same', ...ids, '--json']));
    const [low, high] = [...found!.shows].sort((a, b) => a - b);
    expect(high! / low!).toBeGreaterThan(1.2);
    expect(high! / low!).toBeLessThan(1.4);
    expect(found!.message).toMatch(/At [\d.]+ degC, \w{10} has [\d.]+ ohm and \w{10} [\d.]+ ohm/);
  });
});
