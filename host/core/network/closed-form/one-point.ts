import type { Answer } from './answer';
import { answerWith, meets, negativePart } from './answer';
import type { Pair } from './pair';
import type { Network } from './topology';
import { networkOf } from './topology';

/** Resistor in series with the sender for one point: R - r. Refuses NEGATIVE_PART when less than the sender is wanted. */
export const seriesForOnePoint = ({ senderOhm, wantedOhm }: Pair): Answer =>
  wantedOhm < senderOhm
    ? negativePart({ part: 'series', partOhm: wantedOhm - senderOhm, senderOhm, wantedOhm })
    : answerWith('series', [wantedOhm - senderOhm]);

/**
 * Shunt for one point: r R / (r - R), nothing when they are equal. Refuses NEGATIVE_PART when more than the sender, or
 * 0 ohm, is wanted.
 */
export const shuntForOnePoint = ({ senderOhm, wantedOhm }: Pair): Answer => {
  if (wantedOhm === senderOhm) return answerWith('none', []);
  const shuntOhm = (senderOhm * wantedOhm) / (senderOhm - wantedOhm);
  return shuntOhm > 0
    ? answerWith('shunt', [shuntOhm])
    : negativePart({ part: 'shunt', partOhm: shuntOhm, senderOhm, wantedOhm });
};

/**
 * Nothing, a series resistor or a shunt, if one of them meets every pair: simpler than the limit of a larger network,
 * and the larger closed forms are singular there. `pairs` is sorted by falling sender resistance.
 */
export const simplestNetwork = (pairs: readonly Pair[]): Network | undefined => {
  const { senderOhm, wantedOhm } = pairs[0]!;
  const none = networkOf('none', []);
  if (meets(none, pairs)) return none;
  const change = wantedOhm - senderOhm;
  if (change === 0) return undefined;
  const network =
    change > 0 ? networkOf('series', [change]) : networkOf('shunt', [(senderOhm * wantedOhm) / -change]);
  return meets(network, pairs) && network.parts.every((part) => part.resistanceOhm > 0) ? network : undefined;
};
