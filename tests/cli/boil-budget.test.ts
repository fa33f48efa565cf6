import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { commandLine } from '../support/command-line';

const Boil = z.object({
  pressure_hPa: z.number(),
  temperature_C: z.number(),
  temperature_F: z.number(),
  sensitivity_K_per_hPa: z.number(),
  expanded_uncertainty_K: z.number(),
});
const boil = async (...argv: string[]) => Boil.parse((await commandLine(['boil', ...argv, '--json'])).json());

describe('boil', () => {
  it('takes inches of mercury: 29.92 are a standard atmosphere (NIST SP 811, from memory)', async () => {
    expect((await boil('--pressure-inHg', '29.92')).pressure_hPa).toBeCloseTo(1013.2, 1);
  });

  it('knows 99.97 degC at one standard atmosphere, in both scales', async () => {
    const found = await boil('--pressure-hPa', '1013.25');
    expect(found.temperature_C).toBeCloseTo(99.974, 2);
    expect(found.temperature_F).toBeCloseTo(found.temperature_C * 1.8 + 32, 9);
  });

  it('takes sea level when nothing is given, and is less sure of it than of a pressure', async () => {
    const sea = await boil();
    expect(sea.pressure_hPa).toBeCloseTo(1013.25, 6);
    expect(sea.expanded_uncertainty_K).toBeGreaterThan(
      (await boil('--pressure-hPa', '1013.25')).expanded_uncertainty_K,
    );
  });

  // 760 mmHg are one atmosphere; 760 hPa is the air at 2,400 m (ISO 2533).
  it('takes 760 hPa as it was said, and asks whether millimetres of mercury were meant', async () => {
    const { code, err, json } = await commandLine(['boil', '--pressure-hPa', '760', '--json']);
    expect(code).toBe(0);
    expect(Boil.parse(json()).pressure_hPa).toBeCloseTo(760, 9);
    expect(err).toContain('Did you mean 760 mmHg? Then write --pressure-hPa 1013.3');
    expect((await commandLine(['boil', '--pressure-hPa', '1013.25'])).err).toBe('');
  });

  it.each([
    [['--altitude-m', '99999'], 'altitude of 99999 m is outside'],
    [['--pressure-hPa', '-3'], 'hPa|Pa'],
    [['--pressure-hPa', '1000', '--altitude-m', '10'], 'give one of'],
    [['--pressure-hPa', '29.92'], 'did you mean 29.92 inHg\\? write --pressure-inHg 29.92'],
    [['--pressure-hPa', '101325'], 'did you mean 101325 Pa\\? write --pressure-hPa 1013.25'],
    [['--pressure-inHg', '1013.25'], 'did you mean 1013.25 hPa\\? write --pressure-hPa 1013.25'],
    [['--pressure-hPa', '14.7'], 'did you mean 14.7 psi\\?'],
    [['--pressure-hPa', '1.013'], 'did you mean 1.013 bar\\?'],
    [['--altitude-m', 'high'], '"high" is not a number'],
  ])('exits 2 on %j', async (argv, why) => {
    const { code, out, err } = await commandLine(['boil', ...argv, '--json']);
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(new RegExp(why));
  });
});

const component = (fields: object): string => JSON.stringify({ components: [{ name: 'a', ...fields }] });
const Budget = z.object({
  combined_standard_uncertainty: z.number(),
  effective_degrees_of_freedom: z.number().nullable(),
  coverage_factor: z.number(),
  expanded_uncertainty: z.number(),
  monte_carlo: z
    .object({
      draws: z.number(),
      seed: z.number(),
      mean: z.number(),
      standard_deviation: z.number(),
      symmetric: z.object({ from: z.number(), to: z.number() }),
      gum_validated: z.boolean(),
    })
    .optional(),
});
async function budget(text: string, ...argv: string[]) {
  const ran = await commandLine(['budget', 'b.json', '--json', ...argv], { 'b.json': text });
  expect(ran.err).toBe('');
  return Budget.parse(ran.json());
}

describe('budget', () => {
  const four = JSON.stringify({
    name: 'reading at 90',
    unit: 'K',
    components: [
      { name: 'box', distribution: 'normal', standard_uncertainty: 0.1 },
      { name: 'needle', distribution: 'rectangular', half_width: 2 },
      { name: 'legs', distribution: 'uniform', a: 1.5 },
      { name: 'repeats', u: 0.46, dof: 2 },
    ],
  });

  it('adds in quadrature and counts degrees of freedom', async () => {
    // By hand: sqrt(0.01 + 4/3 + 2.25/3 + 0.2116) = 1.51820; degrees 2 (1.51820/0.46)^4 = 237.3.
    const found = await budget(four);
    expect(found.combined_standard_uncertainty).toBeCloseTo(1.5182, 4);
    expect(found.effective_degrees_of_freedom).toBeCloseTo(237.3, 0);
    expect(found.expanded_uncertainty).toBeCloseTo(
      found.coverage_factor * found.combined_standard_uncertainty,
      12,
    );
  });

  it('gives the same draws for the same seed and others for another', async () => {
    const draw = async (seed: string) =>
      (await budget(four, '--monte-carlo', '20000', '--seed', seed)).monte_carlo;
    const first = await draw('5');
    expect(await draw('5')).toEqual(first);
    expect((await draw('6'))?.standard_deviation).not.toBe(first?.standard_deviation);
    // A million draws of the same four written apart, in another language and random source: +-3.297 (95 %).
    const { from, to } = first?.symmetric ?? { from: 0, to: 0 };
    expect((to - from) / 2 / 3.297).toBeGreaterThan(0.97);
    expect((to - from) / 2 / 3.297).toBeLessThan(1.03);
  });

  it('takes a stated expanded uncertainty with its factor, a standard uncertainty for any shape, and correlations', async () => {
    expect(
      (await budget(component({ expanded_uncertainty: 0.5, coverage_factor: 2 })))
        .combined_standard_uncertainty,
    ).toBe(0.25);
    expect(
      (await budget(component({ distribution: 'triangular', u: 0.5 }))).combined_standard_uncertainty,
    ).toBeCloseTo(0.5, 12);
    const pair = {
      components: [
        { name: 'a', u: 1 },
        { name: 'b', u: 1, c: -1 },
      ],
      correlations: [['a', 'b', 1]],
    };
    expect((await budget(JSON.stringify(pair))).combined_standard_uncertainty).toBeCloseTo(0, 9);
  });

  it('answers by simulation what Welch-Satterthwaite does not hold for, and refuses it without', async () => {
    const pair = JSON.stringify({
      components: [
        { name: 'a', value: 10, u: 0.1, degrees_of_freedom: 5 },
        { name: 'b', value: 3, u: 0.1 },
      ],
      correlations: [['a', 'b', 0.5]],
    });
    const files = { 'b.json': pair };
    const refused = await commandLine(['budget', 'b.json', '--json'], files);
    expect(refused.code).toBe(3);
    expect(refused.json()).toMatchObject({ refused: { code: 'BUDGET_CORRELATED_DEGREES' } });
    const { code, err, json } = await commandLine(
      ['budget', 'b.json', '--monte-carlo', '100000', '--json'],
      files,
    );
    expect(code).toBe(0);
    expect(err).toContain('Welch-Satterthwaite does not hold');
    const Simulated = z.object({
      value: z.number(),
      combined_standard_uncertainty: z.number(),
      expanded_uncertainty: z.null(),
      monte_carlo: z.object({
        shortest: z.object({ from: z.number(), to: z.number() }),
        gum_validated: z.null(),
      }),
    });
    const found = Simulated.parse(json());
    expect(found.value).toBeCloseTo(13, 2);
    // Two of 0.1, half correlated: the square root of 0.03, and a little more for few degrees of freedom.
    expect(found.combined_standard_uncertainty).toBeGreaterThan(0.172);
    expect(found.combined_standard_uncertainty).toBeLessThan(0.22);
    const { from, to } = found.monte_carlo.shortest;
    expect((from + to) / 2).toBeCloseTo(13, 1);
  });

  it.each([
    ['{}', 'components: is missing; give a list'],
    ['{"components": []}', 'components: must have at least 1 entry'],
    ['{"components": [{"name": "a", "u": 1, "wibble": 2}]}', 'wibble'],
    [component({}), 'component "a" has no width'],
    [component({ u: 1, half_width: 2 }), 'component "a" has more than one width'],
    [component({ u: 1, distribution: 'wavy' }), 'distribution "wavy" is not known; use normal, rectangular'],
    [component({ expanded_uncertainty: 1 }), 'needs its coverage_factor'],
    [component({ distribution: 'student-t', scale: 1 }), 'needs its degrees_of_freedom'],
    [component({ distribution: 'normal', half_width: 1 }), 'has no half-width'],
    [component({ u: -1 }), 'b.json: components 1 standard_uncertainty: must be at least 0'],
    [component({ u: '0.1' }), 'b.json: components 1 standard_uncertainty: must be a number'],
    [component({ u: 1, dof: 'many' }), 'degrees_of_freedom: must be a number or null or "infinite"'],
    ['{"components": [{"u": 1}]}', 'components 1 name: is missing; give text'],
    [component({ expanded_uncertainty: 1, k: 0 }), 'components 1 coverage_factor: must be above 0'],
    ['{"components": [{"name": "a", "u": 1}], "probability": 1}', 'probability: must be below 1'],
    [
      JSON.stringify({
        components: [
          { name: 'a', u: 1 },
          { name: 'a', u: 1 },
        ],
      }),
      'Two components have the name "a"',
    ],
    [
      JSON.stringify({ components: [{ name: 'a', u: 1 }], correlations: [['a', 'x', 0.5]] }),
      'no component of that name',
    ],
    ['not json', 'this is not valid JSON'],
  ])('exits 2 on %s', async (text, why) => {
    const { code, out, err } = await commandLine(['budget', 'b.json', '--json'], { 'b.json': text });
    expect(err).toContain(why);
    expect(err.split('\n')).toHaveLength(1);
    expect([code, out]).toEqual([2, '']);
  });
});

describe('a simulated budget', () => {
  // Quantile of Student t: JCGM 100:2008, table G.2, t95 for 4 degrees of freedom is 2.78.
  it('lies about the stated value, as wide as few readings leave it (JCGM 101:2008, 6.4.9)', async () => {
    const text = JSON.stringify({
      value: 254.26,
      components: [{ name: 'a', standard_uncertainty: 0.2, degrees_of_freedom: 4 }],
    });
    const { monte_carlo: simulated } = await budget(text, '--monte-carlo', '400000', '--seed', '7');
    expect(simulated?.mean).toBeCloseTo(254.26, 2);
    const { from: low, to: high } = simulated?.symmetric ?? { from: 0, to: 0 };
    expect((high - low) / 2 / 0.2).toBeGreaterThan(2.75);
    expect((high - low) / 2 / 0.2).toBeLessThan(2.81);
  });
});
