import { placeOf, readingOf } from '../../dial';
import { monotoneRoot } from '../../numeric/monotone-root';
import { lawReading } from '../laws/law-model';
import type { CurveModel, GaugeCurve } from '../types';

/** How far beyond the measured resistances a mark is looked for, as a factor. */
const SEARCH_FACTOR = 50;

/**
 * Reading of the needle at a resistance (>= 0; Infinity is an open circuit), midway between the legs: flat in a plateau,
 * resting at the stops. Source: the chosen law of the curve.
 */
export const needleAt = (curve: GaugeCurve, resistanceOhm: number): number =>
  modelReading(curve.model, resistanceOhm);

/** As `needleAt`, on the model alone. Source: as there. */
export const modelReading = (model: CurveModel, ohm: number): number =>
  readingOf(model.dial, modelPlace(model, ohm));

/** The same as a place of the needle. Source: as there. */
export function modelPlace(model: CurveModel, ohm: number): number {
  const plateau = model.plateaus.find(({ fromOhm, toOhm }) => ohm >= fromOhm && ohm <= toOhm);
  const free = plateau === undefined ? lawReading(model.chosen, withinReach(model, ohm)) : plateau.reading;
  return Math.min(Math.max(free, model.lowestReading), model.highestReading);
}

export type OhmAnswer =
  | { readonly kind: 'one'; readonly resistanceOhm: number }
  /** The needle does not move between these: any resistance in between gives the reading. */
  | { readonly kind: 'interval'; readonly fromOhm: number; readonly toOhm: number }
  /** The curve does not reach this reading. */
  | { readonly kind: 'unreachable' };

/**
 * Resistance that puts the needle on a reading. In a plateau the answer is an interval; beyond the stops there is none.
 * Source: inverse of `needleAt`.
 */
export const ohmAt = ({ model }: GaugeCurve, reading: number): OhmAnswer =>
  placeOhm(model, placeOf(model.dial, reading));

/** As `ohmAt`, for a place of the needle; `tolerance` is how near a plateau's place counts as on it. Source: as there. */
export function placeOhm(model: CurveModel, place: number, tolerance = 0): OhmAnswer {
  const plateau = model.plateaus.find((one) => Math.abs(one.reading - place) <= tolerance);
  if (plateau !== undefined) return { kind: 'interval', fromOhm: plateau.fromOhm, toOhm: plateau.toOhm };
  const ohm = lawOhm(model, place);
  return ohm === undefined ? { kind: 'unreachable' } : { kind: 'one', resistanceOhm: ohm };
}

/** Resistance at which the law itself, stops not regarded, puts the needle on a place. Source: inverse by bracketing. */
export function lawOhm(model: CurveModel, place: number): number | undefined {
  const low = model.measuredFromOhm / SEARCH_FACTOR;
  const high = model.measuredToOhm * SEARCH_FACTOR;
  const reach = monotoneRoot((ohm) => lawReading(model.chosen, ohm), {
    from: model.measuredFromOhm,
    to: model.measuredToOhm,
    target: place,
    relativeWidth: 1e-13,
  });
  if (reach !== undefined) return reach;
  const isAbove = lawReading(model.chosen, model.measuredToOhm) < place === model.risesWithResistance;
  return monotoneRoot((ohm) => lawReading(model.chosen, ohm), {
    from: isAbove ? model.measuredToOhm : low > 0 ? lowestOhm(model, low) : 0,
    to: isAbove ? high : model.measuredFromOhm,
    target: place,
    relativeWidth: 1e-13,
  });
}

/** A law in ln R goes on for ever towards a short; it is not followed further than the search. */
const lowestOhm = (model: CurveModel, low: number): number => (model.chosen.form === 'shape' ? 0 : low);

const withinReach = (model: CurveModel, ohm: number): number => {
  const lowest = model.chosen.form === 'shape' ? 0 : model.measuredFromOhm / SEARCH_FACTOR;
  return Math.min(Math.max(ohm, lowest), Math.max(model.measuredToOhm, 1e-3) * SEARCH_FACTOR ** 2);
};
