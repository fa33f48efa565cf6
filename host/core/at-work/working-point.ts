import { furthestFrom, logOhmAt, pieceAt } from './hot-curve';
import type { HotCurve } from './hot-curve';
import type { LeadSource } from './source';

/** A sender at one true value: the value and what an ohmmeter would find there. */
export type Place = { readonly value: number; readonly coldOhm: number };

/** A place with what the curve says of it: ln of its ohms, and how far the sender may be heated above it. */
export type Anchor = Place & { readonly logOhm: number; readonly furthest: number };

export const anchorAt = (curve: HotCurve, { value, coldOhm }: Place): Anchor => ({
  value,
  coldOhm,
  logOhm: logOhmAt(curve, value),
  furthest: furthestFrom(curve, value),
});

/**
 * What drives a sender of r ohm, as three numbers: P = drive^2 r / (own + shared r)^2. A source of V behind R is
 * (R, 1, V); a gauge current I that a shunt p shares is (1 + b/p, 1/p, I), with b in series with the sender.
 */
export type Drive = { readonly own: number; readonly shared: number; readonly drive: number };

export const driveOf = ({ volt, ohm }: LeadSource): Drive => ({ own: ohm, shared: 1, drive: volt });

const MOST_STEPS = 60;
/** A step of Newton as small as this, relative, leaves an error of its square, and of 1e-11 across a kink of the curve. */
const CLOSE = 1e-9;

/**
 * By how much the sender is warmer than its surroundings, dial units; Infinity where that would be beyond kappa = 1.
 * Fixed point x = P(r(T + x)) / delta, by Newton inside a bracket; where kappa < 1 there is no more than one.
 * Source: definition of the dissipation factor (IEC 60539-1); d ln v / d ln x = (1 - kappa) / 2 along the sender's own
 * static curve, so it rises there.
 */
export const riseAt = (curve: HotCurve, anchor: Anchor, drive: Drive, wattPerUnit: number): number => {
  const { value, coldOhm, logOhm: start } = anchor;
  const { own, shared } = drive;
  const factor = (drive.drive * drive.drive) / wattPerUnit;
  let low = 0;
  let high = anchor.furthest;
  // The first guess: as if the resistance did not change.
  let rise = Math.min((factor * coldOhm) / (own + shared * coldOhm) ** 2, high);
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const piece = pieceAt(curve, value + rise);
    const slope = (curve.logOhm[piece + 1]! - curve.logOhm[piece]!) / curve.step;
    const inside = value + rise - curve.from - piece * curve.step;
    const ohm = coldOhm * Math.exp(curve.logOhm[piece]! + inside * slope - start);
    const loop = own + shared * ohm;
    const heat = (factor * ohm) / (loop * loop);
    const excess = rise - heat;
    if (excess < 0) low = rise;
    else high = rise;
    if (low >= high && excess < 0) return Infinity;
    const next = rise - excess / (1 - (heat * slope * (own - shared * ohm)) / loop);
    const bounded = next > low && next < high ? next : next >= high && low === rise ? high : (low + high) / 2;
    if (Math.abs(bounded - rise) <= CLOSE * (rise + 1e-3)) return bounded;
    rise = bounded;
  }
  return rise;
};

/** The sender's resistance at that rise. Beyond kappa = 1 it is given as hot as it can be followed. */
export const ohmAtRise = (curve: HotCurve, anchor: Anchor, rise: number): number => {
  const at = anchor.value + Math.min(rise, anchor.furthest);
  return anchor.coldOhm * Math.exp(logOhmAt(curve, at) - anchor.logOhm);
};

/** Where a sender would run away: the true value, and the watts in it beyond which there is no steady state. */
export type RunAway = { readonly value: number; readonly watt: number };

/** True when the working point is the only one: past it the sender sheds more than the source gives, however hot. */
const isAlone = (curve: HotCurve, place: Anchor, drive: Drive, wattPerUnit: number): boolean => {
  const rise = riseAt(curve, place, drive, wattPerUnit);
  if (rise === Infinity) return false;
  const factor = (drive.drive * drive.drive) / wattPerUnit;
  for (let node = pieceAt(curve, place.value + rise) + 1; node < curve.logOhm.length; node += 1) {
    const above = curve.from + node * curve.step - place.value;
    const ohm = place.coldOhm * Math.exp(curve.logOhm[node]! - place.logOhm);
    if (above > rise && !(above > (factor * ohm) / (drive.own + drive.shared * ohm) ** 2)) return false;
  }
  return true;
};

/**
 * First place at which a source gives the sender no steady state, or more than one; undefined when every place has
 * exactly one with kappa < 1. Any network that takes power away (resistors in the lead, from the lead to ground) keeps
 * both: its load line lies below this source's, and the sender's own curve rises up to the point found here and lies
 * above the line beyond it. Source: geometry of a load line and a one-port's static curve, derived here.
 */
export const runAwayAt = (
  curve: HotCurve,
  places: readonly Place[],
  source: LeadSource,
  wattPerUnit: number,
): RunAway | undefined => {
  const drive = driveOf(source);
  const place = places.find((each) => !isAlone(curve, anchorAt(curve, each), drive, wattPerUnit));
  return place && { value: place.value, watt: wattPerUnit * furthestFrom(curve, place.value) };
};
