import type { JSX } from 'preact';
import {
  arcPath,
  fixed,
  fractionFromReading,
  minorFractions,
  pointAt,
  type DialFace,
  type Point,
} from './dial-geometry';
import { shownUnit } from '../parts/words';

const SCALE_RADIUS = 100;
const ZONE_RADIUS = 95;
const MAJOR_INNER = 84;
const MINOR_INNER = 92;
/** Outside the scale: numerals stand clear of the needle, and an uneven scale has more room there. */
const LABEL_RADIUS = 114;
const OUTER_RADIUS = 124;
const MINOR_PARTS = 5;
const MARGIN = 8;

/** The rectangle that holds the scale, the pivot and their margins, whatever the width of the arc. */
export function plateBox(arcDegrees: number): { x: number; y: number; width: number; height: number } {
  const isWide = arcDegrees > 180;
  const end = pointAt(1, arcDegrees, OUTER_RADIUS);
  const halfWidth = (isWide ? OUTER_RADIUS : end.x) + MARGIN;
  const bottom = Math.max(end.y, 12) + MARGIN;
  return {
    x: -halfWidth,
    y: -OUTER_RADIUS - MARGIN,
    width: 2 * halfWidth,
    height: OUTER_RADIUS + MARGIN + bottom,
  };
}

type Tick = { readonly from: Point; readonly to: Point };

const tickAt = (fraction: number, arcDegrees: number, inner: number): Tick => ({
  from: pointAt(fraction, arcDegrees, inner),
  to: pointAt(fraction, arcDegrees, SCALE_RADIUS),
});

const Line = ({ tick, kind }: { tick: Tick; kind: string }): JSX.Element => (
  <line
    class={kind}
    x1={fixed(tick.from.x)}
    y1={fixed(tick.from.y)}
    x2={fixed(tick.to.x)}
    y2={fixed(tick.to.y)}
  />
);

/** Everything engraved: zones, arc, graduations, numbers, unit. It never moves, so it is drawn once a face. */
export function DialPlate({ face }: { face: DialFace }): JSX.Element {
  const { arcDegrees, marks } = face;
  return (
    <g aria-hidden="true">
      {face.zones.map((zone) => {
        const ends = [zone.fromReading, zone.toReading].map(
          (reading) => fractionFromReading(marks, reading) ?? 0,
        );
        const path = arcPath(Math.min(...ends), Math.max(...ends), arcDegrees, ZONE_RADIUS);
        return <path key={zone.fromReading} class={`zone zone-${zone.meaning}`} d={path} />;
      })}
      <path class="scale-arc" d={arcPath(0, 1, arcDegrees, SCALE_RADIUS)} />
      {minorFractions(marks, MINOR_PARTS).map((fraction) => (
        <Line key={fraction} kind="minor" tick={tickAt(fraction, arcDegrees, MINOR_INNER)} />
      ))}
      {marks.map((mark) => (
        <Line
          key={mark.angleFraction}
          kind="major"
          tick={tickAt(mark.angleFraction, arcDegrees, MAJOR_INNER)}
        />
      ))}
      {marks.map((mark) => {
        const at = pointAt(mark.angleFraction, arcDegrees, LABEL_RADIUS);
        return (
          <text key={mark.angleFraction} class="numeral" x={fixed(at.x)} y={fixed(at.y)}>
            {mark.label}
          </text>
        );
      })}
      <text class="unit" x="46" y="-8">
        {shownUnit(face.unit)}
      </text>
    </g>
  );
}
