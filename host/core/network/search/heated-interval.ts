import type { Heat } from './heat';
import type { LastPart } from './heated-last-part';
import { lastPartAt } from './heated-last-part';
import type { SearchState } from './search-state';
import { excludesMost, ROUND_UP } from './search-state';

/** Windows of a heated sender are asked a little wider: its state is found to a part in 1e13. */
const HEATED_SLACK = 1e-9;

/** The last part's own measure (siemens in parallel, gain across the gauge) for an ohm value, and back. */
const measureOf = (last: LastPart, partOhm: number, gaugeOhm: number): number => {
  if (last === 'in-series') return partOhm;
  return last === 'in-parallel' ? 1 / partOhm : 1 + gaugeOhm / partOhm;
};

/**
 * Interval of the last part around a heated sender that all windows allow, in ohm. Each edge of a window is one value of
 * the part. Source: lastPartAt.
 */
export const heatedInterval = (state: SearchState, last: LastPart, heat: Heat): readonly [number, number] => {
  const { order, windows, values, gaugeOhm } = state;
  const outer = { armOhm: state.armOhm, shuntOhm: state.shuntOhm };
  const smallest = last === 'gauge-gain' ? Math.max(values[0]!, heat.leastAcrossOhm) : values[0]!;
  const ends = [measureOf(last, smallest, gaugeOhm), measureOf(last, values[values.length - 1]!, gaugeOhm)];
  let [from, to] = [Math.min(...ends), Math.max(...ends)];
  for (let position = 0; position < order.length; position += 1) {
    const index = order[position]!;
    const place = heat.anchors[index]!;
    const lowOhm = windows.low[index]! * (1 - HEATED_SLACK);
    const highOhm = windows.high[index]! * (1 + HEATED_SLACK);
    if (!(lowOhm <= highOhm)) return [1, 0];
    const atLow = lastPartAt(heat, place, { last, outer, edgeOhm: lowOhm });
    if (last === 'in-parallel') to = Math.min(to, atLow);
    else from = Math.max(from, atLow);
    if (from <= to * ROUND_UP) {
      const atHigh = lastPartAt(heat, place, { last, outer, edgeOhm: highOhm });
      if (last === 'in-parallel') from = Math.max(from, atHigh);
      else to = Math.min(to, atHigh);
    }
    if (!(from <= to * ROUND_UP)) {
      if (position > 0) excludesMost(order, position);
      return [1, 0];
    }
  }
  if (last === 'in-series') return [from, to];
  if (last === 'in-parallel') return [1 / (to * ROUND_UP), ROUND_UP / from];
  return [
    to === Infinity ? 0 : gaugeOhm / (to * ROUND_UP - 1),
    from > ROUND_UP ? gaugeOhm / (from / ROUND_UP - 1) : Infinity,
  ];
};
