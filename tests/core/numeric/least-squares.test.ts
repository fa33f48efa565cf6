import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

import { curveProblem, leastSquares } from '../../../host/core/numeric/least-squares';
import type { LeastSquaresOptions, ResidualProblem } from '../../../host/core/numeric/least-squares';
import * as models from '../../support/nist-models';
import mgh09 from '../../vectors/nist-strd-mgh09.json';
import mgh10 from '../../vectors/nist-strd-mgh10.json';
import misra1d from '../../vectors/nist-strd-misra1d.json';
import norris from '../../vectors/nist-strd-norris.json';
import pontius from '../../vectors/nist-strd-pontius.json';
import rat43 from '../../vectors/nist-strd-rat43.json';

// Source: NIST/ITL Statistical Reference Datasets, nonlinear regression (each file names its page).
const published = [
  { ...misra1d, model: models.misra1d },
  { ...mgh09, model: models.mgh09 },
  { ...mgh10, model: models.mgh10 },
  { ...rat43, model: models.rat43 },
];

// Source: NIST/ITL StRD, data, starts and certified values from memory; the agreement to ten digits confirms them.
const remembered = [
  {
    id: 'boxbod',
    model: models.boxBod,
    start_1: [1, 1],
    start_2: [100, 0.75],
    x: [1, 2, 3, 5, 7, 10],
    y: [109, 149, 149, 191, 213, 224],
    certified_parameters: [2.1380940889e2, 5.4723748542e-1],
    certified_parameter_standard_deviations: [1.2354515176e1, 1.0455993237e-1],
    certified_residual_sum_of_squares: 1.1680088766e3,
  },
  {
    id: 'misra1b',
    model: models.misra1b,
    start_1: [500, 0.0001],
    start_2: [300, 0.0002],
    x: misra1d.x,
    y: misra1d.y,
    certified_parameters: [3.3799746163e2, 3.9039091287e-4],
    certified_parameter_standard_deviations: [3.1643950207, 4.2547321834e-6],
    certified_residual_sum_of_squares: 7.5464681533e-2,
  },
  {
    id: 'misra1c',
    model: models.misra1c,
    start_1: [500, 0.0001],
    start_2: [600, 0.0002],
    x: misra1d.x,
    y: misra1d.y,
    certified_parameters: [6.3642725809e2, 2.0813627256e-4],
    certified_parameter_standard_deviations: [4.6638326572, 1.7728423155e-6],
    certified_residual_sum_of_squares: 4.0966836971e-2,
  },
  {
    id: 'danwood',
    model: models.danWood,
    start_1: [1, 5],
    start_2: [0.7, 4],
    x: [1.309, 1.471, 1.49, 1.565, 1.611, 1.68],
    y: [2.138, 3.421, 3.597, 4.34, 4.882, 5.66],
    certified_parameters: [7.6886226176e-1, 3.8604055871],
    certified_parameter_standard_deviations: [1.828197386e-2, 5.1726610913e-2],
    certified_residual_sum_of_squares: 4.3173084083e-3,
  },
  {
    id: 'rat42',
    model: models.rat42,
    start_1: [100, 1, 0.1],
    start_2: [75, 2.5, 0.07],
    x: [9, 14, 21, 28, 42, 57, 63, 70, 79],
    y: [8.93, 10.8, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08],
    certified_parameters: [7.2462237576e1, 2.6180768402, 6.7359200066e-2],
    certified_parameter_standard_deviations: [1.7340283401, 8.8295217536e-2, 3.4465663377e-3],
    certified_residual_sum_of_squares: 8.0565229338,
  },
];

function fitted(problem: ResidualProblem, options: LeastSquaresOptions) {
  const fit = leastSquares(problem, options);
  if (fit.kind === 'refused') throw new Error(fit.code);
  return fit;
}

const expectDigits = (values: readonly number[], certified: readonly number[], digits: number) => {
  expect(values).toHaveLength(certified.length);
  values.forEach((value, j) => expect(Math.abs(value / certified[j]! - 1)).toBeLessThan(10 ** -digits));
};

describe('least squares on the NIST reference sets', () => {
  const sets = [...published, ...remembered];
  it('looks at nine sets', () => expect(sets).toHaveLength(9));
  for (const set of sets)
    for (const name of ['start_1', 'start_2'] as const)
      for (const linearParameters of [undefined, [0]])
        it(`reaches the certified ${set.id} values from ${name}, ${linearParameters === undefined ? 'no parameter' : 'the first parameter'} solved for`, () => {
          const start = set[name];
          const fit = fitted(curveProblem(set, start.length, set.model), {
            start,
            ...(linearParameters === undefined ? {} : { linearParameters }),
          });
          expectDigits(fit.parameters, set.certified_parameters, 7.5);
          expectDigits(fit.standardDeviations!, set.certified_parameter_standard_deviations, 7);
          expectDigits([fit.residualSumOfSquares], [set.certified_residual_sum_of_squares], 9);
        });
});

describe('linear least squares on the NIST reference sets', () => {
  const polynomial = (x: number, b: Float64Array, gradient: Float64Array | undefined) =>
    b.reduce((sum, coefficient, power) => {
      gradient?.set([x ** power], power);
      return sum + coefficient * x ** power;
    }, 0);

  it('reaches the certified straight line of the ozone monitors (Norris)', () => {
    const fit = fitted(curveProblem(norris, 2, polynomial), { start: [0, 0] });
    expectDigits(fit.parameters, [norris.certified_b0, norris.certified_b1], 11);
    expectDigits(fit.standardDeviations!, [norris.certified_sd_b0, norris.certified_sd_b1], 11);
    expectDigits([fit.residualSumOfSquares], [norris.certified_residual_sum_of_squares], 11);
  });

  it('reaches the certified parabola of the load cell, whose terms differ by 1e11 (Pontius)', () => {
    const fit = fitted(curveProblem(pontius, 3, polynomial), { start: [0, 0, 0] });
    expectDigits(fit.parameters, pontius.certified_parameters, 10);
    expectDigits(fit.standardDeviations!, pontius.certified_parameter_standard_deviations, 9);
    expectDigits([fit.residualSumOfSquares], [pontius.certified_residual_sum_of_squares], 9);
  });
});

const line = (x: number, [a = 0, b = 0]: Float64Array, gradient: Float64Array | undefined) => {
  gradient?.set([1, x]);
  return a + b * x;
};

describe('least squares', () => {
  it('refuses fewer observations than parameters', () => {
    const result = leastSquares(curveProblem({ x: [1], y: [1] }, 2, line), { start: [0, 0] });
    expect(result).toMatchObject({ kind: 'refused', code: 'LEAST_SQUARES_TOO_FEW' });
  });

  it('refuses observations at one place only, which leave the slope free', () => {
    const result = leastSquares(curveProblem({ x: [2, 2, 2], y: [1, 2, 3] }, 2, line), { start: [0, 0] });
    expect(result).toMatchObject({ kind: 'refused', code: 'LEAST_SQUARES_UNDETERMINED' });
  });

  it('refuses starts at which the model is not a number', () => {
    const root = (x: number, [a = 0]: Float64Array) => Math.sqrt(a) * x;
    const result = leastSquares(curveProblem({ x: [1, 2], y: [1, 2] }, 1, root), { start: [-1] });
    expect(result).toMatchObject({ kind: 'refused', code: 'LEAST_SQUARES_START' });
  });

  it('gives no standard deviations when nothing is left over to estimate them from', () => {
    const fit = fitted(curveProblem({ x: [1, 2], y: [1, 3] }, 2, line), { start: [0, 0] });
    expect(fit.standardDeviations).toBeUndefined();
    expectDigits(fit.parameters, [-1, 2], 12);
  });

  it('holds a parameter at its bound and counts it as known', () => {
    const data = { x: [0, 1, 2, 3], y: [1, 0, 1, 2] };
    const fit = fitted(curveProblem(data, 2, line), { start: [5, 5], bounds: { lower: [0.75, -9] } });
    expect(fit.parametersAtBound).toEqual([0]);
    expect(fit.parameters[0]).toBe(0.75);
    // Slope through (0, 0.75): sum x (y - 0.75) / sum x^2 = 3.5 / 14.
    expectDigits([fit.parameters[1]!], [0.25], 12);
    expect(fit.degreesOfFreedom).toBe(3);
    expect(fit.covariance![0]).toEqual([0, 0]);
  });

  it('shifts and scales with the observations, and does not care about their order', () => {
    const observations = fc.array(
      fc.tuple(fc.integer({ min: -50, max: 50 }), fc.integer({ min: -50, max: 50 })),
      { minLength: 4, maxLength: 12 },
    );
    const spreadOut = observations.filter((rows) => new Set(rows.map(([x]) => x)).size > 2);
    fc.assert(
      fc.property(
        spreadOut,
        fc.integer({ min: -9, max: 9 }),
        fc.integer({ min: 1, max: 9 }),
        (rows, up, by) => {
          const plain = Object.freeze({ x: rows.map(([x]) => x), y: rows.map(([, y]) => y) });
          const turned = [...rows].reverse();
          const moved = { x: turned.map(([x]) => x), y: turned.map(([, y]) => by * y + up) };
          const one = fitted(curveProblem(plain, 2, line), { start: [0, 0] });
          const other = fitted(curveProblem(moved, 2, line), { start: [1, 1] });
          expect(other.parameters[0]).toBeCloseTo(by * one.parameters[0]! + up, 8);
          expect(other.parameters[1]).toBeCloseTo(by * one.parameters[1]!, 8);
          expect(other.standardDeviations![1]).toBeCloseTo(by * one.standardDeviations![1]!, 8);
        },
      ),
    );
  });
});
