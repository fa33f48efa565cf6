import type { KnownCurve, Observation } from './known-curve';

/** How far observations lie off a curve, in units of what may be expected. */
export type Misfit = {
  /** Chi-squared with linked errors taken into account. */
  readonly chiSquared: number;
  /** -2 ln likelihood up to a constant: chi-squared plus the price of a curve that allows everything. */
  readonly deviance: number;
  /** Shift common to all points that explains them best (0 when nothing is shared). */
  readonly sharedShift: number;
};

/** Beyond its known range a curve is trusted as if the place were uncertain by this share of the distance. Derived here. */
const EXTRAPOLATION_SHARE = 0.25;
const LEAST_VARIANCE = 1e-18;

/** What observations add up to against one curve; one more observation is one more addition. */
export type MisfitSums = {
  readonly squares: number;
  readonly weighted: number;
  readonly weights: number;
  readonly logVariance: number;
};

const NOTHING_YET: MisfitSums = { squares: 0, weighted: 0, weights: 0, logVariance: 0 };

/**
 * Misfit of observations against a curve, errors of both axes and the shared error included.
 * Source: normal likelihood with covariance D + s^2 1 1', inverted by Sherman and Morrison, Ann. Math. Stat. 21 (1950)
 * 124-127.
 */
export const misfitOf = (curve: KnownCurve, observations: readonly Observation[]): Misfit =>
  misfitFrom(curve, sumsOf(curve, observations));

/** The sums of several observations. Source: as `misfitOf`. */
export const sumsOf = (curve: KnownCurve, observations: readonly Observation[]): MisfitSums =>
  observations.reduce((sums, observation) => withObservation(curve, sums, observation), NOTHING_YET);

/** The sums with one observation more. Source: as `misfitOf`. */
export function withObservation(curve: KnownCurve, sums: MisfitSums, observation: Observation): MisfitSums {
  const residual = observation.observed - curve.expected(observation.argument);
  const variance = varianceAt(curve, observation);
  return {
    squares: sums.squares + residual ** 2 / variance,
    weighted: sums.weighted + residual / variance,
    weights: sums.weights + 1 / variance,
    logVariance: sums.logVariance + Math.log(variance),
  };
}

/** Misfit from the sums. Source: as `misfitOf`. */
export function misfitFrom(
  curve: KnownCurve,
  { squares, weighted, weights, logVariance }: MisfitSums,
): Misfit {
  const shared = curve.sharedUncertainty ** 2;
  const chiSquared = squares - (shared * weighted ** 2) / (1 + shared * weights);
  return {
    chiSquared,
    deviance: chiSquared + logVariance + Math.log1p(shared * weights),
    sharedShift: (shared * weighted) / (1 + shared * weights),
  };
}

/** Variance of one residual. Source: effective variance, as in the sender fits; extrapolation derived here. */
function varianceAt(curve: KnownCurve, observation: Observation): number {
  const { argument, argumentUncertainty, observedUncertainty } = observation;
  const beyond = Math.max(0, curve.from - argument, argument - curve.to);
  const sideways = Math.hypot(argumentUncertainty, EXTRAPOLATION_SHARE * beyond);
  const slope = slopeOver(curve, argument, sideways);
  const variance = observedUncertainty ** 2 + curve.uncertainty(argument) ** 2 + (slope * sideways) ** 2;
  // Uncertainties of exactly 0 are allowed on every side; dividing by them is not.
  return Math.max(variance, LEAST_VARIANCE);
}

/** Slope across the width that matters, so that a kink or a plateau inside it counts with its share. */
function slopeOver(curve: KnownCurve, argument: number, sideways: number): number {
  const step = Math.max(sideways, 1e-6 * Math.max(1, Math.abs(argument)));
  return (curve.expected(argument + step) - curve.expected(argument - step)) / (2 * step);
}
