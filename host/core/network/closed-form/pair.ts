import type { Refusal } from '../../refusal';
import { refuse } from '../../refusal';

/** What the gauge should see (`wantedOhm`) when the sender is at `senderOhm`. */
export type Pair = { readonly senderOhm: number; readonly wantedOhm: number };

export type PairRefusal = Refusal<'PAIRS' | 'PAIR_VALUE' | 'PAIR_SAME'>;

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
  if (pairs.length === 0 || pairs.length > MOST_PAIRS) return refuse('PAIRS', { pairCount: pairs.length });
  const wrong = pairs.findIndex((pair) => !isOhm(pair.senderOhm) || !isOhm(pair.wantedOhm));
  if (wrong >= 0) return refuse('PAIR_VALUE', { pairNumber: wrong + 1, ...pairs[wrong]! });
  const sorted = [...pairs].sort((first, second) => second.senderOhm - first.senderOhm);
  const same = sorted.find((pair, index) => index > 0 && pair.senderOhm === sorted[index - 1]!.senderOhm);
  if (same) return refuse('PAIR_SAME', { twice: 'sender', resistanceOhm: same.senderOhm });
  const level = sorted.find((pair, index) => index > 0 && pair.wantedOhm === sorted[index - 1]!.wantedOhm);
  if (level) return refuse('PAIR_SAME', { twice: 'wanted', resistanceOhm: level.wantedOhm });
  return { kind: 'pairs', pairs: sorted };
};
