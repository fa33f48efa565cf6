import { trim, type Network } from '../../host/core/network';
import { randomSource, type RandomSource } from '../../host/core/numeric/random';
import type { ChainPair } from '../../host/core/proof/chain';
import type { Chain } from '../../host/core/proof/circuit-model';
import { pairWord, type DecisionRule } from '../../host/core/proof/decision';
import { BOOK_CURVE, reEstimate } from '../../host/core/proof/re-estimate';
import { reTrim } from '../../host/core/proof/re-trim';
import { carOf, measuredGauge, measuredSender, needleWith, type Fault, type Kind } from '../core/proof/car';
import { answered } from './answer';

/** What was simulated of proofs in vehicles; the world is that of `car.ts`. */
export type ProofCars = {
  /** Share of cars whose true sender and probe lie in the 95 % region. */
  readonly region: number;
  /** Of the needle at 105 degC: mean standard uncertainty, and share of the truths within 1.96 of them. */
  readonly uncertaintyAt105: number;
  readonly heldAt105: number;
};

/** Chi-squared of 3 degrees of freedom at 95 %. Source: any table. */
const CHI_SQUARED_95 = 7.815;
/** The sender at hand has that many times the ohms the dial was printed for. */
const PART_OF_DIAL = 0.75;
const PLACES: readonly (readonly number[])[] = [[85], [60, 85], [45, 65, 85], [45, 60, 75, 90]];

const faultOf = ({ topology, parts }: Network): Fault => {
  const ohm = parts[0]?.resistanceOhm;
  if (ohm === undefined) return {};
  return topology === 'series' ? { seriesOhm: ohm } : { leakOhm: ohm };
};

type Bench = { readonly kind: Kind; readonly chain: Chain };

/** A gauge that was swept, the sender's book, and one resistor chosen by them. */
const benchOf = (kind: Kind, random: RandomSource): Bench => {
  const gauge = measuredGauge(kind, { random, needle: 0.3 });
  const sender = measuredSender(carOf(kind, PART_OF_DIAL), random, 0.001);
  const options = { from: 45, to: 112, topologies: ['none', 'series', 'shunt'], maxParts: 1 } as const;
  const found = answered(trim(gauge, sender, options));
  const best = found.candidates[0]!;
  const parts = best.parts.map(({ place, resistanceOhm }) => ({ place, resistanceOhm }));
  const network: Network = { topology: best.topology, parts };
  return { kind, chain: { gauge, sender, network, terminals: kind === 'thermal' ? 2 : 3 } };
};

/** A vehicle: its own sender, a probe that is misplaced, what somebody read. */
const vehicleOf = ({ kind, chain }: Bench, places: readonly number[], random: RandomSource) => {
  const [logOhm, tilt, off] = [0.08 * random.normal(), 0.02 * random.normal(), random.normal()];
  const car = carOf(kind, PART_OF_DIAL * Math.exp(logOhm), Math.exp(tilt));
  const shows = (truth: number, network = chain.network): number =>
    needleWith(kind, car.ohm(truth), faultOf(network));
  const pairs = places.map((truth): ChainPair => ({
    value: truth + off + 0.35 * random.normal(),
    indicated: shows(truth) + 0.6 * random.normal(),
    sharedUncertainty: 2,
    eachUncertainty: 0.7,
    readingUncertainty: 1.2,
  }));
  return { logOhm, tilt, off, shows, pairs };
};

const benches = (random: RandomSource): readonly Bench[] =>
  (['thermal', 'coils'] as const).map((kind) => benchOf(kind, random));

/** Squared distance of a difference by a covariance, by elimination: no Cholesky of the house. */
const distance = (covariance: readonly (readonly number[])[], difference: readonly number[]): number => {
  const rows = covariance.map((row, i) => [...row, difference[i]!]);
  for (let i = 0; i < rows.length; i += 1)
    for (let k = 0; k < rows.length; k += 1) {
      if (k === i) continue;
      const factor = rows[k]![i]! / rows[i]![i]!;
      rows[k] = rows[k]!.map((each, j) => each - factor * rows[i]![j]!);
    }
  return rows.reduce((sum, row, i) => sum + (difference[i]! * row.at(-1)!) / row[i]!, 0);
};

/** So many cars with pairs at 1 to 4 places. */
export const proofCars = (cars: number, places: 1 | 2 | 3 | 4, seed: number): ProofCars => {
  const random = randomSource(seed);
  const all = benches(random);
  let [inside, held, sum] = [0, 0, 0];
  for (let index = 0; index < cars; index += 1) {
    const bench = all[index % all.length]!;
    const vehicle = vehicleOf(bench, PLACES[places - 1]!, random);
    const found = reEstimate(bench.chain, vehicle.pairs, BOOK_CURVE);
    if (found === undefined) continue;
    const truth = [vehicle.logOhm, vehicle.tilt, vehicle.off];
    const miss = [found.logOhm, found.tilt, found.referenceOff].map((each, i) => each - truth[i]!);
    if (distance(found.covariance, miss) <= CHI_SQUARED_95) inside += 1;
    const { reading, standardUncertainty } = found.needleAt(105);
    if (Math.abs(reading - vehicle.shows(105)) <= 1.96 * standardUncertainty) held += 1;
    sum += standardUncertainty;
  }
  return { region: inside / cars, heldAt105: held / cars, uncertaintyAt105: sum / cars };
};

export type ReTrims = {
  readonly offered: number;
  readonly worse: number;
  readonly medianBefore: number;
  readonly medianAfter: number;
};

/** Other resistors by the pairs: how often they are offered, and what the true worst error becomes. */
export const reTrimCars = (cars: number, seed: number): ReTrims => {
  const random = randomSource(seed);
  const all = benches(random);
  const worstOf = (shows: (truth: number) => number): number =>
    Math.max(...[45, 55, 65, 75, 85, 95, 105, 112].map((truth) => Math.abs(shows(truth) - truth)));
  const changed: { readonly before: number; readonly after: number }[] = [];
  for (let index = 0; index < cars; index += 1) {
    const bench = all[index % all.length]!;
    const vehicle = vehicleOf(bench, PLACES[3]!, random);
    const estimate = reEstimate(bench.chain, vehicle.pairs, BOOK_CURVE);
    if (estimate === undefined) continue;
    const topologies = ['none', 'series', 'shunt'] as const;
    const offer = reTrim(
      bench.chain,
      estimate,
      { from: 45, to: 112 },
      { options: { topologies, maxParts: 1 }, draws: 100, seed: index },
    );
    if (offer?.isWorthIt !== true) continue;
    changed.push({
      before: worstOf((truth) => vehicle.shows(truth)),
      after: worstOf((truth) => vehicle.shows(truth, offer.network)),
    });
  }
  const median = (values: readonly number[]): number =>
    [...values].sort((one, other) => one - other)[Math.floor(values.length / 2)] ?? NaN;
  return {
    offered: changed.length / cars,
    worse: changed.filter(({ before, after }) => after > before).length / Math.max(1, changed.length),
    medianBefore: median(changed.map(({ before }) => before)),
    medianAfter: median(changed.map(({ after }) => after)),
  };
};

/** Of the needles a rule accepts, the share that truly is outside. True errors lie evenly over twice the limit. */
export const falselyAccepted = (rule: DecisionRule, needles: number, seed: number): number => {
  const random = randomSource(seed);
  let [accepted, wrong] = [0, 0];
  for (let index = 0; index < needles; index += 1) {
    const truth = 16 * random.uniform() - 8;
    const seen = { error: truth + 1.5 * random.normal(), expandedUncertainty: 3 };
    if (pairWord(seen, { lower: -4, upper: 4 }, rule) !== 'within') continue;
    accepted += 1;
    if (Math.abs(truth) > 4) wrong += 1;
  }
  return wrong / accepted;
};
