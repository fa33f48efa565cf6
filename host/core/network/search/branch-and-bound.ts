import { firstAbove, firstNotBelow } from './gauge-table';
import { driveOf, ohmAtRise, riseAt } from '../../at-work';
import { parallelOhm } from '../closed-form/ladder-tree';
import type { Heat } from './heat';
import type { LastPart } from './heated-last-part';
import { sourceThrough } from './heated-last-part';
import { heatedInterval } from './heated-interval';
import { sampleScore } from './problem';
import type { SearchState } from './search-state';
import { excludesMost, ROUND_UP } from './search-state';
import { setWindows } from './windows';

/** What the gauge sees at one sample. */
const combine = (last: LastPart, baseOhm: number, partOhm: number, gaugeOhm: number): number => {
  if (last === 'in-series') return partOhm + baseOhm;
  if (last === 'in-parallel') return parallelOhm(baseOhm, partOhm);
  return (1 + gaugeOhm / partOhm) * baseOhm;
};

/** What the gauge sees at one sample of a heated sender, the last part in its place. */
const seenHeated = (
  { armOhm, shuntOhm, gaugeOhm }: SearchState,
  heat: Heat,
  index: number,
  { last, partOhm }: { readonly last: LastPart; readonly partOhm: number },
): number => {
  const source = sourceThrough(heat.source, last, { armOhm, shuntOhm }, partOhm);
  const place = heat.anchors[index]!;
  const rise = riseAt(heat.curve, place, driveOf(source), heat.wattPerUnit);
  return combine(last, parallelOhm(ohmAtRise(heat.curve, place, rise) + armOhm, shuntOhm), partOhm, gaugeOhm);
};

/** Score of the network, or Infinity as soon as one sample exceeds the ceiling. */
const scoreOf = (state: SearchState, last: LastPart, partOhm: number): number => {
  const { problem, order } = state;
  const { heat } = problem;
  let worst = 0;
  state.evaluated += 1;
  for (let position = 0; position < order.length; position += 1) {
    const index = order[position]!;
    const seen =
      heat === undefined
        ? combine(last, state.base[index]!, partOhm, state.gaugeOhm)
        : seenHeated(state, heat, index, { last, partOhm });
    const score = sampleScore(problem, index, problem.table.gauge.reading(seen) - problem.value[index]!);
    // Written so that a reading that is no number excludes the network.
    if (!(score <= state.ceiling)) {
      excludesMost(order, position);
      return Infinity;
    }
    worst = Math.max(worst, score);
  }
  return worst;
};

/** Scores the network whose last part is `partOhm`, at `slot`, and keeps it if it is among the best. */
export const offer = (state: SearchState, last: LastPart, slot: number, partOhm: number): void => {
  state.parts[slot] = partOhm;
  if (!state.ranking.allows(state.parts)) return;
  const score = scoreOf(state, last, partOhm);
  if (score === Infinity) return;
  state.ranking.insert(score, state.parts);
  const ceiling = Math.min(state.ceiling, state.ranking.ceiling());
  if (ceiling < state.ceiling) {
    state.ceiling = ceiling;
    setWindows(state.windows, state.problem, ceiling);
  }
};

/** Interval of a part in series with `base` that all windows allow; empty (from > to) as soon as one forbids. */
const seriesInterval = (state: SearchState): readonly [number, number] => {
  const { base, order, windows } = state;
  let from = state.values[0]!;
  let to = state.values[state.values.length - 1]!;
  for (let position = 0; position < order.length; position += 1) {
    const index = order[position]!;
    from = Math.max(from, windows.low[index]! - base[index]!);
    to = Math.min(to, windows.high[index]! - base[index]!);
    if (from > to) {
      if (position > 0) excludesMost(order, position);
      return [1, 0];
    }
  }
  return [from, to];
};

/** Interval of a part in parallel with `base`, found in siemens and answered in ohm. */
const parallelInterval = (state: SearchState): readonly [number, number] => {
  const { base, order, windows } = state;
  let from = 1 / state.values[state.values.length - 1]!;
  let to = 1 / state.values[0]!;
  for (let position = 0; position < order.length; position += 1) {
    const index = order[position]!;
    const ohm = base[index]!;
    // A shorted sender is seen as a short whatever is across it.
    if (ohm === 0 && windows.low[index]! <= 0) continue;
    const siemens = 1 / ohm;
    from = Math.max(from, windows.lowSiemens[index]! - siemens);
    to = ohm === 0 ? -1 : Math.min(to, windows.highSiemens[index]! - siemens);
    if (from > to * ROUND_UP) {
      if (position > 0) excludesMost(order, position);
      return [1, 0];
    }
  }
  return [1 / (to * ROUND_UP), ROUND_UP / from];
};

/** Interval of a resistor across the gauge: gain 1 + Rg/Rx between low/base and high/base. */
const gainInterval = (state: SearchState): readonly [number, number] => {
  const { base, order, windows } = state;
  let from = 1;
  let to = Infinity;
  for (let position = 0; position < order.length; position += 1) {
    const index = order[position]!;
    const ohm = base[index]!;
    if (ohm === 0 && windows.low[index]! <= 0) continue;
    from = Math.max(from, windows.low[index]! / ohm);
    to = Math.min(to, windows.high[index]! / ohm);
    if (!(from <= to)) return [1, 0];
  }
  const lowest = to === Infinity ? 0 : state.gaugeOhm / (to * ROUND_UP - 1);
  return [lowest, from > ROUND_UP ? state.gaugeOhm / (from / ROUND_UP - 1) : Infinity];
};

const interval = (state: SearchState, last: LastPart): readonly [number, number] => {
  if (state.problem.heat !== undefined) return heatedInterval(state, last, state.problem.heat);
  if (last === 'in-series') return seriesInterval(state);
  return last === 'in-parallel' ? parallelInterval(state) : gainInterval(state);
};

/** Indices of the part values inside the interval that the windows leave at this moment; empty when first > last. */
const allowedIndices = (state: SearchState, last: LastPart): readonly [first: number, last: number] => {
  const [from, to] = interval(state, last);
  return from <= to ? [firstNotBelow(state.values, from), firstAbove(state.values, to) - 1] : [1, 0];
};

/**
 * Tries every value of the last part that the windows allow, with the other parts as they are in `state.parts` and
 * their effect in `state.base`. From the middle outwards, and the windows are asked again after each improvement: the
 * best value is seldom at an edge, so few are computed.
 * Source: monotonicity of the network in each part and of the needle.
 */
export const searchLastPart = (state: SearchState, last: LastPart, slot: number): void => {
  let [first, final] = allowedIndices(state, last);
  let down = (first + final) >> 1;
  let up = down + 1;
  while (down >= first || up <= final) {
    const before = state.ceiling;
    if (down >= first) offer(state, last, slot, state.values[down--]!);
    if (up <= final) offer(state, last, slot, state.values[up++]!);
    if (state.ceiling < before) [first, final] = allowedIndices(state, last);
  }
};
