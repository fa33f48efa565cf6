import type { Mechanism } from '../curve';
import type { SharedOhms } from '../ohmmeter';
import { feedLawOf } from './neighbours';

/** A reading beside other gauges on one feed: ohm and milliampere. */
export type BesideNeighbours = {
  readonly resistanceOhm: number;
  readonly currentMilliamp?: number | undefined;
  readonly neighbours?:
    | readonly {
        readonly resistanceOhm: number;
        readonly milliamp?: number | undefined;
        /** At most, as a test found it; absent: nobody tested. */
        readonly commonOhm?: number | undefined;
      }[]
    | undefined;
};

/** What gauges on one feed may have in common where nobody has tested it. Common practice, no source. */
export const UNTESTED_OHM = 1;

const MILLI = 1_000;

/** Volts and ohms behind the terminal, from the readings' own currents. Source: Ohm, 1/I = (R + Rg) / V, a straight line. */
function sourceOf(
  readings: readonly BesideNeighbours[],
): { readonly volt: number; readonly ohm: number } | undefined {
  const points = readings.flatMap(({ resistanceOhm, currentMilliamp = 0 }) =>
    currentMilliamp > 0 ? [{ x: resistanceOhm, y: MILLI / currentMilliamp }] : [],
  );
  const mean = (of: (point: { x: number; y: number }) => number): number =>
    points.reduce((sum, point) => sum + of(point), 0) / points.length;
  const [x, y] = [mean((point) => point.x), mean((point) => point.y)];
  const slope = mean((point) => (point.x - x) * (point.y - y)) / mean((point) => (point.x - x) ** 2);
  const ohm = y / slope - x;
  return slope > 0 && Number.isFinite(ohm) ? { volt: 1 / slope, ohm: Math.max(0, ohm) } : undefined;
}

/**
 * What the neighbours leave unknown of a gauge's resistances, standard uncertainty: relative and in ohm. What they drew
 * through the ohms in common went from least to most while this gauge was read, so its feed was off the middle of that by
 * at most half of it, any value as likely: a part p of the volts. A series circuit that needs the same current then sees
 * p (R + Rg) more or less. Undefined where the neighbours did not change, where the mechanism goes by a ratio, and where
 * no current was measured. Source: Ohm; GUM 4.3.7; the readings share it, for all gauges go along their arcs together.
 */
export function neighbourOhms(
  mechanism: Mechanism,
  readings: readonly BesideNeighbours[],
): SharedOhms | undefined {
  const beside = readings.filter(({ neighbours }) => neighbours !== undefined);
  const source = sourceOf(readings);
  if (feedLawOf(mechanism) === 'ratio' || beside.length === 0 || source === undefined) return undefined;
  const dropped = beside.map(({ neighbours = [] }) =>
    neighbours.reduce((sum, { resistanceOhm, milliamp, commonOhm = UNTESTED_OHM }) => {
      // Where its current is not known it is taken for a gauge like this one.
      const amp = milliamp === undefined ? source.volt / (source.ohm + resistanceOhm) : milliamp / MILLI;
      return sum + commonOhm * Math.abs(amp);
    }, 0),
  );
  const half = (Math.max(...dropped) - Math.min(...dropped)) / 2;
  if (!(half > 0)) return undefined;
  const part = half / source.volt / Math.sqrt(3);
  // Taken together as a root sum of squares, though they go together: root two on the safe side.
  return { relative: Math.SQRT2 * part, absoluteOhm: Math.SQRT2 * part * source.ohm };
}
