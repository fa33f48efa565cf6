import { refuse } from '../result';
import type { Refused } from '../result';

/**
 * Sender resistance without unplugging, from the voltage at its stud: r = Rg Vs / (V - Vs), ohm. Two-terminal gauges on
 * steady DC only; with a chopping stabiliser both voltages must be sampled together; never on three-terminal gauges.
 * Source: series circuit. Refuses: a stud voltage that is not between ground and supply (IN_CIRCUIT).
 */
export const inCircuitSenderOhm = (
  studVolt: number,
  supplyVolt: number,
  gaugeOhm: number,
): { readonly kind: 'ohm'; readonly ohm: number } | Refused<'IN_CIRCUIT'> =>
  studVolt >= 0 && studVolt < supplyVolt && gaugeOhm > 0
    ? { kind: 'ohm', ohm: (gaugeOhm * studVolt) / (supplyVolt - studVolt) }
    : refuse(
        'IN_CIRCUIT',
        `${studVolt} V at the sender with ${supplyVolt} V at the gauge: the sender is open, or the wire, or the meter is on the wrong side`,
      );
