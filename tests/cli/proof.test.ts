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
