import { cubicAt, cubicSlopeAt, monotoneCubic } from '../numeric/monotone-cubic';
import type { MonotoneCubic } from '../numeric/monotone-cubic';
import { refuse } from '../refusal';
import type { Refusal } from '../refusal';

/** A line of the printed scale. */
export type DialMark = {
  /** What is printed beside it: "C", "N", "H", "1/2", "90". */
  readonly label: string;
  readonly reading: number;
  /** Where the needle points on it: 0 at the low end of the sweep, 1 at the high end. */
  readonly angleFraction: number;
};

/** A scale as plain data; marks in order of angle, readings rising or falling with it. */
export type Dial = {
  readonly kind: 'dial';
  readonly marks: readonly DialMark[];
  readonly risesWithAngle: boolean;
  /** Reading as a function of the angle, and angle as a function of the reading. */
  readonly readingCurve: MonotoneCubic;
  readonly angleCurve: MonotoneCubic;
};

export type DialRefusalCode = 'DIAL_TOO_FEW' | 'DIAL_BAD_NUMBER' | 'DIAL_SAME_PLACE' | 'DIAL_NOT_MONOTONE';

/**
 * A dial from its marks, in any order, evenly spaced or not.
 * Source: monotone cubic between the marks (`monotoneCubic`), each way on its own.
 * Refuses: fewer than two marks (DIAL_TOO_FEW), numbers that are not finite or angles outside 0 to 1
 * (DIAL_BAD_NUMBER), two marks at one angle or of one reading (DIAL_SAME_PLACE), readings that turn back along the
 * scale (DIAL_NOT_MONOTONE).
 */
export function dialFromMarks(marks: readonly DialMark[]): Dial | Refusal<DialRefusalCode> {
  if (marks.length < 2) return refuse('DIAL_TOO_FEW', { markCount: marks.length });
  const bad = marks.find((mark) => !isUsable(mark));
  if (bad !== undefined)
    return refuse('DIAL_BAD_NUMBER', {
      label: bad.label,
      reading: bad.reading,
      angleFraction: bad.angleFraction,
    });
  const ordered = [...marks].sort((one, other) => one.angleFraction - other.angleFraction);
  const clash = ordered.findIndex((mark, i) => i > 0 && isSamePlace(mark, ordered[i - 1]!));
  if (clash > 0)
    return refuse('DIAL_SAME_PLACE', {
      oneLabel: ordered[clash - 1]!.label,
      otherLabel: ordered[clash]!.label,
    });
  return assembled(ordered);
}

function assembled(ordered: readonly DialMark[]): Dial | Refusal<DialRefusalCode> {
  const angles = ordered.map((mark) => mark.angleFraction);
  const readings = ordered.map((mark) => mark.reading);
  const risesWithAngle = readings.at(-1)! > readings[0]!;
  const turned = risesWithAngle ? readings : [...readings].reverse();
  const turnedAngles = risesWithAngle ? angles : [...angles].reverse();
  const readingCurve = monotoneCubic(angles, readings);
  const angleCurve = monotoneCubic(turned, turnedAngles);
  if (readingCurve.kind === 'refused' || angleCurve.kind === 'refused')
    return refuse('DIAL_NOT_MONOTONE', { readings });
  return { kind: 'dial', marks: ordered, risesWithAngle, readingCurve, angleCurve };
}

const isUsable = ({ reading, angleFraction }: DialMark): boolean =>
  Number.isFinite(reading) && angleFraction >= 0 && angleFraction <= 1;

const isSamePlace = (one: DialMark, other: DialMark): boolean =>
  one.angleFraction === other.angleFraction || one.reading === other.reading;

/** Where the needle points for a reading; beyond the outer marks the scale goes on straight. Source: `monotoneCubic`. */
export const angleFractionAt = (dial: Dial, reading: number): number => cubicAt(dial.angleCurve, reading);

/**
 * Reading for a place of the needle: the exact inverse of `angleFractionAt`, so that a needle put on a reading reads it.
 * Source: Newton's step on the cubic between two marks, halving where it would leave the bracket.
 */
export function readingForAngle(dial: Dial, angleFraction: number): number {
  const { x, y } = dial.angleCurve;
  const isOutside = (angleFraction - y[0]!) * (angleFraction - y.at(-1)!) >= 0;
  if (isOutside) return beyond(dial, angleFraction);
  const isBelow = (angle: number): boolean => angle < angleFraction === dial.risesWithAngle;
  const above = y.findIndex((angle) => !isBelow(angle));
  let [low, high] = [x[above - 1]!, x[above]!];
  let at = low + ((high - low) * (angleFraction - y[above - 1]!)) / (y[above]! - y[above - 1]!);
  for (let count = 0; count < MOST_HALVINGS; count += 1) {
    const miss = angleFractionAt(dial, at) - angleFraction;
    if (isBelow(miss + angleFraction)) low = at;
    else high = at;
    const newton = at - miss / cubicSlopeAt(dial.angleCurve, at);
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - at) <= 4 * Number.EPSILON * Math.max(Math.abs(low), Math.abs(high))) return next;
    at = next;
  }
  return at;
}

/** Halvings alone get from any bracket to the last digit. */
const MOST_HALVINGS = 80;

/** Beyond the outer marks: the straight line on which the scale goes on. */
function beyond({ angleCurve }: Dial, angleFraction: number): number {
  const { x, y, slopes } = angleCurve;
  const isFirst = Math.abs(angleFraction - y[0]!) <= Math.abs(angleFraction - y.at(-1)!);
  const end = isFirst ? 0 : x.length - 1;
  const slope = slopes[end]!;
  // An end slope of zero would send the reading to infinity: the mark itself is the answer then.
  return slope === 0 ? x[end]! : x[end]! + (angleFraction - y[end]!) / slope;
}

/** Smallest and largest reading printed. Source: definition. */
export function scaleEnds({ marks }: Dial): { readonly lowest: number; readonly highest: number } {
  const readings = marks.map((mark) => mark.reading);
  return { lowest: Math.min(...readings), highest: Math.max(...readings) };
}
