import type { Refusal } from '../../refusal';
import type { Theorem } from '../closed-form/feasibility';
import { forbiddenBy, refuseTwoPoints } from '../closed-form/feasibility';
import type { GaugeTable } from './gauge-table';
import type { Network } from '../closed-form/topology';
import { workingOhm } from './heat';
import type { Problem } from './problem';
import { placeOf } from './problem';
import { makeWindows, setWindows } from './windows';

const BISECTIONS = 80;

/** First resistance from below at which the rising reading reaches `reached` (or exceeds it), ohm. Source: bisection. */
const crossing = (table: GaugeTable, reached: (rising: number) => boolean): number => {
  let low = 0;
  let high = table.ohm[table.ohm.length - 2]!;
  if (reached(table.rising[0]!)) return 0;
  for (let step = 0; step < BISECTIONS; step += 1) {
    // By ratio once both ends are above nothing: a gauge spans decades.
    const middle = low > 0 ? Math.sqrt(low * high) : high / 2;
    if (reached(table.sign * table.gauge.reading(middle))) high = middle;
    else low = middle;
  }
  return high;
};

/**
 * A resistance at which the gauge shows `reading`, ohm. Where many do (a stop, a flat zone) the nearest to the middle of
 * the measured range; where none does, the end of the measured range on that side.
 * Source: bisection on the monotone needle.
 */
export const ohmForReading = (table: GaugeTable, reading: number): number => {
  const { measuredFromOhm, measuredToOhm } = table.gauge;
  const wanted = table.sign * reading;
  const first = crossing(table, (rising) => rising >= wanted);
  const last = crossing(table, (rising) => rising > wanted);
  const middle = Math.sqrt(Math.max(measuredFromOhm, measuredToOhm * 1e-4) * measuredToOhm);
  const inside = Math.min(Math.max(middle, first), last);
  return table.rising[table.rising.length - 1]! < wanted ? measuredToOhm : inside;
};

/** Errors alone: no weights, no rule. */
const plainProblem = (problem: Problem): Problem => ({
  ...problem,
  weightLow: problem.weightLow.map(() => 1),
  weightHigh: problem.weightHigh.map(() => 1),
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
): Refusal<Theorem> | undefined => {
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

const noParts: Network = { topology: 'none', parts: [] };

const proofForPair = (
  problem: Problem,
  windows: { readonly low: Float64Array; readonly high: Float64Array },
  high: number,
  low: number,
): Refusal<Theorem> | undefined => {
  // Cold is the most that the one can have, and without resistors, at its hottest, the least of the other: no network
  // finds a wider span, a greater ratio.
  const highOhm = problem.ohm[high]!;
  const lowOhm = workingOhm(problem.heat, noParts, placeOf(problem, low));
  if (!(highOhm > lowOhm)) return undefined;
  const pair = (index: number, senderOhm: number): { senderOhm: number; wantedOhm: number } => ({
    senderOhm,
    wantedOhm: ohmForReading(problem.table, problem.value[index]!),
  });
  const reversed = windows.high[high]! < windows.low[low]!;
  const nearest = forbiddenBy(
    { senderOhm: highOhm, wantedOhm: windows.low[high]! },
    { senderOhm: lowOhm, wantedOhm: Math.min(windows.high[low]!, windows.low[high]!) },
  );
  if (!reversed && nearest === undefined) return undefined;
  return refuseTwoPoints(pair(high, highOhm), pair(low, lowOhm));
};
