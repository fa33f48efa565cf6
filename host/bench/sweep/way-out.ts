import type { Gauge, Sweep } from '../../job';
import type { Refused } from '../../core/result';
import { boxKindOf } from '../rules';

/**
 * The box's refusal of a setting, and what a person can do about it. On the battery pulses of a stabiliser the low-ohm end
 * of a thermal gauge's dial carries most; a tank's gauge goes down there only as far as its own sender is said to go.
 */
export const withWayOut = (
  { code, message }: Pick<Refused, 'code' | 'message'>,
  { originalLeastOhm }: Pick<Sweep, 'originalLeastOhm'>,
  gauge: Gauge,
): string => {
  if (code !== 'PREDICTED_CURRENT' || gauge.mechanism !== 'thermal') return message;
  return boxKindOf(gauge) === 'fuel' && originalLeastOhm === undefined
    ? `${message}; say what the vehicle's own sender has at both ends of the dial, then start the sweep again: a fuel gauge is never given more than its own circuit carries`
    : `${message}; until then the low-ohm end of this dial is out of reach`;
};
