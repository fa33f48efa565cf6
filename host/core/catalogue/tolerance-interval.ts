import { toleranceFactor } from './tolerance';

/** From so many specimens on the interval is narrow enough to be of use. Source: ISO 16269-6 tables begin lower; common practice. */
const FEWEST_FOR_TOLERANCE = 10;

/** The interval itself: 95 % of all specimens with 95 % confidence. Undefined for fewer specimens than make sense. */
export function toleranceInterval(
  values: readonly number[],
): { readonly from: number; readonly to: number; readonly factor: number } | undefined {
  const count = values.length;
  if (count < FEWEST_FOR_TOLERANCE) return undefined;
  const mean = values.reduce((sum, each) => sum + each, 0) / count;
  const variance = values.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (count - 1);
  const factor = toleranceFactor(count, 0.95, 0.95);
  const half = factor * Math.sqrt(variance);
  return { from: mean - half, to: mean + half, factor };
}
