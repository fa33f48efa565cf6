import { studentTQuantile } from '../../numeric/student-t';
import type { Observations, Row } from './observations';

/** Part of good readings that may be questioned, both tails together: of 24 good readings, 97 % of sweeps lose none. */
const QUESTIONED_PART = 0.0014;
/** Fewer spare readings than this cannot say which one of them is wrong. */
const LEAST_SPARE = 4;
/** A normal distribution's standard deviation from the median and the upper quartile of its absolute deviations. */
const MEDIAN_TO_SIGMA = 1.4826;
const QUARTILE_TO_SIGMA = 0.8693;

/**
 * Weight of each reading from its residual: 1, or falling with the square of the distance once it is questioned.
 * Source: derived here, a redescending weight with a flat middle so that good readings lose nothing; scale by the
 * larger of what the median and the upper quartile say, not below what the reading step alone would give; the limit is
 * that of Student's t, wider for few readings.
 */
export function robustWeights(
  residuals: readonly number[],
  freedom: number,
  { fitted, step, span }: Observations,
): number[] {
  const spare = fitted.length - freedom;
  if (spare < LEAST_SPARE) return residuals.map(() => 1);
  const sizes = residuals
    .map((value, i) => Math.abs(value) / fitted[i]!.relativeScatter)
    .sort((a, b) => a - b);
  const median = (sizes[(sizes.length - 1) >> 1]! + sizes[sizes.length >> 1]!) / 2;
  const quartile = sizes[Math.ceil(0.75 * (sizes.length - 1))]!;
  const believed = studentTQuantile(1 - QUESTIONED_PART / 2, spare);
  const scale = Math.max(
    Math.max(MEDIAN_TO_SIGMA * median, QUARTILE_TO_SIGMA * quartile) * Math.sqrt(fitted.length / spare),
    step / Math.sqrt(12),
    1e-4 * span,
  );
  const apart = distanceFromMates(residuals, fitted);
  const weights = residuals.map((value, i) => {
    const distance = Math.min(Math.abs(value), apart[i]!) / (fitted[i]!.relativeScatter * scale);
    return distance <= believed ? 1 : (believed / distance) ** 4;
  });
  return withOneEach(weights, residuals, fitted);
}

/** Of two readings that speak against each other one is right: the one nearer to the curve is believed. */
function withOneEach(
  weights: readonly number[],
  residuals: readonly number[],
  fitted: readonly Row[],
): number[] {
  const settings = new Map<number, number[]>();
  fitted.forEach(({ setting }, i) => settings.set(setting, [...(settings.get(setting) ?? []), i]));
  const believed = [...settings.values()].flatMap((rows) => {
    if (rows.length === 1 || rows.some((i) => weights[i] === 1)) return [];
    return [rows.reduce((best, i) => (Math.abs(residuals[i]!) < Math.abs(residuals[best]!) ? i : best))];
  });
  return weights.map((weight, i) => (believed.includes(i) ? 1 : weight));
}

/** How far each residual lies from the mean of the others at its setting: readings that agree there do not lie. */
function distanceFromMates(residuals: readonly number[], fitted: readonly Row[]): number[] {
  const sums = new Map<number, { sum: number; count: number }>();
  fitted.forEach(({ setting }, i) => {
    const { sum, count } = sums.get(setting) ?? { sum: 0, count: 0 };
    sums.set(setting, { sum: sum + residuals[i]!, count: count + 1 });
  });
  return fitted.map(({ setting }, i) => {
    const { sum, count } = sums.get(setting)!;
    return count === 1 ? Infinity : Math.abs(residuals[i]! - (sum - residuals[i]!) / (count - 1));
  });
}

/** Whether two sets of weights are the same for every practical purpose. Source: definition. */
export const sameWeights = (one: readonly number[], other: readonly number[]): boolean =>
  one.every((value, i) => Math.abs(value - other[i]!) < 0.02);
