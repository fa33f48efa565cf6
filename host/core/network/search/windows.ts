import { ohmBracket } from './gauge-table';
import type { Problem } from './problem';

/**
 * For one score: between which resistances the gauge must see each sample for the score not to be exceeded. Every
 * network that does as well is inside all of them; so what falls outside one of them is excluded by proof.
 */
export type Windows = {
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** The same in siemens, for parts that are in parallel. */
  readonly lowSiemens: Float64Array;
  readonly highSiemens: Float64Array;
};

/** Room for rounding when parts are added and subtracted, relative; far below a table step, far above a double's end. */
const SLACK = 1e-11;

export const makeWindows = (count: number): Windows => ({
  low: new Float64Array(count),
  high: new Float64Array(count),
  lowSiemens: new Float64Array(count),
  highSiemens: new Float64Array(count),
});

/** Largest error on one side that keeps a sample's score at or below `score`; the rule's `allowed` costs nothing extra. */
const errorRoom = (score: number, weight: number, penalty: number, allowed: number): number => {
  const free = Math.min(score / weight, allowed);
  return score >= penalty ? Math.max(free, (score - penalty) / weight) : free;
};

/** Narrows the windows to a score, in place (they are scratch arrays of one search). Source: monotone needle. */
export const setWindows = (windows: Windows, problem: Problem, score: number): void => {
  for (let index = 0; index < problem.value.length; index += 1) {
    const below = errorRoom(score, problem.weightLow[index]!, problem.penalty, -problem.lowestError[index]!);
    const above = errorRoom(score, problem.weightHigh[index]!, problem.penalty, problem.highestError[index]!);
    const value = problem.value[index]!;
    const rounding = SLACK * (Math.abs(value) + Math.min(below, above));
    const [from, to] = ohmBracket(problem.table, value - below - rounding, value + above + rounding);
    windows.low[index] = from * (1 - SLACK);
    windows.high[index] = to * (1 + SLACK);
    windows.lowSiemens[index] = (1 - SLACK) / windows.high[index]!;
    windows.highSiemens[index] = from > 0 ? (1 + SLACK) / windows.low[index]! : Infinity;
  }
};
