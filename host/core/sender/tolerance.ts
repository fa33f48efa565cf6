import { type Refusal, refuse } from '../refusal';
import { senderOhmAt, senderValueAt } from './evaluate';
import type { FittedSender } from './sender';

/** What parts at the ends of a tolerance do at one true value. */
export type ToleranceBand = {
  readonly kind: 'tolerance-band';
  readonly value: number;
  readonly lowOhm: number;
  readonly highOhm: number;
  /** What the nominal curve makes of a part at the low end of its tolerance: the value a perfect gauge then shows. */
  readonly shownAtLowOhm: number;
  readonly shownAtHighOhm: number;
};

/**
 * Band of resistances of parts within a tolerance, and the error in value that goes with each end.
 * Source: R (1 +- tolerance) through the inverse of the law; 10 % of a thermistor is 3 to 4 K near 90 degC.
 * Refuses: a tolerance outside 0 to 90 percent (SENDER_TOLERANCE), SENDER_OUT_OF_RANGE.
 */
export function toleranceBand(
  sender: FittedSender,
  value: number,
  tolerancePercent: number,
): ToleranceBand | Refusal {
  if (!(tolerancePercent >= 0 && tolerancePercent <= 90)) {
    return refuse('SENDER_TOLERANCE', { tolerancePercent });
  }
  const nominal = senderOhmAt(sender, value);
  if (nominal.kind === 'refused') return nominal;
  const lowOhm = nominal.resistanceOhm * (1 - tolerancePercent / 100);
  const highOhm = nominal.resistanceOhm * (1 + tolerancePercent / 100);
  const shownAtLow = senderValueAt(sender, lowOhm);
  if (shownAtLow.kind === 'refused') return shownAtLow;
  const shownAtHigh = senderValueAt(sender, highOhm);
  if (shownAtHigh.kind === 'refused') return shownAtHigh;
  return {
    kind: 'tolerance-band',
    value,
    lowOhm,
    highOhm,
    shownAtLowOhm: shownAtLow.value,
    shownAtHighOhm: shownAtHigh.value,
  };
}
