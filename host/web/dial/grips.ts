import type { Gauge, Mark } from '../../job/schema/gauge';
import {
  fractionFromReading,
  marksAlongArc,
  pointAt,
  readingFromFraction,
  USUAL_ARC_DEGREES,
  type Point,
} from './dial-geometry';
import { canLose, movedMark, roundTo, stepOf, withoutMark } from './edit-marks';

/** Something of the drawn dial that can be taken hold of. Marks are numbered along the arc, as the editor keeps them. */
export type Grip =
  | { readonly kind: 'mark'; readonly index: number }
  | { readonly kind: 'zone'; readonly index: number; readonly end: 'fromReading' | 'toReading' };

export type PlacedGrip = {
  readonly grip: Grip;
  readonly fraction: number;
  readonly radius: number;
  readonly arcDegrees: number;
  /** Its spoken name, and where it is in words. */
  readonly words: string;
  readonly shown: string;
};

const MARK_RADIUS = 100;
const ZONE_RADIUS = 74;

const percent = (fraction: number): string => `${Math.round(1000 * fraction) / 10} % of the arc`;

const zoneGrips = (gauge: Gauge, arcDegrees: number): PlacedGrip[] =>
  (gauge.zones ?? []).flatMap((zone, index) =>
    (['fromReading', 'toReading'] as const).map((end) => {
      const fraction = fractionFromReading(gauge.marks, zone[end]) ?? 0;
      const name = end === 'fromReading' ? 'start' : 'end';
      return {
        grip: { kind: 'zone' as const, index, end },
        fraction,
        radius: ZONE_RADIUS,
        arcDegrees,
        words: `Zone ${index + 1}, ${name}`,
        shown: `${zone[end]} ${gauge.unit}`,
      };
    }),
  );

/** Everything that can be taken hold of, zones first so that a mark on top of one wins. */
export function gripsOf(gauge: Gauge): PlacedGrip[] {
  const arcDegrees = gauge.arcDegrees ?? USUAL_ARC_DEGREES;
  const marks = marksAlongArc(gauge.marks).map((mark, index) => ({
    grip: { kind: 'mark' as const, index },
    fraction: mark.angleFraction,
    radius: MARK_RADIUS,
    arcDegrees,
    words: `Mark ${index + 1}, printed ${mark.label}`,
    shown: percent(mark.angleFraction),
  }));
  return [...zoneGrips(gauge, arcDegrees), ...marks];
}

export const sameGrip = (one: Grip, other: Grip): boolean =>
  one.kind === other.kind &&
  one.index === other.index &&
  (one.kind === 'mark' || (other.kind === 'zone' && one.end === other.end));

/** The grip nearest to a point of the drawing, within reach. */
export function nearestGrip(grips: readonly PlacedGrip[], point: Point, reach: number): Grip | undefined {
  const near = grips
    .map((placed) => {
      const at = pointAt(placed.fraction, placed.arcDegrees, placed.radius);
      return { grip: placed.grip, away: Math.hypot(at.x - point.x, at.y - point.y) };
    })
    .filter(({ away }) => away <= reach)
    .sort((one, other) => one.away - other.away);
  return near[0]?.grip;
}

/** The gauge with a grip moved to a place on the arc; a zone's end takes the value the scale has there. */
export function moveGrip(gauge: Gauge, grip: Grip, fraction: number): Gauge {
  const marks: readonly Mark[] = marksAlongArc(gauge.marks);
  if (grip.kind === 'mark') return { ...gauge, marks: movedMark(marks, grip.index, fraction) };
  const reading = readingFromFraction(marks, Math.min(1, Math.max(0, fraction)));
  if (reading === undefined) return gauge;
  const zones = (gauge.zones ?? []).map((zone, index) =>
    index === grip.index ? { ...zone, [grip.end]: roundTo(reading, stepOf(marks)) } : zone,
  );
  return { ...gauge, zones };
}

/** The gauge without what the grip holds, and what is taken hold of next. A scale keeps its last two marks. */
export function removeGrip(
  gauge: Gauge,
  grip: Grip,
): { readonly gauge: Gauge; readonly next: Grip | undefined } {
  const marks = marksAlongArc(gauge.marks);
  if (grip.kind === 'zone') {
    const zones = (gauge.zones ?? []).filter((_, index) => index !== grip.index);
    return { gauge: { ...gauge, zones }, next: { kind: 'mark', index: marks.length - 1 } };
  }
  if (!canLose(marks)) return { gauge, next: grip };
  const left = withoutMark(marks, grip.index);
  return {
    gauge: { ...gauge, marks: left },
    next: { kind: 'mark', index: Math.min(grip.index, left.length - 1) },
  };
}
