import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { commandLine } from '../support/command-line';

/** A temperature dial of 40 to 120 degC, read beside a probe in the flow; invented. */
const PAIRS = [
  'temperature_C,reading_C,leg,made,second',
  '60,60.5,up,run,0',
  '85,86,up,run,90',
  '85,86.5,down,run,300',
  '110,111,up,substituted,600',
].join('\n');

const SCALE = ['--scale', '40,120', '--division', '2'];
const ran = (text: string, ...options: readonly string[]) =>
  commandLine(['proof', 'pairs.csv', ...SCALE, ...options], { 'pairs.csv': text });
const good = ['--reference', 'flow-probe', '--limit', '-4,6'];

const Answer = z.strictObject({
  schema: z.literal('needlewright/proof/1'),
  kind: z.literal('proof'),
  unit: z.string(),
  rule: z.string(),
  word: z.string(),
  proved: z.boolean(),
  missing: z.array(z.string()),
  from: z.number(),
  to: z.number(),
  narrowest_limit: z.number(),
  pairs: z.array(
    z.looseObject({
      error: z.number(),
      expanded_uncertainty: z.number(),
      word: z.string(),
      chance_within: z.number(),
    }),
  ),
  re_estimate: z
    .looseObject({ ohms_ratio: z.number(), re_trim: z.looseObject({ worth_it: z.boolean() }).nullable() })
    .optional(),
  drift: z.looseObject({ moved: z.boolean() }).optional(),
  warnings: z.array(z.string()),
});

describe('the proof as a command', () => {
  it('finds the verdict by the rule, with what it rests on', async () => {
    const { code, json } = await ran(PAIRS, ...good, '--json');
    const answer = Answer.parse(json());
    expect(code).toBe(0);
    expect(answer).toMatchObject({ proved: true, word: 'within', rule: 'guard', from: 60, to: 110 });
    // U: 2 K shared, 0.7 K each, half a division of 2 degC rectangular, twice that; GUM 4.3.7.
    const expanded = Math.hypot(2, 0.7, 2 / Math.sqrt(3));
    expect(answer.pairs[0]?.expanded_uncertainty).toBeCloseTo(expanded, 9);
    expect(answer.narrowest_limit).toBeCloseTo(expanded, 9);
  });

  it('says in words what is proved, by which rule, and what never can be', async () => {
    const { out } = await ran(PAIRS, ...good);
    expect(out).toContain('Proved from 60 to 110 degC');
    expect(out).toContain('Rule: guard band');
    expect(out).toContain('nothing tighter than \u00b12.41 degC can be proved');
    expect(out).toContain('-4 to +6 degC');
  });

  it('is not green by one pair, nor with a limit that the reference cannot prove', async () => {
    const one = Answer.parse((await ran('temperature_C,reading_C\n85,85', ...good, '--json')).json());
    expect(one.proved).toBe(false);
    expect(one.missing).toEqual(['three-places', 'dangerous-end', 'both-ways', 'times']);
    const tight = Answer.parse(
      (await ran(PAIRS, '--reference', 'flow-probe', '--limit', '2', '--json')).json(),
    );
    expect(tight).toMatchObject({ proved: false, word: 'within-not-proved' });
  });

  it('turns what is true into the unit of the dial', async () => {
    const fahrenheit = 'temperature_C,reading_F\n100,212';
    const { json } = await commandLine(
      ['proof', 'p.csv', '--scale', '100,250', '--reference', 'soak', '--json'],
      { 'p.csv': fahrenheit },
    );
    const { pairs, unit } = Answer.parse(json());
    expect(unit).toBe('degF');
    expect(pairs[0]?.error).toBeCloseTo(0, 9);
  });

  it.each([
    ['temperature_C,reading_C\n60,6O.5', 'pairs.csv, row 2, column reading_C'],
    ['temperature_C,reading_C,leg\n60,60,sideways', 'pairs.csv, row 2, column leg'],
    ['temperature_C,reading_C,made\n60,60,guessed', 'pairs.csv, row 2, column made'],
    ['temperature_C,reading_C,u_temperature_C\n60,60,-1', 'pairs.csv, row 2, column u_temperature_C'],
    ['temperature_C,reading_C,second\n60,60,soon', 'pairs.csv, row 2, column second'],
    ['temperature_C,reading_C', 'nothing below it'],
    ['reading_C\n60', 'there is no column temperature_C'],
    ['temperature_C,value,reading_C\n60,60,60', 'both give what is true'],
    ['pressure_kPa,reading_C\n60,60', 'not of one quantity'],
  ])('refuses with the place: %s', async (text, place) => {
    const { code, err, out } = await ran(text, ...good);
    expect(code).toBe(2);
    expect(err).toContain(place);
    expect(out).toBe('');
  });

  it('refuses a trap, a hint and a limit without room as understood but impossible', async () => {
    const code = async (...options: readonly string[]) => (await ran(PAIRS, ...options)).code;
    expect(await code('--reference', 'infrared', '--emissivity', '0.3')).toBe(3);
    expect(await code('--reference', 'thermostat')).toBe(3);
    expect(await code('--reference', 'pump')).toBe(3);
    expect(await code('--reference', 'soak', '--limit', '1,2')).toBe(3);
    expect((await ran(PAIRS, '--reference', 'thermostat', '--json')).json()).toMatchObject({
      refused: { code: 'REFERENCE_HINT' },
    });
    expect(await code()).toBe(3);
  });

  it('ships a schema of its answer that its answer keeps to', async () => {
    const { code, json } = await commandLine(['schema', 'proof']);
    expect(code).toBe(0);
    const schema = z.fromJSONSchema(z.looseObject({}).parse(json()));
    expect(schema.safeParse((await ran(PAIRS, ...good, '--json')).json()).success).toBe(true);
    expect(schema.safeParse({ schema: 'needlewright/proof/1' }).success).toBe(false);
    expect((await commandLine(['schema', 'prof'])).code).toBe(2);
  });
});

describe('what else the pairs of a proof tell', () => {
  const ohm = (celsius: number): number => 700 * Math.exp(3800 * (1 / (celsius + 273.15) - 1 / 298.15));
  const at = [30, 40, 55, 70, 85, 100, 115, 125];
  const files = {
    'sender.csv': ['temperature_C,resistance_ohm', ...at.map((c) => `${c},${ohm(c).toFixed(2)}`)].join('\n'),
    'gauge.csv': ['resistance_ohm,reading_C', ...at.map((c) => `${ohm(c).toFixed(2)},${c}`)].join('\n'),
  };
  /** The sender in the vehicle has so many times the ohms of its curve. */
  const shows = (part: number, celsius: number): number =>
    1 / (Math.log((part * ohm(celsius)) / 700) / 3800 + 1 / 298.15) - 273.15;
  const proofOf = (part: number): string =>
    ['temperature_C,reading_C', ...[50, 70, 90, 105].map((c) => `${c},${shows(part, c).toFixed(2)}`)].join(
      '\n',
    );
  const asked = (text: string, ...options: readonly string[]) =>
    commandLine(['proof', 'p.csv', ...SCALE, '--reference-shared', '0.6', '--json', ...options], {
      ...files,
      'p.csv': text,
      'left.csv': proofOf(1),
    });
  const chain = ['--gauge', 'gauge.csv', '--sender', 'sender.csv'];

  it('the sender in the vehicle, and whether other resistors are worth it', async () => {
    const high = Answer.parse((await asked(proofOf(0.85), ...chain)).json()).re_estimate;
    expect(high?.ohms_ratio).toBeCloseTo(0.85, 1);
    expect(high?.re_trim?.worth_it).toBe(true);
    const right = Answer.parse((await asked(proofOf(1), ...chain)).json()).re_estimate;
    expect(right?.ohms_ratio).toBeCloseTo(1, 1);
    expect(right?.re_trim?.worth_it).toBe(false);
  });

  it('known ohms in its place say nothing of the sender', async () => {
    const substituted = 'temperature_C,reading_C,made\n90,99,substituted';
    expect(Answer.parse((await asked(substituted, ...chain)).json()).re_estimate).toBeUndefined();
  });

  it('whether the needle is as it was left, a season later', async () => {
    const later = async (part: number) =>
      Answer.parse((await asked(proofOf(part), '--as-left', 'left.csv')).json()).drift?.moved;
    expect(await later(1.01)).toBe(false);
    expect(await later(0.8)).toBe(true);
    expect((await asked('temperature_C,reading_C\n60,60', '--as-left', 'left.csv')).code).toBe(2);
  });

  it('answers as its schema says', async () => {
    const schema = z.fromJSONSchema(z.looseObject({}).parse((await commandLine(['schema', 'proof'])).json()));
    const { json } = await asked(proofOf(0.85), ...chain, '--as-left', 'left.csv');
    expect(schema.safeParse(json())).toMatchObject({ success: true });
  });
});
