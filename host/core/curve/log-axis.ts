import type { LogAxis } from './types';

/** Largest ratio of neighbouring (R + offset) that a short circuit at one end may leave. */
const LARGEST_FIRST_STEP = 4;
/** Resistances below this part of the largest count as "at the short": only they call for an offset. */
const NEAR_SHORT = 0.02;

/**
 * An axis on which a sweep is spread evenly: ln R, shifted when readings at or near 0 ohm would otherwise lie
 * infinitely far away. Source: derived here; the offset is the smallest that keeps steps near the short below a factor 4.
 */
export function logAxis(resistancesOhm: readonly number[], removed: LogAxis['removed'] = []): LogAxis {
  const sorted = [...resistancesOhm].sort((a, b) => a - b);
  const largest = sorted.at(-1) ?? 1;
  let offsetOhm = 0;
  for (let i = 0; i + 1 < sorted.length && sorted[i]! < NEAR_SHORT * largest; i += 1) {
    const wanted = (sorted[i + 1]! - LARGEST_FIRST_STEP * sorted[i]!) / (LARGEST_FIRST_STEP - 1);
    offsetOhm = Math.max(offsetOhm, wanted);
  }
  return { offsetOhm, removed };
}

/** Where a resistance lies on the axis. Infinity stays infinite. Source: definition in `LogAxis`. */
export function axisPosition(axis: LogAxis, ohm: number): number {
  let position = Math.log(ohm + axis.offsetOhm);
  for (const { fromOhm, toOhm } of axis.removed) {
    if (ohm <= fromOhm) continue;
    const end = Math.min(ohm, toOhm);
    position -= Math.log((end + axis.offsetOhm) / (fromOhm + axis.offsetOhm));
  }
  return position;
}

/** d position / d ohm; zero inside a removed stretch. Source: derivative of `axisPosition`. */
export const axisSlope = (axis: LogAxis, ohm: number): number =>
  axis.removed.some(({ fromOhm, toOhm }) => ohm > fromOhm && ohm < toOhm) ? 0 : 1 / (ohm + axis.offsetOhm);
