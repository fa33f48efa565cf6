import { refuse } from '../refusal';
import type { Refusal } from '../refusal';

/** A piecewise cubic through knots, without overshoot: plain data. */
export type MonotoneCubic = {
  readonly kind: 'monotone-cubic';
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly slopes: readonly number[];
};

export type MonotoneCubicRefusal = Refusal<'CUBIC_TOO_FEW' | 'CUBIC_ORDER' | 'CUBIC_NOT_FINITE'>;

/**
 * Interpolates so that the curve rises exactly where the data rise, and a flat piece stays flat.
 * Source: Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300-304 (weighted harmonic mean of the neighbouring
 * slopes); end slopes by the three-point formula with its sign and size limits.
 * Refuses: fewer than two knots (CUBIC_TOO_FEW), x not strictly ascending (CUBIC_ORDER), numbers that are not finite
 * (CUBIC_NOT_FINITE).
 */
export function monotoneCubic(
  x: readonly number[],
  y: readonly number[],
): MonotoneCubic | MonotoneCubicRefusal {
  if (x.length < 2 || x.length !== y.length)
    return refuse('CUBIC_TOO_FEW', { xCount: x.length, yCount: y.length });
  if (![...x, ...y].every(Number.isFinite)) return refuse('CUBIC_NOT_FINITE', {});
  const disorder = x.findIndex((value, i) => i > 0 && !(value > x[i - 1]!));
  if (disorder >= 0) return refuse('CUBIC_ORDER', { knotNumber: disorder + 1, x: x[disorder]! });
  return { kind: 'monotone-cubic', x: [...x], y: [...y], slopes: knotSlopes(x, y) };
}

/** Value at x; beyond the ends the curve goes on straight. Source: cubic Hermite basis. */
export function cubicAt(curve: MonotoneCubic, at: number): number {
  const { x, y, slopes } = curve;
  const last = x.length - 1;
  if (at <= x[0]!) return y[0]! + slopes[0]! * (at - x[0]!);
  if (at >= x[last]!) return y[last]! + slopes[last]! * (at - x[last]!);
  const piece = pieceOf(x, at);
  const width = x[piece + 1]! - x[piece]!;
  const t = (at - x[piece]!) / width;
  const back = 1 - t;
  return (
    y[piece]! * back * back * (1 + 2 * t) +
    y[piece + 1]! * t * t * (3 - 2 * t) +
    width * t * back * (slopes[piece]! * back - slopes[piece + 1]! * t)
  );
}

/** Slope dy/dx at x. Source: derivative of the cubic Hermite basis. */
export function cubicSlopeAt(curve: MonotoneCubic, at: number): number {
  const { x, y, slopes } = curve;
  const last = x.length - 1;
  if (at <= x[0]!) return slopes[0]!;
  if (at >= x[last]!) return slopes[last]!;
  const piece = pieceOf(x, at);
  const width = x[piece + 1]! - x[piece]!;
  const t = (at - x[piece]!) / width;
  const chord = (y[piece + 1]! - y[piece]!) / width;
  return (
    6 * t * (1 - t) * chord + slopes[piece]! * (1 - t) * (1 - 3 * t) + slopes[piece + 1]! * t * (3 * t - 2)
  );
}

/** Index of the piece that holds `at`: x[index] <= at < x[index + 1], the end pieces reaching outward. Source: bisection. */
export function pieceOf(x: readonly number[], at: number): number {
  let low = 0;
  let high = x.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (x[middle]! <= at) low = middle;
    else high = middle;
  }
  return low;
}

function knotSlopes(x: readonly number[], y: readonly number[]): number[] {
  const widths = x.slice(1).map((value, i) => value - x[i]!);
  const chords = widths.map((width, i) => (y[i + 1]! - y[i]!) / width);
  if (chords.length === 1) return [chords[0]!, chords[0]!];
  const inner = chords.slice(1).map((chord, i) => innerSlope(widths[i]!, widths[i + 1]!, chords[i]!, chord));
  const count = chords.length;
  return [
    endSlope(widths[0]!, widths[1]!, chords[0]!, chords[1]!),
    ...inner,
    endSlope(widths[count - 1]!, widths[count - 2]!, chords[count - 1]!, chords[count - 2]!),
  ];
}

function innerSlope(widthBefore: number, widthAfter: number, before: number, after: number): number {
  if (!(before * after > 0)) return 0;
  const weightBefore = 2 * widthAfter + widthBefore;
  const weightAfter = widthAfter + 2 * widthBefore;
  return (weightBefore + weightAfter) / (weightBefore / before + weightAfter / after);
}

function endSlope(width: number, nextWidth: number, chord: number, nextChord: number): number {
  const slope = ((2 * width + nextWidth) * chord - width * nextChord) / (width + nextWidth);
  if (Math.sign(slope) !== Math.sign(chord)) return 0;
  const isTurning = Math.sign(chord) !== Math.sign(nextChord);
  return isTurning && Math.abs(slope) > 3 * Math.abs(chord) ? 3 * chord : slope;
}
