import { person } from '../../core/dial';
import type { Sweep } from '../../job';

/** The needle may be this many times quicker (in ln R) where it is than over the whole scale. Common practice, no source. */
const STEEPEST = 2;
/** However short the way, someone has to see that the needle stands still: this part of a whole wait. */
const SHORTEST_PART = 1 / 3;

/**
 * How long a needle needs after a small move, in ms. A needle creeps up to its rest exponentially, so the wait goes with
 * the logarithm of the way: `settleMs` is for the whole scale, and rest is what no eye tells from rest. An output that
 * was open, or unknown, counts as the whole scale.
 * Source: derived here from x = x0 exp(-t / tau); tests/bench/settle-time.test.ts.
 */
export const settleAfter = (
  { fromOhm, toOhm, settleMs }: Pick<Sweep, 'fromOhm' | 'toOhm' | 'settleMs'>,
  moved: { readonly fromOhm: number | undefined; readonly toOhm: number | undefined },
): number => {
  if (moved.fromOhm === undefined || moved.toOhm === undefined) return settleMs;
  const way = STEEPEST * Math.abs(Math.log(moved.toOhm / moved.fromOhm) / Math.log(toOhm / fromOhm));
  const part = Math.log(way / person.parallaxPart) / Math.log(1 / person.parallaxPart);
  return Number.isNaN(part) ? settleMs : settleMs * Math.min(1, Math.max(SHORTEST_PART, part));
};
