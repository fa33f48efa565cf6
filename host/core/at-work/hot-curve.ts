import type { SenderResponse } from '../response';
import { unitChange } from '../units';

/**
 * A temperature sender's resistance over its own temperature, sampled once so that a search can ask for it a million
 * times. Everything is in dial units; `perKelvin` dial units are one kelvin.
 */
export type HotCurve = {
  readonly from: number;
  readonly step: number;
  readonly perKelvin: number;
  /** ln of the resistance at `from + k step`. */
  readonly logOhm: Float64Array;
  /** How far above each place the sender may be heated before kappa = |alpha| rise reaches 1, dial units. */
  readonly furthest: Float64Array;
};

/** Fine enough that straight lines in ln R between the samples are good to 2e-6 of an NTC's resistance (B/T^3 h^2/4). */
const STEP_KELVIN = 0.25;
/** Beyond the band the sender is followed as far as this: an NTC runs away at about 33 K of its own heat. */
const REACH_KELVIN = 120;
/** Where a curve ends it is carried on by its slope over this stretch: held level, the sender would seem to stop heating. */
const SLOPE_KELVIN = 5;

/** Index of the last sample that still moves; beyond it the response is only held at the end of what is known. */
const lastMoving = (logOhm: Float64Array): number => {
  let last = logOhm.length - 1;
  while (last > 0 && logOhm[last] === logOhm[last - 1]) last -= 1;
  return last;
};

/** Carries on a curve that is held level past its end. In place. */
const carryOn = (logOhm: Float64Array): void => {
  const last = lastMoving(logOhm);
  const back = Math.min(last, Math.round(SLOPE_KELVIN / STEP_KELVIN));
  if (back === 0) return;
  const slope = (logOhm[last]! - logOhm[last - back]!) / back;
  for (let index = last + 1; index < logOhm.length; index += 1)
    logOhm[index] = logOhm[last]! + slope * (index - last);
};

/** First rise at which kappa reaches 1, from each sample. */
const furthestRises = (logOhm: Float64Array, step: number): Float64Array => {
  const pieces = logOhm.length - 1;
  return logOhm.map((_, from) => {
    for (let piece = from; piece < pieces; piece += 1) {
      const perStep = Math.abs(logOhm[piece + 1]! - logOhm[piece]!);
      if (perStep * (piece + 1 - from) >= 1) return step * Math.max(piece - from, 1 / perStep);
    }
    return step * (pieces - from);
  });
};

/**
 * The sampled curve over a band of true values; undefined for a sender that is no temperature sender, or whose
 * resistance is not above nothing: sliders and wire-wound senders warm too little to count (common practice, no source).
 */
export const hotCurveOf = (
  sender: SenderResponse,
  band: { readonly from: number; readonly to: number },
): HotCurve | undefined => {
  const change = unitChange('degC', sender.unit);
  if (sender.quantity !== 'temperature' || change.kind === 'refused') return undefined;
  const step = STEP_KELVIN * change.factor;
  const count = Math.ceil((band.to - band.from + REACH_KELVIN * change.factor) / step) + 1;
  const logOhm = Float64Array.from({ length: count }, (_, index) =>
    Math.log(sender.ohm(band.from + index * step)),
  );
  if (!logOhm.every(Number.isFinite)) return undefined;
  carryOn(logOhm);
  return {
    from: band.from,
    step,
    perKelvin: change.factor,
    logOhm,
    furthest: furthestRises(logOhm, step),
  };
};

/** Index of the piece that holds a value: the ends hold what lies beyond. */
export const pieceAt = ({ from, step, logOhm }: HotCurve, value: number): number =>
  Math.max(0, Math.min(logOhm.length - 2, Math.floor((value - from) / step)));

/** ln of the resistance at the sender's own temperature, straight between samples. */
export const logOhmAt = (curve: HotCurve, value: number): number => {
  const piece = pieceAt(curve, value);
  const share = (value - curve.from) / curve.step - piece;
  return curve.logOhm[piece]! + share * (curve.logOhm[piece + 1]! - curve.logOhm[piece]!);
};

/** How far above a value the sender may be heated, dial units. */
export const furthestFrom = (curve: HotCurve, value: number): number => {
  const piece = pieceAt(curve, value);
  return Math.min(curve.furthest[piece]!, curve.furthest[piece + 1]!);
};
