import type { GaugeResponse } from '../../response';
import type { Refusal } from '../../refusal';
import { refuse } from '../../refusal';

/**
 * A gauge sampled once, for fast and still exact searching: `rising` holds the readings, with their sign turned where
 * needed so that they never fall along `ohm` (0, then logarithmic steps, then Infinity). Because a needle is monotone,
 * a reading is bracketed by two neighbours without any interpolation; only brackets are ever taken from the table.
 */
export type GaugeTable = {
  readonly gauge: GaugeResponse;
  readonly ohm: Float64Array;
  readonly rising: Float64Array;
  readonly sign: 1 | -1;
};

/** Steps across the measured range, where the needle moves; 0.2 % a step for a gauge of two decades. */
const INNER_STEPS = 1600;
/** Steps on each side beyond it, out to OUTSIDE_RATIO: the needle creeps towards its stop there. */
const OUTER_STEPS = 160;
const OUTSIDE_RATIO = 1000;
/** A measured range that begins at a short has no logarithm. */
const SMALLEST_RATIO = 1e-4;
/** Rounding in a gauge's own arithmetic, as a fraction of its dial. */
const RIPPLE = 1e-9;

const logSteps = (fromOhm: number, toOhm: number, steps: number): number[] =>
  Array.from({ length: steps }, (_, index) => fromOhm * (toOhm / fromOhm) ** (index / steps));

const gridOf = (gauge: GaugeResponse): number[] => {
  const high = Math.max(gauge.measuredToOhm, Number.MIN_VALUE);
  const low = Math.max(gauge.measuredFromOhm, high * SMALLEST_RATIO);
  return [
    0,
    ...logSteps(low / OUTSIDE_RATIO, low, OUTER_STEPS),
    ...logSteps(low, high, low < high ? INNER_STEPS : 0),
    ...logSteps(high, high * OUTSIDE_RATIO, OUTER_STEPS),
    high * OUTSIDE_RATIO,
    Infinity,
  ];
};

/** Irons out rounding ripple; a real reversal is refused by the caller. Returns the deepest reversal. */
const ironed = (rising: Float64Array): number => {
  let deepest = 0;
  for (let index = 1; index < rising.length; index += 1) {
    const step = rising[index]! - rising[index - 1]!;
    if (step >= 0) continue;
    deepest = Math.max(deepest, -step);
    rising[index] = rising[index - 1]!;
  }
  return deepest;
};

/**
 * Samples a gauge for searching. Source: monotonicity of the needle.
 * Refuses: GAUGE_RANGE (no range), GAUGE_NOT_FINITE, GAUGE_NOT_MONOTONE (the needle turns back somewhere).
 */
export const gaugeTable = (
  gauge: GaugeResponse,
):
  | ({ readonly kind: 'table' } & GaugeTable)
  | Refusal<'GAUGE_RANGE' | 'GAUGE_NOT_FINITE' | 'GAUGE_NOT_MONOTONE'> => {
  if (!(gauge.measuredFromOhm >= 0 && gauge.measuredToOhm > gauge.measuredFromOhm))
    return refuse('GAUGE_RANGE', { fromOhm: gauge.measuredFromOhm, toOhm: gauge.measuredToOhm });
  const sign = gauge.risesWithResistance ? 1 : -1;
  const ohm = Float64Array.from(gridOf(gauge));
  const rising = ohm.map((each) => sign * gauge.reading(each));
  const wrong = rising.findIndex((reading) => !Number.isFinite(reading));
  if (wrong >= 0) return refuse('GAUGE_NOT_FINITE', { resistanceOhm: ohm[wrong]! });
  const dial = Math.abs(gauge.highestReading - gauge.lowestReading);
  if (ironed(rising) > RIPPLE * dial) return refuse('GAUGE_NOT_MONOTONE', {});
  return { kind: 'table', gauge, ohm, rising, sign };
};

/** Index of the first element not below `value`, in an ascending array; its length when all are below. */
export const firstNotBelow = (ascending: Float64Array, value: number): number => {
  let low = 0;
  let high = ascending.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (ascending[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
};

/** Index of the first element above `value`, in an ascending array; its length when none is. */
export const firstAbove = (ascending: Float64Array, value: number): number => {
  let low = 0;
  let high = ascending.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (ascending[middle]! <= value) low = middle + 1;
    else high = middle;
  }
  return low;
};

/**
 * Outer bracket of the resistances at which the reading lies between two readings, ohm: every such resistance is
 * inside; resistances within one table step outside may be too. `[Infinity, -1]` when there is certainly none.
 */
export const ohmBracket = (
  table: GaugeTable,
  lowestReading: number,
  highestReading: number,
): readonly [fromOhm: number, toOhm: number] => {
  const [from, to] = table.sign > 0 ? [lowestReading, highestReading] : [-highestReading, -lowestReading];
  const inside = firstNotBelow(table.rising, from);
  if (inside === table.rising.length) return [Infinity, -1];
  const beyond = firstAbove(table.rising, to);
  if (beyond === 0) return [Infinity, -1];
  const fromOhm = inside === 0 ? 0 : table.ohm[inside - 1]!;
  const toOhm = beyond === table.ohm.length ? Infinity : table.ohm[beyond]!;
  return [fromOhm, toOhm];
};
