import type { Gauge, Mark } from '../../job/schema/gauge';

/** What is drawn of a gauge; marks stand on the arc at a fraction (0 = low end, 1 = high end). */
export type DialFace = Pick<Gauge, 'unit' | 'marks'> & {
  readonly zones: NonNullable<Gauge['zones']>;
  /** Width of the scale seen from the pivot. */
  readonly arcDegrees: number;
};

/** Common practice, no source: dash gauges of the era sweep about a third of a turn. */
export const USUAL_ARC_DEGREES = 110;

export const faceOf = (gauge: Gauge): DialFace => ({
  unit: gauge.unit,
  marks: gauge.marks,
  zones: gauge.zones ?? [],
  arcDegrees: gauge.arcDegrees ?? USUAL_ARC_DEGREES,
});

export type Point = { readonly x: number; readonly y: number };

/** Common practice, no source: a needle travels a little past its outermost marks before it meets the stop. */
const STOP_OVERRUN_FRACTION = 0.06;
export const LOWEST_FRACTION = -STOP_OVERRUN_FRACTION;
export const HIGHEST_FRACTION = 1 + STOP_OVERRUN_FRACTION;

const RADIANS_PER_DEGREE = Math.PI / 180;

/** Clock-wise from straight up, in degrees. */
export const degreesFromFraction = (fraction: number, arcDegrees: number): number =>
  (fraction - 0.5) * arcDegrees;

/** A point at a distance from the pivot; y grows downwards as in SVG. */
export function pointAt(fraction: number, arcDegrees: number, radius: number): Point {
  const radians = degreesFromFraction(fraction, arcDegrees) * RADIANS_PER_DEGREE;
  return { x: radius * Math.sin(radians), y: -radius * Math.cos(radians) };
}

/** Where on the arc a point (x, y) from the pivot lies; beyond its ends below 0 and above 1. */
export const fractionOnArc = (point: Point, arcDegrees: number): number =>
  Math.atan2(point.x, -point.y) / RADIANS_PER_DEGREE / arcDegrees + 0.5;

/** Where on the arc a finger at (x, y) from the pivot points, held between the stops. */
export const fractionFromPoint = (point: Point, arcDegrees: number): number =>
  heldBetweenStops(fractionOnArc(point, arcDegrees));

export const heldBetweenStops = (fraction: number): number =>
  Math.min(HIGHEST_FRACTION, Math.max(LOWEST_FRACTION, fraction));

/** SVG path of an arc between two fractions. */
export function arcPath(from: number, to: number, arcDegrees: number, radius: number): string {
  const start = pointAt(from, arcDegrees, radius);
  const end = pointAt(to, arcDegrees, radius);
  const isLarge = (to - from) * arcDegrees > 180 ? 1 : 0;
  return `M${fixed(start.x)} ${fixed(start.y)}A${radius} ${radius} 0 ${isLarge} 1 ${fixed(end.x)} ${fixed(end.y)}`;
}

export const fixed = (value: number): string => value.toFixed(2);

/** Marks in order along the arc; the scale between them is straight, and goes on straight beyond the outermost two. */
export const marksAlongArc = (marks: readonly Mark[]): readonly Mark[] =>
  [...marks].sort((one, other) => one.angleFraction - other.angleFraction);

/** The reading under a needle, from the two marks around it. Undefined with fewer than two marks. */
export function readingFromFraction(marks: readonly Mark[], fraction: number): number | undefined {
  const pair = pairAround(marksAlongArc(marks), (mark) => fraction <= mark.angleFraction);
  if (pair === undefined) return undefined;
  const [low, high] = pair;
  const share = (fraction - low.angleFraction) / (high.angleFraction - low.angleFraction);
  return low.reading + share * (high.reading - low.reading);
}

/** Where the needle stands for a reading. Undefined with fewer than two marks. */
export function fractionFromReading(marks: readonly Mark[], reading: number): number | undefined {
  const ordered = marksAlongArc(marks);
  const rises = (ordered.at(-1)?.reading ?? 0) >= (ordered[0]?.reading ?? 0);
  const pair = pairAround(ordered, (mark) => (rises ? reading <= mark.reading : reading >= mark.reading));
  if (pair === undefined) return undefined;
  const [low, high] = pair;
  if (high.reading === low.reading) return low.angleFraction;
  const share = (reading - low.reading) / (high.reading - low.reading);
  return heldBetweenStops(low.angleFraction + share * (high.angleFraction - low.angleFraction));
}

function pairAround(
  ordered: readonly Mark[],
  isBeyond: (mark: Mark) => boolean,
): readonly [Mark, Mark] | undefined {
  if (ordered.length < 2) return undefined;
  const found = ordered.findIndex(isBeyond);
  const high = Math.max(1, found < 0 ? ordered.length - 1 : found);
  const first = ordered[high - 1];
  const second = ordered[high];
  return first === undefined || second === undefined ? undefined : [first, second];
}

/** Fine graduations: each gap between marks in equal parts, so an uneven scale keeps its look. */
export function minorFractions(marks: readonly Mark[], parts: number): readonly number[] {
  const ordered = marksAlongArc(marks);
  return ordered.slice(1).flatMap((mark, index) => {
    const from = ordered[index]?.angleFraction ?? 0;
    return Array.from(
      { length: parts - 1 },
      (_, step) => from + ((mark.angleFraction - from) * (step + 1)) / parts,
    );
  });
}
