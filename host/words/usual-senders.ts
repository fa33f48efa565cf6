import type { UsualFit } from '../core/network';
import type { Quantity } from '../core/response';
import type { Notation } from './notation';

/** Said once wherever usual senders are shown. */
export const USUAL_SENDERS_REST_ON =
  'Usual kinds, by common practice: no two makes are quite alike, so measure yours.';

/** A kind is named by its ohms: "240 to 33 ohm", a thermistor by those of its hot end: "55 ohm at 100 degC". */
export const usualSenderName = (
  { low, high }: UsualFit,
  quantity: Quantity,
  unit: string,
  say: Notation,
): string =>
  quantity === 'temperature'
    ? `${say.ohm(high.ohm)} at ${say.of(Math.round(high.at), unit)}`
    : say.ohms(low.ohm, high.ohm);

/** Half a degree, half a litre: an estimate is not told finer than whole steps of about a hundredth of the scale. */
const whole = (size: number, span: number): number => {
  const step = 10 ** Math.floor(Math.log10(span / 20));
  return Number((Math.round(size / step) * step).toPrecision(3));
};

/** What the gauge would show with it: "would read 13 to 25 degC high". `span`: the scale from end to end. */
export function usualSenderSays(fit: UsualFit, span: number, unit: string, say: Notation): string {
  if (fit.isReversed) return 'runs the other way';
  const [low, high] = [whole(fit.lowestError, span), whole(fit.highestError, span)];
  const worst = Math.max(-low, high);
  if (worst === 0) return 'would read right';
  if (low <= 0 && high >= 0 && Math.abs(low + high) <= worst)
    return `would read within ${say.of(worst, unit)}`;
  if (low >= 0) return `would read ${between(low, high, unit, say)} high`;
  if (high <= 0) return `would read ${between(-high, -low, unit, say)} low`;
  return `would read ${say.number(-low)} low to ${say.of(high, unit)} high`;
}

const between = (least: number, most: number, unit: string, say: Notation): string =>
  least === most ? say.of(most, unit) : say.range(least, most, unit);
