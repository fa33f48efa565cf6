import { refuse } from '../refusal';
import type { Refusal } from '../refusal';

type Ohm = { readonly kind: 'ohm'; readonly ohm: number };

/**
 * What a lifted ground looks like to a two-terminal gauge: extra ohms in the sender lead,
 * dr = V_off (Rg + r) / (V - V_off). `offsetVolt` is the sender's ground above the supply's return; negative: fewer ohms.
 * Source: equal current, V - V_off over Rg + r. Refuses: an offset as large as the supply, a supply that is not above
 * 0 V, resistances below zero (OFFSET).
 */
export const twoTerminalOffsetOhm = (
  offsetVolt: number,
  circuit: { readonly supplyVolt: number; readonly gaugeOhm: number; readonly senderOhm: number },
): Ohm | Refusal<'OFFSET'> => {
  const { supplyVolt, gaugeOhm, senderOhm } = circuit;
  const ohm = (offsetVolt * (gaugeOhm + senderOhm)) / (supplyVolt - offsetVolt);
  if (!(supplyVolt > 0 && gaugeOhm >= 0 && senderOhm >= 0))
    return refuse('OFFSET', { wrong: 'circuit', supplyVolt, senderOhm });
  return offsetVolt < supplyVolt && Number.isFinite(ohm)
    ? { kind: 'ohm', ohm }
    : refuse('OFFSET', { wrong: 'offset', offsetVolt, supplyVolt });
};

/**
 * The sender resistance that a two-coil gauge seems to see while its own ground is lifted by `offsetVolt` above the
 * sender's (negative: the sender's ground is the higher one), ohm.
 * Source: node equation of the sender terminal with two different grounds; published effect, needle up with the lights.
 * Refuses: an offset that leaves no deflection at all, a supply that is not above 0 V, coils that are not above 0 ohm, a
 * sender below 0 ohm (OFFSET).
 */
export const twoCoilOffsetOhm = (
  offsetVolt: number,
  circuit: {
    readonly supplyVolt: number;
    readonly limitingOhm: number;
    readonly operatingOhm: number;
    readonly senderOhm: number;
  },
): Ohm | Refusal<'OFFSET'> => {
  const { supplyVolt, limitingOhm, operatingOhm, senderOhm } = circuit;
  if (!(supplyVolt > 0 && limitingOhm > 0 && operatingOhm > 0 && senderOhm >= 0))
    return refuse('OFFSET', { wrong: 'circuit', supplyVolt, senderOhm });
  const siemens = 1 / limitingOhm + 1 / operatingOhm + 1 / senderOhm;
  const nodeVolt = (supplyVolt / limitingOhm + offsetVolt / operatingOhm) / siemens;
  const ratio = (nodeVolt - offsetVolt) / operatingOhm / ((supplyVolt - nodeVolt) / limitingOhm);
  const ohm = (operatingOhm * ratio) / (1 - ratio);
  return ratio >= 0 && ratio < 1 && Number.isFinite(ohm)
    ? { kind: 'ohm', ohm }
    : refuse('OFFSET', { wrong: 'offset', offsetVolt, supplyVolt });
};
