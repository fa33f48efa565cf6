import { parallelOhm } from './ladder-tree';
import type { Network } from './topology';

/**
 * By how much a resistor across a two-terminal gauge multiplies what the gauge sees: 1 + Rg/Rx (dimensionless).
 * Source: current divider on a stiff feed, I_g = V / (Rg + m r); checked in network-law.test.ts against Ohm's law.
 */
export const gaugeShuntGain = (gaugeOhm: number, shuntOhm: number): number =>
  shuntOhm === Infinity ? 1 : 1 + gaugeOhm / shuntOhm;

const multiplied = (gain: number, ohm: number): number => (gain === Infinity ? Infinity : gain * ohm);

/**
 * Resistance the gauge behaves as if it saw, in ohm, with the network between it and a sender of `senderOhm`.
 * Parts and sender may be shorted (0) or open (Infinity). A shorted resistor across the gauge takes all the current:
 * the needle behaves as with an open sender.
 * Source: series, parallel and current-divider rules (written out for speed; equal to treeOhm in network-law.test.ts).
 */
export const seenOhm = (network: Network, senderOhm: number): number => {
  const { parts } = network;
  switch (network.topology) {
    case 'none':
      return senderOhm;
    case 'series':
      return senderOhm + parts[0]!.resistanceOhm;
    case 'shunt':
      return parallelOhm(senderOhm, parts[0]!.resistanceOhm);
    case 'shunt-then-series':
      return parts[0]!.resistanceOhm + parallelOhm(senderOhm, parts[1]!.resistanceOhm);
    case 'series-then-shunt':
      return parallelOhm(senderOhm + parts[0]!.resistanceOhm, parts[1]!.resistanceOhm);
    case 'three-resistor':
      return (
        parts[0]!.resistanceOhm + parallelOhm(senderOhm + parts[2]!.resistanceOhm, parts[1]!.resistanceOhm)
      );
    case 'gauge-shunt':
      return multiplied(
        gaugeShuntGain(network.gaugeOhm ?? 0, parts[0]!.resistanceOhm),
        senderOhm + (parts[1]?.resistanceOhm ?? 0),
      );
  }
};

/** Resistance between feed and sender terminal: the gauge itself, with the resistor across it if there is one, ohm. */
export const gaugeBranchOhm = (network: Network, gaugeOhm: number): number =>
  network.topology === 'gauge-shunt'
    ? parallelOhm(gaugeOhm, network.parts[0]?.resistanceOhm ?? Infinity)
    : gaugeOhm;
