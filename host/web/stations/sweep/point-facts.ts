import type { LinePoint } from '../../../job/findings';

export type CurveAt = { readonly reading: number; readonly low: number; readonly high: number };

/**
 * The fitted line and its band at a resistance, between the drawn points in ln R (in R where the line starts at a
 * short). Undefined off the line's ends: there the curve is not known.
 */
export function curveAt(line: readonly LinePoint[], resistanceOhm: number): CurveAt | undefined {
  const after = line.findIndex((point) => point.x >= resistanceOhm);
  const high = line[after];
  const low = line[Math.max(0, after - 1)];
  if (high === undefined || low === undefined || low.x > resistanceOhm) return undefined;
  const place = low.x > 0 ? Math.log : (x: number): number => x;
  const share = high.x === low.x ? 0 : (place(resistanceOhm) - place(low.x)) / (place(high.x) - place(low.x));
  const between = (from: number, to: number): number => from + share * (to - from);
  return {
    reading: between(low.y, high.y),
    low: between(low.low, high.low),
    high: between(low.high, high.high),
  };
}
