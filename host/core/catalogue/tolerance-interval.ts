import { oneSidedToleranceFactor, toleranceFactor } from './tolerance';

/** From so many specimens on the interval is narrow enough to be of use. Source: ISO 16269-6 tables begin lower; common practice. */
const FEWEST_FOR_TOLERANCE = 10;

const PART = 0.95;
const CONFIDENCE = 0.95;

/** What holds for 95 % of all specimens, with 95 % confidence. */
export type ToleranceInterval = {
  /** Between these. */
  readonly from: number;
  readonly to: number;
  readonly factor: number;
  /** Not below this; or, another statement, not above that. */
  readonly atLeast: number;
  readonly atMost: number;
};

/** Undefined for fewer specimens than make sense. Source: `toleranceFactor`, `oneSidedToleranceFactor`. */
export function toleranceInterval(values: readonly number[]): ToleranceInterval | undefined {
  const count = values.length;
  if (count < FEWEST_FOR_TOLERANCE) return undefined;
  const mean = values.reduce((sum, each) => sum + each, 0) / count;
  const deviation = Math.sqrt(values.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (count - 1));
  const factor = toleranceFactor(count, PART, CONFIDENCE);
  const half = factor * deviation;
  const reach = oneSidedToleranceFactor(count, PART, CONFIDENCE) * deviation;
  return { from: mean - half, to: mean + half, factor, atLeast: mean - reach, atMost: mean + reach };
}
