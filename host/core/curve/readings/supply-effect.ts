import type { CurvePoint, GaugeReading } from '../types';

/** Deflection of a thermal gauge goes with the square of the supply: no gauge feels it more. Source: trade notes 1.6. */
const STRONGEST_EXPONENT = 2;

export type SupplyEffect = {
  /** Standard uncertainty of the mean supply as a part of it; 0 when it was not noted. */
  readonly relativeUncertainty: number;
  /** d ln(deflection) / d ln(supply) as the readings show it: 0 for a ratio gauge, 1 moving coil, 2 thermal. */
  readonly exponent: number;
};

/**
 * How far the supply moved while the readings were taken, and how strongly the needle followed it: the slope of the
 * residuals against the supply. The scatter it causes is already in the residuals; what remains is that the curve
 * belongs to the mean supply. Source: straight line through the origin by least squares.
 */
export function supplyOf(
  readings: readonly GaugeReading[],
  points: readonly CurvePoint[],
  restReading: number,
): SupplyEffect {
  const noted = readings.flatMap((one, i) =>
    one.supplyVolt !== undefined && points[i]!.role === 'fitted'
      ? [{ volt: one.supplyVolt, point: points[i]! }]
      : [],
  );
  const mean = noted.reduce((sum, { volt }) => sum + volt, 0) / noted.length;
  if (noted.length < 3 || !(mean > 0)) return { relativeUncertainty: 0, exponent: 0 };
  let square = 0;
  let product = 0;
  let lever = 0;
  for (const { volt, point } of noted) {
    const change = volt / mean - 1;
    const push = change * (point.fitted - restReading);
    square += change * change;
    product += push * point.residual;
    lever += push * push;
  }
  return {
    relativeUncertainty: Math.sqrt(square / (noted.length - 1) / noted.length),
    exponent: lever > 0 ? Math.min(Math.max(product / lever, 0), STRONGEST_EXPONENT) : 0,
  };
}
