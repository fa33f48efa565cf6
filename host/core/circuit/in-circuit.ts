import { refuse } from '../refusal';
import type { Refusal } from '../refusal';

/**
 * Sender resistance without unplugging, from the voltage at its stud: r = Rg Vs / (V - Vs), ohm. Two-terminal gauges on
 * steady DC only; with a chopping stabiliser both voltages must be sampled together; never on three-terminal gauges.
 * Source: series circuit. Refuses: a stud voltage that is not between ground and supply, a gauge that is
 * not above 0 ohm (IN_CIRCUIT).
 */
export const inCircuitSenderOhm = (
  studVolt: number,
  supplyVolt: number,
  gaugeOhm: number,
): { readonly kind: 'ohm'; readonly ohm: number } | Refusal<'IN_CIRCUIT'> => {
  const ohm = (gaugeOhm * studVolt) / (supplyVolt - studVolt);
  if (!(gaugeOhm > 0 && gaugeOhm < Infinity)) return refuse('IN_CIRCUIT', { gaugeOhm });
  return studVolt >= 0 && studVolt < supplyVolt && Number.isFinite(ohm)
    ? { kind: 'ohm', ohm }
    : refuse('IN_CIRCUIT', { studVolt, supplyVolt });
};
