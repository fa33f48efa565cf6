import type { LogAxis } from '../types';

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
  const { offsetOhm, removed } = axis;
  if (removed.length === 0) return Math.log(ohm + offsetOhm);
  let position = Math.log(Math.min(ohm, removed[0]!.fromOhm) + offsetOhm);
  removed.forEach(({ toOhm, stretch }, i) => {
    const end = Math.min(ohm, removed[i + 1]?.fromOhm ?? Infinity);
    if (end > toOhm) position += stretch * Math.log((end + offsetOhm) / (toOhm + offsetOhm));
  });
  return position;
}

/** d position / d ohm; zero inside a removed stretch. Source: derivative of `axisPosition`. */
export function axisSlope({ offsetOhm, removed }: LogAxis, ohm: number): number {
  if (removed.some(({ fromOhm, toOhm }) => ohm > fromOhm && ohm < toOhm)) return 0;
  const before = removed.filter(({ toOhm }) => ohm >= toOhm).at(-1);
  return (before?.stretch ?? 1) / (ohm + offsetOhm);
}
