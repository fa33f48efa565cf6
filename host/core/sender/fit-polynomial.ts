import { fitLinearLaw, type LawFit, type LinearLaw } from './law-fit';
import type { LawPoint } from './points';
import { polynomialGradient } from './polynomial';

/** Above this a polynomial through workshop points only follows their errors. Source: common practice, no source. */
export const HIGHEST_DEGREE = 3;

/**
 * Straight line or polynomial of resistance in the value, exact when determined, otherwise least squares in ohm.
 * Source: ordinary polynomial regression; a straight line is the law of a uniform track. Undefined when the points do
 * not determine it.
 */
export function fitPolynomial(
  points: readonly LawPoint[],
  weighting: 'weighted' | 'plain',
  degree: number,
): LawFit | undefined {
  const fit = fitLinearLaw(equations(degree), points, weighting);
  if (fit === undefined) return undefined;
  return {
    kind: 'law-fit',
    law: { name: degree === 1 ? 'linear' : 'polynomial', coefficients: fit.coefficients },
    names: fit.coefficients.map((_, power) => ({ name: `c${power}`, unit: unitOfPower(power) })),
    values: fit.coefficients,
    inverseNormal: fit.inverseNormal,
    chiSquared: fit.chiSquared,
    residuals: fit.residuals,
    leverages: fit.leverages,
  };
}

function equations(degree: number): LinearLaw {
  const powers = new Array<number>(degree + 1).fill(1);
  return {
    row: ({ argument }) => polynomialGradient(powers, argument),
    target: ({ ohm }) => ohm,
    variance: (point, coefficients) =>
      point.ohmUncertainty ** 2 + (slopeAt(coefficients, point.argument) * point.argumentUncertainty) ** 2,
  };
}

const slopeAt = (coefficients: readonly number[], argument: number): number =>
  coefficients.reduce(
    (sum, coefficient, power) => sum + (power === 0 ? 0 : power * coefficient * argument ** (power - 1)),
    0,
  );

const unitOfPower = (power: number): string => {
  if (power === 0) return 'ohm';
  return power === 1 ? 'ohm/unit' : `ohm/unit^${power}`;
};
