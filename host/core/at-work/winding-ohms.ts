import type { Mechanism } from '../curve';
import type { SharedOhms } from '../ohmmeter';
import { medianOf } from '../numeric/median';

/** A reading with the current that the box measured at it, ohm and mA. */
export type WithCurrent = {
  readonly resistanceOhm: number;
  readonly currentMilliamp?: number | undefined;
};

/** Two of them give a line and nothing beside it. */
const FEWEST = 4;
const MILLI = 1_000;
/** The median of what lies off, as a standard deviation. Source: Gauss, 1 / 0.6745. */
const FROM_MEDIAN = 1.4826;

/** By how much the gauge's own ohms were off a middle at each reading. Source: Ohm, V / I = R + Rg, a straight line of slope one. */
function offsOhm(readings: readonly WithCurrent[]): readonly number[] {
  const points = readings.flatMap(({ resistanceOhm, currentMilliamp = 0 }) =>
    currentMilliamp > 0 ? [{ ohm: resistanceOhm, perAmp: MILLI / currentMilliamp }] : [],
  );
  if (points.length < FEWEST) return [];
  // A current that was not of its reading turns no median. Source: Theil, Sen.
  const slopes = points.flatMap((one, at) =>
    points
      .slice(at + 1)
      .flatMap((other) =>
        other.ohm === one.ohm ? [] : [(other.perAmp - one.perAmp) / (other.ohm - one.ohm)],
      ),
  );
  const perVolt = medianOf(slopes);
  if (perVolt === undefined || !(perVolt > 0)) return [];
  const sources = points.map(({ ohm, perAmp }) => perAmp / perVolt - ohm);
  const middle = medianOf(sources) ?? 0;
  return sources.map((ohm) => ohm - middle);
}

/**
 * What the warmth of a coil leaves unknown of its gauge's resistances, standard uncertainty in ohm; undefined where no
 * coil in series with the sender is known, or too few currents were measured. A copper winding takes minutes to become as
 * warm as its current makes it; the needle is read sooner, colder on the way up and warmer on the way down than it would
 * settle in a vehicle. In a series circuit an ohm more of the winding is an ohm less of the sender, and the box sees both
 * in its own current. The readings share it. Source: Ohm; copper's 0.39 % a kelvin.
 */
export function windingOhms(mechanism: Mechanism, readings: readonly WithCurrent[]): SharedOhms | undefined {
  if (mechanism !== 'moving-coil') return undefined;
  const off = medianOf(offsOhm(readings).map(Math.abs));
  return off === undefined || off === 0 ? undefined : { relative: 0, absoluteOhm: FROM_MEDIAN * off };
}
