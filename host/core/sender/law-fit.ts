import type { SenderLaw } from './law';
import { type LinearFit, weightedLinearFit } from '../numeric/linear-fit';
import type { LawPoint } from './points';

/** One coefficient of a law by name and unit; values and covariance are kept beside it in the same order. */
export type CoefficientName = { readonly name: string; readonly unit: string };

/** A law with what its fit left: covariance still to be scaled when weights were 1. */
export type LawFit = {
  readonly kind: 'law-fit';
  readonly law: SenderLaw;
  readonly names: readonly CoefficientName[];
  readonly values: readonly number[];
  readonly inverseNormal: readonly (readonly number[])[];
  readonly chiSquared: number;
  /** Weighted residuals and leverages in the order of the points; empty for a table. */
  readonly residuals: readonly number[];
  readonly leverages: readonly number[];
};

/** A law that is linear in its coefficients: target = row . c, and how a point's uncertainties reach the target. */
export type LinearLaw = {
  readonly row: (point: LawPoint) => readonly number[];
  readonly target: (point: LawPoint) => number;
  /** Variance of (target - row . c) by first-order propagation from both axes; needs the current coefficients. */
  readonly variance: (point: LawPoint, coefficients: readonly number[]) => number;
};

/** Passes after which effective weights have long settled; each changes them by the square of the relative uncertainty. */
const MOST_PASSES = 20;

/**
 * Least squares with errors in both axes: the error along each axis is turned into the target's by the current slope,
 * the weights follow, until they settle. Without given uncertainties: ordinary least squares.
 * Source: effective variance method, Orear, Am. J. Phys. 50 (1982) 912-916 (from memory).
 */
export function fitLinearLaw(
  law: LinearLaw,
  points: readonly LawPoint[],
  weighting: 'weighted' | 'plain',
): LinearFit | undefined {
  const rows = points.map(law.row);
  const targets = points.map(law.target);
  let weights = points.map(() => 1);
  let fit = weightedLinearFit({ rows, targets, weights });
  if (weighting === 'plain') return fit;
  for (let pass = 0; pass < MOST_PASSES && fit !== undefined; pass += 1) {
    const { coefficients } = fit;
    const next = points.map((point) => 1 / law.variance(point, coefficients));
    if (!next.every((weight) => Number.isFinite(weight))) return undefined;
    const change = Math.max(...next.map((weight, i) => Math.abs(weight / weights[i]! - 1)));
    weights = next;
    fit = weightedLinearFit({ rows, targets, weights });
    if (change < 1e-12) break;
  }
  return fit;
}
