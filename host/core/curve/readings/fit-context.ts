import type { Observations } from './observations';
import type { LogAxis } from '../types';
import type { Whitening } from './whitening';

/** What every law is fitted against: the same readings, the same weights, the same idea of their scatter. */
export type FitContext = {
  readonly observations: Observations;
  readonly whitening: Whitening;
  /** Robust weight of each fitted row. */
  readonly weights: readonly number[];
  /** The half difference of the legs is a parameter of every fit when both were measured. */
  readonly hasHalf: boolean;
  readonly axis: LogAxis;
};

/** A law fitted to the readings, before anything is chosen. Covariances are for a unit scatter: multiply by variance. */
export type RawFit<Model> = {
  readonly kind: 'fit';
  readonly model: Model;
  /** Half difference of the legs in dial units and its variance for a unit scatter. */
  readonly half: number;
  readonly halfInverse: number;
  /** Whitened, weighted sum of squares of the readings off the stops. */
  readonly sumOfSquares: number;
  /** Number of free parameters, hysteresis included; an effective number for the spline. */
  readonly freedom: number;
  /** reading - law - leg, one per fitted row, neither whitened nor weighted. */
  readonly residuals: readonly number[];
};

/** Square root of the weight of each fitted row, the reader's own uncertainties included. Source: definition. */
export const rootWeights = ({ observations, weights }: FitContext): Float64Array =>
  Float64Array.from(observations.fitted, (row, i) => Math.sqrt(weights[i]!) / row.relativeScatter);

/**
 * How many independent readings a fit rests on, and how many of them its parameters use up. The half difference of the
 * legs is paid for by the differences within settings, as far as those do not count.
 * Source: derived here.
 */
export function effectiveFreedom(
  freedom: number,
  { whitening, hasHalf }: FitContext,
): { readonly count: number; readonly freedom: number } {
  return {
    count: whitening.effectiveCount,
    freedom: freedom - (hasHalf ? 1 - whitening.repeatsWorth : 0),
  };
}

/**
 * Variance of one reading: the sum of squares and the expectation pooled, with their degrees of freedom.
 * Source: scaled inverse chi-squared prior; Gelman et al., Bayesian Data Analysis, section 2.6 (from memory).
 */
export function pooledVariance(
  fit: Pick<RawFit<unknown>, 'sumOfSquares' | 'freedom'>,
  context: FitContext,
): { readonly variance: number; readonly degreesOfFreedom: number } {
  const { expectedScatter, expectationWeight } = context.observations;
  const { count, freedom } = effectiveFreedom(fit.freedom, context);
  const degreesOfFreedom = expectationWeight + Math.max(0, count - freedom);
  const sum = expectationWeight * expectedScatter ** 2 + fit.sumOfSquares;
  return { variance: sum / degreesOfFreedom, degreesOfFreedom };
}
