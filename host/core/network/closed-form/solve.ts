import { refuse } from '../../refusal';
import type { Answer, SolveRefusal } from './answer';
import { answerWith, meeting } from './answer';
import { refuseTwoPoints } from './feasibility';
import { gaugeShuntFor } from './gauge-shunt';
import { seriesForOnePoint, shuntForOnePoint, simplestNetwork } from './one-point';
import type { Pair } from './pair';
import { sortedPairs } from './pair';
import { seenOhm } from './network-law';
import { networkForThreePoints } from './three-point';
import type { Network, Topology } from './topology';
import { seriesThenShunt, shuntThenSeries } from './two-point';

/** An exact network, with what it makes of each pair (in the order the pairs were given). */
export type Solution = Network & {
  readonly seen: readonly (Pair & { readonly seenOhm: number })[];
};

/**
 * `solutions`: every topology that meets the pairs exactly. `middle` (two pairs): the band in which the gauge sees the
 * geometric middle of the sender, whatever two or three resistors meet the two ends.
 */
export type Solved = {
  readonly kind: 'solved';
  readonly solutions: readonly Solution[];
  readonly middle?: { readonly senderOhm: number; readonly lowestOhm: number; readonly highestOhm: number };
};

const twoResistors = (
  pairs: readonly Pair[],
  topology: 'shunt-then-series' | 'series-then-shunt',
): Answer => {
  if (pairs.length < 2) return refuse('PAIRS', { pairCount: pairs.length, topology });
  const [high, low] = [pairs[0]!, pairs.at(-1)!];
  const refused = refuseTwoPoints(high, low);
  if (refused) return refused;
  const form = topology === 'shunt-then-series' ? shuntThenSeries : seriesThenShunt;
  return answerWith(topology, form(high, low));
};

const threeResistors = (pairs: readonly Pair[]): Answer =>
  pairs.length === 3
    ? networkForThreePoints([pairs[0]!, pairs[1]!, pairs[2]!])
    : refuse('PAIRS', { pairCount: pairs.length, topology: 'three-resistor' });

const inTopology = (pairs: readonly Pair[], topology: Topology, gaugeOhm: number | undefined): Answer => {
  const simple = simplestNetwork(pairs);
  switch (topology) {
    case 'none':
      return answerWith('none', []);
    case 'series':
      return seriesForOnePoint(pairs[0]!);
    case 'shunt':
      return shuntForOnePoint(pairs[0]!);
    case 'shunt-then-series':
    case 'series-then-shunt':
      return simple ? { kind: 'network', network: simple } : twoResistors(pairs, topology);
    case 'three-resistor':
      return simple ? { kind: 'network', network: simple } : threeResistors(pairs);
    case 'gauge-shunt':
      return gaugeShuntFor(pairs, gaugeOhm);
  }
};

/** Which topologies are tried when none is named and nothing simpler fits. */
const tried: Readonly<Record<number, readonly Topology[]>> = {
  2: ['shunt-then-series', 'series-then-shunt'],
  3: ['three-resistor'],
};

const freely = (pairs: readonly Pair[]): readonly Answer[] => {
  const simple = simplestNetwork(pairs);
  if (simple) return [{ kind: 'network', network: simple }];
  if (pairs.length === 1) return [inTopology(pairs, 'shunt', undefined)];
  return tried[pairs.length]!.map((topology) => inTopology(pairs, topology, undefined));
};

const solution = (network: Network, given: readonly Pair[]): Solution => ({
  ...network,
  seen: given.map((pair) => ({ ...pair, seenOhm: seenOhm(network, pair.senderOhm) })),
});

// Source: "two ends fix the middle": every three-resistor network through both ends lies between the two-resistor ones.
const middleOf = (pairs: readonly Pair[], networks: readonly Network[]): Pick<Solved, 'middle'> => {
  const [high, low] = [pairs[0]!, pairs.at(-1)!];
  if (pairs.length !== 2 || networks.length < 2 || low.senderOhm === 0) return {};
  const senderOhm = Math.sqrt(high.senderOhm * low.senderOhm);
  const seen = networks.map((network) => seenOhm(network, senderOhm));
  return { middle: { senderOhm, lowestOhm: Math.min(...seen), highestOhm: Math.max(...seen) } };
};

const solved = (
  answers: readonly Answer[],
  sorted: readonly Pair[],
  given: readonly Pair[],
): Solved | SolveRefusal => {
  const checked = answers.map((answer) => meeting(answer, sorted));
  const networks = checked.flatMap((answer) => (answer.kind === 'network' ? [answer.network] : []));
  const refused = checked.find((answer) => answer.kind === 'refused');
  if (networks.length === 0 && refused?.kind === 'refused') return refused;
  const solutions = networks.map((network) => solution(network, given));
  return { kind: 'solved', solutions, ...middleOf(sorted, networks) };
};

/**
 * Resistors that turn one, two or three sender resistances into exactly the resistances a gauge wants (ohm). Without a
 * topology every exact answer around the sender is given; `gauge-shunt` must be asked for by name and needs `gaugeOhm`.
 * A network that degenerates (a resistor of nothing) is answered by the simpler one.
 * Source: closed forms derived from the series and parallel rules; trade vectors in solve.test.ts.
 * Refuses: PAIRS, PAIR_VALUE, PAIR_SAME (the question); SENSE, SPAN_OHM, SPAN_SIEMENS, RATIO (the theorems);
 * NEGATIVE_PART, CONCAVITY (three points); MISMATCH (too few resistors for the points); GAUGE_OHM.
 */
export const solveNetwork = (
  pairs: readonly Pair[],
  topology?: Topology,
  gaugeOhm?: number,
): Solved | SolveRefusal => {
  const sorted = sortedPairs(pairs);
  if (sorted.kind === 'refused') return sorted;
  const answers =
    topology === undefined ? freely(sorted.pairs) : [inTopology(sorted.pairs, topology, gaugeOhm)];
  return solved(answers, sorted.pairs, pairs);
};
