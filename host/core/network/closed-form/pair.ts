import { figure } from '../../figure';
import type { Refused } from '../../result';
import { refuse } from '../../result';

/** What the gauge should see (`wantedOhm`) when the sender is at `senderOhm`. */
export type Pair = { readonly senderOhm: number; readonly wantedOhm: number };

export type PairRefusal = Refused<'PAIRS' | 'PAIR_VALUE' | 'PAIR_SAME'>;

const MOST_PAIRS = 3;

const isOhm = (value: number): boolean => Number.isFinite(value) && value >= 0;

/**
 * Pairs sorted from the highest sender resistance down.
 * Refuses: none or more than three pairs (PAIRS), a negative or non-finite resistance (PAIR_VALUE), one sender
 * resistance or one wanted resistance given twice (PAIR_SAME).
 */
export const sortedPairs = (
  pairs: readonly Pair[],
): { readonly kind: 'pairs'; readonly pairs: readonly Pair[] } | PairRefusal => {
  if (pairs.length === 0 || pairs.length > MOST_PAIRS)
    return refuse(
      'PAIRS',
      `${pairs.length} pairs given: resistors can be made exact at 1, 2 or 3 points; for more, search (trim)`,
    );
  const wrong = pairs.findIndex((pair) => !isOhm(pair.senderOhm) || !isOhm(pair.wantedOhm));
  if (wrong >= 0)
    return refuse(
      'PAIR_VALUE',
      `pair ${wrong + 1} (${pairs[wrong]!.senderOhm}:${pairs[wrong]!.wantedOhm}) must be two resistances of 0 ohm or more`,
    );
  const sorted = [...pairs].sort((first, second) => second.senderOhm - first.senderOhm);
  const same = sorted.find((pair, index) => index > 0 && pair.senderOhm === sorted[index - 1]!.senderOhm);
  if (same)
    return refuse(
      'PAIR_SAME',
      `sender ${figure(same.senderOhm)} ohm is given twice: one resistance can be turned into one value only`,
    );
  const level = sorted.find((pair, index) => index > 0 && pair.wantedOhm === sorted[index - 1]!.wantedOhm);
  if (level)
    return refuse(
      'PAIR_SAME',
      `${figure(level.wantedOhm)} ohm is wanted at two different sender resistances: the needle would not move between them`,
    );
  return { kind: 'pairs', pairs: sorted };
};
