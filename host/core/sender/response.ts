import type { SenderResponse } from '../response';
import type { Refusal } from '../refusal';
import { bareOhm, bareOhmUncertainty, bareValue, ohmRange } from './evaluate';
import type { FittedSender } from './sender';
import { unitChange } from '../units';

export type SenderResponseOptions = {
  /** Unit to speak in; the sender's own when not given. */
  readonly unit?: string | undefined;
  /** Spread of replacement senders to add, plus or minus percent (rectangular). */
  readonly tolerancePercent?: number | undefined;
};

/** An uncertainty larger than the thing itself says no more than "unknown". */
const LARGEST_RELATIVE_UNCERTAINTY = 1;

/**
 * A sender as the plain functions that networks are designed against. Both functions are held at the ends of the usable
 * range beyond it, so they are finite for every argument, 0 ohm and an open circuit included.
 * Source: `senderOhmAt`, `senderValueAt`. Refuses: a unit of another quantity (SENDER_UNIT).
 */
export function senderResponse(
  sender: FittedSender,
  options: SenderResponseOptions = {},
): SenderResponse | Refusal<'SENDER_UNIT'> {
  const unit = options.unit ?? sender.unit;
  const change = unitChange(sender.unit, unit);
  if (change.kind === 'refused') return change;
  const [lowOhm, highOhm] = ohmRange(sender);
  const outward = (value: number): number => change.factor * value + change.offset;
  const inward = (value: number): number =>
    clamp((value - change.offset) / change.factor, sender.usableFrom, sender.usableTo);
  const tolerance = (options.tolerancePercent ?? 0) / 100 / Math.sqrt(3);
  return {
    quantity: sender.quantity,
    unit,
    knownFrom: outward(sender.knownFrom),
    knownTo: outward(sender.knownTo),
    ohm: (value) => bareOhm(sender, inward(value)),
    value: (resistanceOhm) => outward(valueAtClamped(sender, clamp(resistanceOhm, lowOhm, highOhm))),
    relativeUncertainty: (value) => relativeUncertainty(sender, inward(value), tolerance),
  };
}

function relativeUncertainty(sender: FittedSender, value: number, tolerance: number): number {
  const resistanceOhm = bareOhm(sender, value);
  const share =
    resistanceOhm > 0 ? bareOhmUncertainty(sender, value) / resistanceOhm : LARGEST_RELATIVE_UNCERTAINTY;
  return Math.min(LARGEST_RELATIVE_UNCERTAINTY, Math.hypot(share, tolerance));
}

function valueAtClamped(sender: FittedSender, resistanceOhm: number): number {
  const found = bareValue(sender, resistanceOhm);
  if (found !== undefined) return clamp(found, sender.usableFrom, sender.usableTo);
  // Only rounding at an end of the range comes here.
  const [lowOhm, highOhm] = ohmRange(sender);
  const isNearLow = resistanceOhm - lowOhm < highOhm - resistanceOhm;
  return isNearLow === sender.risesWithValue ? sender.usableFrom : sender.usableTo;
}

/** NaN counts as the lower end: it must not travel on. */
const clamp = (value: number, low: number, high: number): number =>
  value > low ? Math.min(value, high) : low;
