import { offer, searchLastPart } from './branch-and-bound';
import type { SearchState } from './search-state';
import { excludesMost, newSearchState } from './search-state';
import { parallelOhm } from '../closed-form/ladder-tree';
import type { Problem } from './problem';
import type { Counts, Found } from './ranking';
import { newRanking } from './ranking';
import type { Topology } from '../closed-form/topology';

/** One arrangement of parts to search; `gauge-shunt` comes with one part and with two. */
export type Form = { readonly topology: Topology; readonly partCount: number };

export const forms: readonly Form[] = [
  { topology: 'none', partCount: 0 },
  { topology: 'series', partCount: 1 },
  { topology: 'shunt', partCount: 1 },
  { topology: 'gauge-shunt', partCount: 1 },
  { topology: 'shunt-then-series', partCount: 2 },
  { topology: 'series-then-shunt', partCount: 2 },
  { topology: 'gauge-shunt', partCount: 2 },
  { topology: 'three-resistor', partCount: 3 },
];

/** What a search may use: part values (ascending, ohm), how many of each, the gauge's own resistance, what is forbidden. */
export type Parts = {
  readonly values: Float64Array;
  readonly counts?: Counts;
  readonly gaugeOhm?: number;
  readonly permits?: (form: Form, partsOhm: Float64Array) => boolean;
};

/** The best networks of one form, and what was done to be sure of them. */
export type FormResult = {
  readonly form: Form;
  readonly found: readonly Found[];
  /** Networks that exist in this form. */
  readonly combinations: number;
  /** Networks whose needle was computed; all others were excluded by proof. */
  readonly evaluated: number;
};

/** Fixes the parts around the last one. Of a heated sender nothing can be said before the last part is known too. */
const setOuter = (state: SearchState, armOhm: number, shuntOhm: number): void => {
  state.armOhm = armOhm;
  state.shuntOhm = shuntOhm;
  if (state.problem.heat !== undefined) return;
  for (let index = 0; index < state.base.length; index += 1)
    state.base[index] = parallelOhm(state.problem.ohm[index]! + armOhm, shuntOhm);
};

const eachValue = (state: SearchState, slot: number, then: (partOhm: number) => void): void => {
  for (let index = 0; index < state.values.length; index += 1) {
    state.parts[slot] = state.values[index]!;
    then(state.values[index]!);
  }
};

/**
 * Fills `base` for one shunt across `armOhm` (sender and its series resistor), as long as the windows still leave room
 * for a resistor in series on the gauge's side; false as soon as they do not. Most pairs end at the second sample.
 * `hotArmOhm`: the same with the sender as hot as it can be (the same array where its heat does not count).
 */
const fillsBase = (
  state: SearchState,
  armOhm: Float64Array,
  hotArmOhm: Float64Array,
  shuntOhm: number,
): boolean => {
  const { base, order, windows, values } = state;
  let from = values[0]!;
  let to = values[values.length - 1]!;
  for (let position = 0; position < order.length; position += 1) {
    const index = order[position]!;
    const arm = armOhm[index]!;
    const ohm = (arm * shuntOhm) / (arm + shuntOhm);
    base[index] = ohm;
    const hotArm = hotArmOhm[index]!;
    from = Math.max(from, windows.low[index]! - ohm);
    to = Math.min(to, windows.high[index]! - (hotArm * shuntOhm) / (hotArm + shuntOhm));
    if (from > to) {
      if (position > 1) excludesMost(order, position);
      return false;
    }
  }
  return true;
};

const searchThree = (state: SearchState): void => {
  const armOhm = new Float64Array(state.base.length);
  const hottestOhm = state.problem.heat?.hottestOhm;
  const hotArmOhm = hottestOhm === undefined ? armOhm : new Float64Array(armOhm.length);
  eachValue(state, 2, (senderSideOhm) => {
    for (let index = 0; index < armOhm.length; index += 1)
      armOhm[index] = state.problem.ohm[index]! + senderSideOhm;
    if (hottestOhm !== undefined)
      for (let index = 0; index < armOhm.length; index += 1)
        hotArmOhm[index] = hottestOhm[index]! + senderSideOhm;
    eachValue(state, 1, (shuntOhm) => {
      if (hottestOhm !== undefined) setOuter(state, senderSideOhm, shuntOhm);
      if (fillsBase(state, armOhm, hotArmOhm, shuntOhm)) searchLastPart(state, 'in-series', 0);
    });
  });
};

/** Goes through every choice of the outer parts and solves the last one by intervals. */
const run = (state: SearchState, form: Form): void => {
  setOuter(state, 0, Infinity);
  switch (form.topology) {
    case 'none':
      return offer(state, 'in-series', 0, 0);
    case 'series':
      return searchLastPart(state, 'in-series', 0);
    case 'shunt':
      return searchLastPart(state, 'in-parallel', 0);
    case 'shunt-then-series':
      return eachValue(state, 1, (shuntOhm) => {
        setOuter(state, 0, shuntOhm);
        searchLastPart(state, 'in-series', 0);
      });
    case 'series-then-shunt':
      return eachValue(state, 0, (seriesOhm) => {
        setOuter(state, seriesOhm, Infinity);
        searchLastPart(state, 'in-parallel', 1);
      });
    case 'three-resistor':
      return searchThree(state);
    case 'gauge-shunt':
      if (form.partCount === 1) return searchLastPart(state, 'gauge-gain', 0);
      return eachValue(state, 1, (seriesOhm) => {
        setOuter(state, seriesOhm, Infinity);
        searchLastPart(state, 'gauge-gain', 0);
      });
  }
};

/**
 * Every so many values are tried first, so that the full search starts with narrow windows and computes few needles. Each
 * pass is exact for its own values; only its score is carried over.
 */
const STRIDES = [16, 4] as const;
const FEWEST_FOR_STRIDE = 3;

const everyNth = (values: Float64Array, stride: number): Float64Array =>
  values.filter((_, index) => index % stride === 0);

const huntOnce = (
  problem: Problem,
  form: Form,
  asked: { readonly parts: Parts; readonly keep: number; readonly ceiling: number },
): SearchState => {
  const { permits, counts } = asked.parts;
  const permit = permits && ((partsOhm: Float64Array): boolean => permits(form, partsOhm));
  const state = newSearchState(problem, newRanking(asked.keep, counts, permit), {
    values: asked.parts.values,
    gaugeOhm: asked.parts.gaugeOhm ?? 0,
    partCount: form.partCount,
    ceiling: asked.ceiling,
  });
  run(state, form);
  return state;
};

/**
 * The `keep` best networks of one form out of all combinations of the part values: exact. A combination is left out
 * only when the windows of the score already reached prove that it scores worse.
 * Source: branch and bound with interval bounds from monotonicity; equal to brute force in search.test.ts.
 */
export const searchForm = (problem: Problem, form: Form, parts: Parts, keep: number): FormResult => {
  let ceiling = Infinity;
  let evaluated = 0;
  for (const stride of form.partCount > 0 ? STRIDES : []) {
    const values = everyNth(parts.values, stride);
    if (values.length < FEWEST_FOR_STRIDE) continue;
    const coarse = huntOnce(problem, form, { parts: { ...parts, values }, keep, ceiling });
    ceiling = Math.min(ceiling, coarse.ranking.ceiling());
    evaluated += coarse.evaluated;
  }
  const fine = huntOnce(problem, form, { parts, keep, ceiling });
  return {
    form,
    found: fine.ranking.found(),
    combinations: parts.values.length ** form.partCount,
    evaluated: evaluated + fine.evaluated,
  };
};
