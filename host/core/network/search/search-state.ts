import type { Ranking } from './ranking';
import type { Problem } from './problem';
import type { Windows } from './windows';
import { makeWindows, setWindows } from './windows';

/** State of one search over one topology: scratch arrays and the best networks so far. */
export type SearchState = {
  readonly problem: Problem;
  readonly values: Float64Array;
  readonly gaugeOhm: number;
  readonly ranking: Ranking;
  readonly windows: Windows;
  /**
   * What the gauge sees without the last part, per sample, ohm; with the last part it is `base[i]` combined with it. Not
   * used for a heated sender, whose resistance the last part changes too.
   */
  readonly base: Float64Array;
  /** The parts around the last one: in the sender's lead, and from there to ground. */
  armOhm: number;
  shuntOhm: number;
  /** Samples, those that excluded most recently first. */
  readonly order: Int32Array;
  /** Part values of the network being built, in the order of `Network.parts`. */
  readonly parts: Float64Array;
  /** Times a network's needle was computed, and the score up to which networks are kept. */
  evaluated: number;
  ceiling: number;
};

export const newSearchState = (
  problem: Problem,
  ranking: Ranking,
  asked: {
    readonly values: Float64Array;
    readonly gaugeOhm: number;
    readonly partCount: number;
    readonly ceiling: number;
  },
): SearchState => {
  const count = problem.value.length;
  const state: SearchState = {
    problem,
    values: asked.values,
    gaugeOhm: asked.gaugeOhm,
    ranking,
    windows: makeWindows(count),
    base: new Float64Array(count),
    armOhm: 0,
    shuntOhm: Infinity,
    order: endsFirst(count),
    parts: new Float64Array(asked.partCount),
    evaluated: 0,
    ceiling: asked.ceiling,
  };
  setWindows(state.windows, problem, state.ceiling);
  return state;
};

/** Ends, then middle, then quarters ...: the ends exclude most. */
const endsFirst = (count: number): Int32Array => {
  const order = [0, count - 1];
  for (let step = count - 1; order.length < count && step > 0.5; step /= 2)
    for (let at = step / 2; at < count - 1; at += step) order.push(Math.round(at));
  return Int32Array.from(new Set([...order, ...Array.from({ length: count }, (_, index) => index)])).filter(
    (index) => index >= 0 && index < count,
  );
};

/** Swaps a sample that has just excluded something towards the front: it is likely to exclude the next one too. */
export const excludesMost = (order: Int32Array, position: number): void => {
  const index = order[position]!;
  const nearer = position >> 1;
  order[position] = order[nearer]!;
  order[nearer] = index;
};

/** Part values are divided and inverted on the way; this keeps one that sits exactly on an edge. */
export const ROUND_UP = 1 + 1e-12;
