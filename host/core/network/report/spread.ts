import { randomSource } from '../../numeric/random';
import type { RandomSource } from '../../numeric/random';
import { isIgnorance } from '../../at-work';
import type { Heat } from '../search/heat';
import { workingOhm } from '../search/heat';
import { placeOf } from '../search/problem';
import type { Loaded } from './error-table';
import { loadedOhm, partsUncertainty, sensitivities, uncertaintyOfGauge } from './error-table';
import { seenOhm } from '../closed-form/network-law';
import type { TrimQuestion } from '../search/trim-question';
import type { Network } from '../closed-form/topology';

/** What part tolerances do at one true value: first order, by the S-invariant. */
export type ToleranceRow = {
  readonly trueValue: number;
  /** Fraction of a relative change of the sender that reaches the gauge. */
  readonly senderShare: number;
  readonly partShares: readonly number[];
  /** Standard uncertainty of the reading from the parts alone, dial units. */
  readonly partsUncertainty: number;
};

/** Many networks as they might come out of the bag: parts within tolerance, sender and gauge within uncertainty. */
export type MonteCarlo = {
  readonly trials: number;
  readonly seed: number;
  /** Worst error over the band, dial units: median and the value that 95 % of the networks keep. */
  readonly medianWorstError: number;
  readonly worstErrorOf95Percent: number;
  /** Fraction of the networks that keep the safety rule. */
  readonly keepsRuleFraction: number;
  /** Standard deviation of the reading from the parts alone, at the value where the first-order figure is largest. */
  readonly partsStandardDeviation: number;
};

export type Tolerance = {
  readonly rows: readonly ToleranceRow[];
  readonly monteCarlo: MonteCarlo;
};

/** Samples of the band that each trial is judged at: the ends and every so many between. */
const TRIAL_SAMPLES = 13;

const indicesFor = (count: number): readonly number[] => {
  const wanted = Math.min(TRIAL_SAMPLES, count);
  return Array.from({ length: wanted }, (_, index) => Math.round((index * (count - 1)) / (wanted - 1)));
};

const drawnNetwork = (loaded: Loaded, random: RandomSource): Network => ({
  ...loaded.network,
  parts: loaded.network.parts.map((part) => {
    const half = loaded.tolerancePercent(part.resistanceOhm) / 100;
    return { ...part, resistanceOhm: part.resistanceOhm * (1 + half * (2 * random.uniform() - 1)) };
  }),
});

/** One value of the band at which trials are judged, with what does not change from trial to trial. */
type TrialPoint = {
  readonly index: number;
  readonly value: number;
  readonly coldOhm: number;
  readonly senderUncertainty: number;
  /** Of the gauge, at what it sees with nominal parts: it changes slowly, and costs most to compute. */
  readonly gaugeUncertainty: number;
};

const trialPoint = (question: TrimQuestion, loaded: Loaded, index: number): TrialPoint => {
  const value = question.problem.value[index]!;
  const coldOhm = question.problem.ohm[index]!;
  const senderOhm = loadedOhm(loaded, value);
  return {
    index,
    value,
    coldOhm,
    senderUncertainty: question.sender.relativeUncertainty(value),
    gaugeUncertainty: uncertaintyOfGauge(loaded, seenOhm(loaded.network, senderOhm)),
  };
};

/**
 * A dissipation factor as it might be, W a dial unit: of an interval of ignorance every ratio alike, of a measured one a
 * normal distribution that stays above nothing. Source: JCGM 101 6.4.2 (two limits, on ln delta) and 6.4.7.
 */
const drawnFactor = ({ factor, curve }: Heat, random: RandomSource): number => {
  const { wattPerKelvin, lowestWattPerKelvin: least, highestWattPerKelvin: most } = factor;
  if (isIgnorance(factor)) return (least * (most / least) ** random.uniform()) / curve.perKelvin;
  const drawn = wattPerKelvin + ((most - wattPerKelvin) / 2) * random.normal();
  return Math.max(drawn, LEAST_SHARE * wattPerKelvin) / curve.perKelvin;
};

/** However unlikely the draw, a sender sheds something. */
const LEAST_SHARE = 0.1;

type Trial = { readonly worst: number; readonly keeps: boolean; readonly partsOnly: number };

const trialOf = (
  question: TrimQuestion,
  loaded: Loaded,
  random: RandomSource,
  at: { readonly points: readonly TrialPoint[]; readonly widest: number },
): Trial => {
  const { problem } = question;
  const network = drawnNetwork(loaded, random);
  // One sender and one gauge a trial: their errors are the same part of the truth all along the band.
  const senderError = random.normal();
  const gaugeError = random.normal();
  const otherwise = problem.heat === undefined ? {} : { wattPerUnit: drawnFactor(problem.heat, random) };
  let worst = 0;
  let keeps = true;
  for (const { index, value, coldOhm, senderUncertainty, gaugeUncertainty } of at.points) {
    const place = { value, coldOhm: coldOhm * Math.exp(senderError * senderUncertainty) };
    const ohm = seenOhm(network, workingOhm(problem.heat, network, place, otherwise));
    const error = loaded.gauge.reading(ohm) + gaugeError * gaugeUncertainty - value;
    worst = Math.max(worst, Math.abs(error));
    keeps &&= error >= problem.lowestError[index]! && error <= problem.highestError[index]!;
  }
  const widestOhm = workingOhm(problem.heat, network, placeOf(problem, at.widest));
  return { worst, keeps, partsOnly: loaded.gauge.reading(seenOhm(network, widestOhm)) };
};

const standardDeviation = (values: readonly number[]): number => {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(
    values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / Math.max(1, values.length - 1),
  );
};

const quantile = (ascending: readonly number[], fraction: number): number =>
  ascending[Math.min(ascending.length - 1, Math.ceil(fraction * ascending.length) - 1)]!;

/**
 * Tolerance both ways: first order by the S-invariant, and by Monte Carlo (parts rectangular within tolerance, sender
 * and gauge normal within their standard uncertainty).
 * Source: u(R)/R = sqrt(sum S_i^2 u_i^2); JCGM 101 for the propagation of distributions.
 */
export const toleranceOf = (
  question: TrimQuestion,
  loaded: Loaded,
  run: { readonly trials: number; readonly seed: number },
): Tolerance => {
  const { problem } = question;
  const indices = indicesFor(problem.value.length);
  const rows = indices.map((index) => {
    const ohm = loadedOhm(loaded, problem.value[index]!);
    const shares = sensitivities(loaded.network, ohm);
    return {
      trueValue: problem.value[index]!,
      senderShare: shares.sender,
      partShares: shares.parts,
      partsUncertainty: partsUncertainty(loaded, ohm),
    };
  });
  const sizes = rows.map((row) => row.partsUncertainty);
  const widest = indices[sizes.indexOf(Math.max(...sizes))]!;
  const random = randomSource(run.seed);
  const points = indices.map((index) => trialPoint(question, loaded, index));
  const trials = Array.from({ length: run.trials }, () =>
    trialOf(question, loaded, random, { points, widest }),
  );
  const worst = trials.map((trial) => trial.worst).sort((one, other) => one - other);
  return {
    rows,
    monteCarlo: {
      ...run,
      medianWorstError: quantile(worst, 0.5),
      worstErrorOf95Percent: quantile(worst, 0.95),
      keepsRuleFraction: trials.filter((trial) => trial.keeps).length / trials.length,
      partsStandardDeviation: standardDeviation(trials.map((trial) => trial.partsOnly)),
    },
  };
};
