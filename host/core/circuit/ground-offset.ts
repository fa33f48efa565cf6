import { refuse } from '../result';
import type { Refused } from '../result';

/**
 * What a lifted ground looks like to a two-terminal gauge: extra ohms in the sender lead,
 * dr = V_off (Rg + r) / (V - V_off). `offsetVolt` is the sender's ground above the supply's return.
 * Source: equal current, V - V_off over Rg + r. Refuses: an offset as large as the supply (OFFSET).
 */
export const twoTerminalOffsetOhm = (
  offsetVolt: number,
  circuit: { readonly supplyVolt: number; readonly gaugeOhm: number; readonly senderOhm: number },
): { readonly kind: 'ohm'; readonly ohm: number } | Refused<'OFFSET'> =>
  offsetVolt < circuit.supplyVolt
    ? {
        kind: 'ohm',
        ohm: (offsetVolt * (circuit.gaugeOhm + circuit.senderOhm)) / (circuit.supplyVolt - offsetVolt),
      }
    : refuse('OFFSET', `an offset of ${offsetVolt} V leaves nothing of a supply of ${circuit.supplyVolt} V`);

/**
 * The sender resistance that a two-coil gauge seems to see while its own ground is lifted by `offsetVolt` above the
 * sender's (negative: the sender's ground is the higher one), ohm.
 * Source: node equation of the sender terminal with two different grounds; published effect, needle up with the lights.
 * Refuses: an offset that leaves no deflection at all (OFFSET).
 */
export const twoCoilOffsetOhm = (
  offsetVolt: number,
  circuit: {
    readonly supplyVolt: number;
    readonly limitingOhm: number;
    readonly operatingOhm: number;
    readonly senderOhm: number;
  },
): { readonly kind: 'ohm'; readonly ohm: number } | Refused<'OFFSET'> => {
  const { supplyVolt, limitingOhm, operatingOhm, senderOhm } = circuit;
  const siemens = 1 / limitingOhm + 1 / operatingOhm + 1 / senderOhm;
  const nodeVolt = (supplyVolt / limitingOhm + offsetVolt / operatingOhm) / siemens;
  const ratio = (nodeVolt - offsetVolt) / operatingOhm / ((supplyVolt - nodeVolt) / limitingOhm);
  return ratio >= 0 && ratio < 1
    ? { kind: 'ohm', ohm: (operatingOhm * ratio) / (1 - ratio) }
    : refuse(
        'OFFSET',
        `an offset of ${offsetVolt} V drives the needle past its stop: no sender looks like that`,
      );
};
