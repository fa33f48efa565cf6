import { powerShares, treeOf, treeOhm } from '../closed-form/ladder-tree';
import { gaugeBranchOhm } from '../closed-form/network-law';
import type { Network } from '../closed-form/topology';

/** Watts in each part and in the sender, and the sender's current, in one state of the circuit. */
export type Powers = {
  readonly parts: readonly number[];
  readonly senderWatt: number;
  readonly senderMilliamp: number;
};

/** What feeds the network: a voltage behind the gauge's resistance. */
export type Feed = { readonly supplyVolt: number; readonly gaugeOhm: number };

const wattsAround = (totalOhm: number, feed: Feed, branchOhm: number): number =>
  totalOhm === Infinity ? 0 : (feed.supplyVolt / (branchOhm + totalOhm)) ** 2 * totalOhm;

/**
 * Powers for one sender resistance (0: shorted, Infinity: open). A gauge branch of nothing and a network of nothing
 * would be a short of the supply: its powers are answered as 0 here, the failure table speaks of it.
 * Source: two-terminal model, I = V / (Rg + R), power shares of the series and parallel pieces.
 */
export const powersIn = (network: Network, feed: Feed, senderOhm: number): Powers => {
  const partsOhm = network.parts.map((part) => part.resistanceOhm);
  const tree = treeOf(network);
  const totalOhm = treeOhm(tree, partsOhm, senderOhm);
  const branchOhm = gaugeBranchOhm(network, feed.gaugeOhm);
  if (branchOhm + totalOhm === 0) return { parts: partsOhm.map(() => 0), senderWatt: 0, senderMilliamp: 0 };
  const totalWatt = wattsAround(totalOhm, feed, branchOhm);
  const shares = powerShares(tree, partsOhm, senderOhm);
  const parts = shares.parts.map((share) => share * totalWatt);
  const acrossGaugeVolt = totalOhm === Infinity ? 0 : (feed.supplyVolt * branchOhm) / (branchOhm + totalOhm);
  if (network.topology === 'gauge-shunt')
    parts[0] = partsOhm[0]! > 0 ? acrossGaugeVolt ** 2 / partsOhm[0]! : 0;
  const senderWatt = shares.sender * totalWatt;
  return { parts, senderWatt, senderMilliamp: 1000 * senderAmp(network, feed, senderOhm) };
};

/** Current in the sender, ampere. Around a shorted sender the shunt carries nothing, so the general rule holds there. */
const senderAmp = (network: Network, feed: Feed, senderOhm: number): number => {
  if (senderOhm === Infinity) return 0;
  const partsOhm = network.parts.map((part) => part.resistanceOhm);
  const totalOhm = treeOhm(treeOf(network), partsOhm, senderOhm);
  const total =
    totalOhm === Infinity ? 0 : feed.supplyVolt / (gaugeBranchOhm(network, feed.gaugeOhm) + totalOhm);
  return total * senderFraction(network, partsOhm, senderOhm);
};

/** Of the current from the gauge, the fraction that goes through the sender: what the shunt does not take. */
const senderFraction = (network: Network, partsOhm: readonly number[], senderOhm: number): number => {
  const shuntAt = network.parts.findIndex((part) => part.place === 'shunt');
  if (shuntAt < 0) return 1;
  const shuntOhm = partsOhm[shuntAt]!;
  const besideOhm =
    senderOhm +
    (network.topology === 'series-then-shunt' ? partsOhm[0]! : 0) +
    (network.topology === 'three-resistor' ? partsOhm[2]! : 0);
  if (shuntOhm === Infinity) return 1;
  if (besideOhm === Infinity) return 0;
  return shuntOhm + besideOhm === 0 ? 0.5 : shuntOhm / (shuntOhm + besideOhm);
};

/** The largest power of a part over all states looked at, and in which. */
export type WorstPower = { readonly powerWatt: number; readonly when: CircuitCase };

/** A supply and what the sender does: shorted, open, or so many ohms. */
export type CircuitCase = { readonly supplyVolt: number; readonly sender: 'short' | 'open' | number };

/** A supply and a sender resistance; `is`: what a person is told of it. */
export type CircuitState = { readonly feed: Feed; readonly senderOhm: number; readonly is: CircuitCase };

/** States to design for: sender short, open and at every sampled value, at the usual and at the worst supply. */
export const circuitStates = (
  senderOhms: readonly number[],
  feeds: readonly Feed[],
): readonly CircuitState[] =>
  feeds.flatMap((feed) => {
    const { supplyVolt } = feed;
    return [
      { feed, senderOhm: 0, is: { supplyVolt, sender: 'short' } },
      { feed, senderOhm: Infinity, is: { supplyVolt, sender: 'open' } },
      ...senderOhms.map((senderOhm) => ({ feed, senderOhm, is: { supplyVolt, sender: senderOhm } })),
    ];
  });

/** Worst power of each part. Source: powersIn over the states. */
export const worstPowers = (network: Network, states: readonly CircuitState[]): readonly WorstPower[] => {
  const powers = states.map((state) => powersIn(network, state.feed, state.senderOhm).parts);
  return network.parts.map((_, part) => {
    const each = powers.map((state) => state[part]!);
    const powerWatt = Math.max(0, ...each);
    return { powerWatt, when: states[Math.max(0, each.indexOf(powerWatt))]!.is };
  });
};
