import type { Refused } from '../../result';
import { refuse } from '../../result';
import type { Theorem } from './feasibility';
import type { Pair, PairRefusal } from './pair';
import { figure } from '../../figure';
import { seenOhm } from './network-law';
import type { Network, Topology } from './topology';
import { networkOf } from './topology';

export type SolveRefusal =
  PairRefusal | Refused<Theorem | 'NEGATIVE_PART' | 'CONCAVITY' | 'MISMATCH' | 'GAUGE_OHM'>;

/** What one closed form answers. */
export type Answer = { readonly kind: 'network'; readonly network: Network } | SolveRefusal;

export const answerWith = (topology: Topology, partsOhm: readonly number[], gaugeOhm?: number): Answer => ({
  kind: 'network',
  network: networkOf(topology, partsOhm, gaugeOhm),
});

/** Two resistances closer than this (relative) are one: finer than any resistor, coarser than rounding. */
export const SAME = 1e-9;

/** A part that would have to be below zero. */
export const negativePart = (what: string, ohm: number, instead: string): SolveRefusal =>
  refuse('NEGATIVE_PART', `${what} would have to be ${figure(ohm)} ohm, which no resistor is; ${instead}`);

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
  const parts = network.parts.map((part) => `${part.place} ${figure(part.resistanceOhm)} ohm`).join(', ');
  return refuse(
    'MISMATCH',
    `${network.topology} (${parts || 'no parts'}) cannot meet every point given: sender ${figure(worst.senderOhm)} ohm is seen as ${figure(seenOhm(network, worst.senderOhm))}, ${figure(worst.wantedOhm)} is wanted; take a topology with more resistors or search for the best compromise (trim)`,
  );
};
