import { refuse } from '../refusal';
import type { Refusal } from '../refusal';
import type { Ladder } from './ladder';

/** Contacts to ask the box for, and what they make by its element table. */
export type Setting = {
  readonly kind: 'setting';
  readonly contactMask: number;
  readonly complementMask: number;
  readonly madeMilliohm: number;
  readonly madeOhm: number;
  /** made - asked. */
  readonly errorOhm: number;
};

const MASK_16 = 0xffff;
const MILLIOHM = 1000;

/** Sum of the elements a mask leaves in the path and the residual, milliohm. */
export function madeMilliohm(ladder: Ladder, contactMask: number): number {
  let sum = ladder.residualMilliohm;
  for (const { contactBit, milliohm } of ladder.elements)
    if (((contactMask >> contactBit) & 1) === 0) sum += milliohm;
  return sum;
}

/** Lowest and highest resistance the chain makes, ohm. */
export function ladderRangeOhm(ladder: Ladder): { readonly fromOhm: number; readonly toOhm: number } {
  const fromOhm = madeMilliohm(ladder, ladder.elementsMask) / MILLIOHM;
  return { fromOhm, toOhm: madeMilliohm(ladder, 0) / MILLIOHM };
}

function nearestInserted(ladder: Ladder, wantedMilliohm: number): number {
  const { lowHalf, highHalf } = ladder;
  let bestMask = 0;
  let bestGap = Number.MAX_VALUE;
  let high = highHalf.length - 1;
  // Two sorted lists walked towards each other: every pair that can be nearest is met (meet in the middle).
  for (let low = 0; low < lowHalf.length && high >= 0;) {
    const sum = lowHalf[low]!.milliohm + highHalf[high]!.milliohm;
    const gap = Math.abs(sum - wantedMilliohm);
    if (gap < bestGap) {
      bestGap = gap;
      bestMask = lowHalf[low]!.insertedMask | highHalf[high]!.insertedMask;
    }
    if (sum > wantedMilliohm) high -= 1;
    else low += 1;
  }
  return bestMask;
}

/** The setting of a mask of the host's own choosing. */
function settingOf(ladder: Ladder, contactMask: number, askedOhm: number): Setting {
  const made = madeMilliohm(ladder, contactMask);
  return {
    kind: 'setting',
    contactMask,
    complementMask: ~contactMask & MASK_16,
    madeMilliohm: made,
    madeOhm: made / MILLIOHM,
    errorOhm: made / MILLIOHM - askedOhm,
  };
}

/**
 * The contacts whose resistance is nearest to what is asked, exactly nearest over all combinations.
 * Source: meet in the middle over two sorted halves; derived here, checked against all combinations in the tests.
 * Refuses: a resistance that is no number, or outside what the chain makes (LADDER_RANGE).
 */
export function contactsFor(ladder: Ladder, resistanceOhm: number): Setting | Refusal<'LADDER_RANGE'> {
  const { fromOhm, toOhm } = ladderRangeOhm(ladder);
  const half = ladder.elements[0]!.milliohm / MILLIOHM / 2;
  if (!(resistanceOhm >= fromOhm - half && resistanceOhm <= toOhm + half)) {
    return refuse('LADDER_RANGE', { resistanceOhm, fromOhm, toOhm });
  }
  const inserted = nearestInserted(ladder, resistanceOhm * MILLIOHM - ladder.residualMilliohm);
  return settingOf(ladder, (ladder.elementsMask & ~inserted) | ladder.alwaysMask, resistanceOhm);
}

/**
 * Largest step between neighbouring resistances the chain can make within a range, ohm: half of it is the most a
 * setting can miss what is asked.
 */
export function largestStepOhm(ladder: Ladder, fromOhm: number, toOhm: number): number {
  const sums: number[] = [];
  for (const low of ladder.lowHalf) {
    for (const high of ladder.highHalf) sums.push(low.milliohm + high.milliohm + ladder.residualMilliohm);
  }
  sums.sort((a, b) => a - b);
  let largest = 0;
  for (let index = 1; index < sums.length; index += 1) {
    const isInside = sums[index]! >= fromOhm * MILLIOHM && sums[index - 1]! <= toOhm * MILLIOHM;
    if (isInside) largest = Math.max(largest, sums[index]! - sums[index - 1]!);
  }
  return largest / MILLIOHM;
}
