import type { Refusal, Refusals } from '../../refusal';
import { refuse } from '../../refusal';
import type { Theorem } from './feasibility';
import type { Pair, PairRefusal } from './pair';
import { seenOhm } from './network-law';
import type { Network, Topology } from './topology';
import { networkOf } from './topology';

export type SolveRefusal =
  | PairRefusal
  | Refusal<Theorem | 'NEGATIVE_PART' | 'CONCAVITY' | 'MISMATCH' | 'GAUGE_OHM'>;

/** What one closed form answers. */
export type Answer = { readonly kind: 'network'; readonly network: Network } | SolveRefusal;

export const answerWith = (topology: Topology, partsOhm: readonly number[], gaugeOhm?: number): Answer => ({
  kind: 'network',
  network: networkOf(topology, partsOhm, gaugeOhm),
});

/** Two resistances closer than this (relative) are one: finer than any resistor, coarser than rounding. */
export const SAME = 1e-9;

/** A part that would have to be below zero. */
export const negativePart = (slots: Refusals['NEGATIVE_PART']): SolveRefusal =>
  refuse('NEGATIVE_PART', slots);

const gapOhm = (network: Network, pair: Pair): number =>
  Math.abs(seenOhm(network, pair.senderOhm) - pair.wantedOhm);

/** True when the network meets every pair to within rounding. */
export const meets = (network: Network, pairs: readonly Pair[]): boolean =>
  pairs.every((pair) => gapOhm(network, pair) <= SAME * Math.max(pair.wantedOhm, pair.senderOhm));

/** Passes an answer on only if it meets all pairs, those that were not used to compute it included. */
export const meeting = (answer: Answer, pairs: readonly Pair[]): Answer => {
  if (answer.kind === 'refused' || meets(answer.network, pairs)) return answer;
  const { network } = answer;
  const worst = [...pairs].sort((one, other) => gapOhm(network, other) - gapOhm(network, one))[0]!;
  return refuse('MISMATCH', {
    topology: network.topology,
    parts: network.parts,
    senderOhm: worst.senderOhm,
    seenOhm: seenOhm(network, worst.senderOhm),
    wantedOhm: worst.wantedOhm,
  });
};
