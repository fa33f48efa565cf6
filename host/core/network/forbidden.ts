import type { Refused } from '../result';
import type { Theorem } from './feasibility';
import { forbiddenBy, refuseTwoPoints } from './feasibility';
import type { GaugeTable } from './gauge-table';
import { ohmBracket } from './gauge-table';
import type { Problem } from './problem';
import { makeWindows, setWindows } from './windows';

const BISECTIONS = 60;

/** A resistance at which the gauge shows `reading`, ohm; one end of the scale when it never does. Source: bisection. */
export const ohmForReading = (table: GaugeTable, reading: number): number => {
  let [low, high] = ohmBracket(table, reading, reading);
  const longest = table.ohm[table.ohm.length - 2]!;
  if (high < low) return table.rising[0]! > table.sign * reading ? 0 : longest;
  high = Math.min(high, longest);
  low = Math.min(low, high);
  for (let step = 0; step < BISECTIONS && low < high; step += 1) {
    const middle = (low + high) / 2;
    if (table.sign * table.gauge.reading(middle) < table.sign * reading) low = middle;
    else high = middle;
  }
  return high;
};

/** Errors alone: no weights, no rule. */
const plainProblem = (problem: Problem): Problem => ({
  ...problem,
  weight: problem.weight.map(() => 1),
  lowestError: problem.lowestError.map(() => -Infinity),
  highestError: problem.highestError.map(() => Infinity),
});

/**
 * Proof that no resistors around the sender keep every error within `acceptableError` (dial units): two points of the
 * band whose windows a theorem keeps apart. Undefined when there is no such pair (which proves nothing).
 * Source: the two-point theorems applied to the most favourable corners of the windows.
 */
export const proofOfImpossible = (
  problem: Problem,
  acceptableError: number,
): Refused<Theorem> | undefined => {
  const plain = plainProblem(problem);
  const windows = makeWindows(plain.value.length);
  setWindows(windows, plain, acceptableError);
  const count = plain.value.length;
  const byOhm = Array.from({ length: count }, (_, index) => index).sort(
    (one, other) => plain.ohm[other]! - plain.ohm[one]!,
  );
  // Widest pairs first: the sentence then speaks of the ends of the band if they are at fault.
  for (let span = count - 1; span > 0; span -= 1)
    for (let at = 0; at + span < count; at += 1) {
      const refused = proofForPair(plain, windows, byOhm[at]!, byOhm[at + span]!);
      if (refused) return refused;
    }
  return undefined;
};

const proofForPair = (
  problem: Problem,
  windows: { readonly low: Float64Array; readonly high: Float64Array },
  high: number,
  low: number,
): Refused<Theorem> | undefined => {
  const highOhm = problem.ohm[high]!;
  const lowOhm = problem.ohm[low]!;
  if (!(highOhm > lowOhm)) return undefined;
  const pair = (index: number): { senderOhm: number; wantedOhm: number } => ({
    senderOhm: problem.ohm[index]!,
    wantedOhm: ohmForReading(problem.table, problem.value[index]!),
  });
  const reversed = windows.high[high]! < windows.low[low]!;
  const nearest = forbiddenBy(
    { senderOhm: highOhm, wantedOhm: windows.low[high]! },
    { senderOhm: lowOhm, wantedOhm: Math.min(windows.high[low]!, windows.low[high]!) },
  );
  if (!reversed && nearest === undefined) return undefined;
  return refuseTwoPoints(pair(high), pair(low));
};
