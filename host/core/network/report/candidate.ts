import type { MountingPlace } from '../../preferred';
import { designAmbientCelsius, ratingForPlace } from '../../preferred';
import { worstErrorAnywhere } from './between-samples';
import type { ErrorRow, Loaded } from './error-table';
import { errorRow, loadedOhm } from './error-table';
import type { Failure } from './failures';
import { failuresOf } from './failures';
import type { Assumed } from '../circuit/feeds';
import { feedsFor } from '../circuit/feeds';
import type { CircuitCase } from '../circuit/power';
import { circuitStates, worstPowers } from '../circuit/power';
import type { Replacement } from './replacement';
import { replacementsOf } from './replacement';
import type { Tolerance } from './spread';
import { toleranceOf } from './spread';
import type { SurroundingsEffect } from '../circuit/surroundings';
import { dashHalfOf } from '../circuit/dash';
import { seenOhm } from '../closed-form/network-law';
import { surroundingsEffects } from '../circuit/surroundings';
import type { TrimQuestion } from '../search/trim-question';
import type { Network, NetworkPart, Topology } from '../closed-form/topology';
import { weighed } from '../search/problem';
import { trimDefaults } from '../search/trim-options';
import { candidateWarnings } from './warnings';
import type { Remark } from '../../remark';

/** A part to buy. `ratingWatt` is what the bag must say, derated for its place; absent when no ordinary part carries it. */
export type CandidatePart = NetworkPart & {
  readonly tolerancePercent: number;
  readonly powerWorstWatt: number;
  readonly powerWorstWhen: CircuitCase;
  readonly ratingWatt?: number;
};

/** What powers and ratings were computed for. */
export type PowerBasis = {
  readonly supplyVolt: number;
  readonly highestSupplyVolt: number;
  readonly gaugeOhm: number;
  readonly place: MountingPlace;
  readonly ambientCelsius: number;
  /** Figures that were not given and had to be assumed. */
  readonly assumed: readonly Assumed[];
};

/** One network with everything a person should know before soldering it. Errors are indicated minus true, dial units. */
export type Candidate = {
  readonly topology: Topology;
  readonly parts: readonly CandidatePart[];
  /** Largest error at the samples, its size and where. */
  readonly worstError: number;
  readonly worstAt: number;
  /** Bound on the error anywhere in the band, between the samples too. */
  readonly worstErrorAnywhere: number;
  readonly worstWeightedError: number;
  readonly rmsError: number;
  readonly keepsRule: boolean;
  readonly errorTable: readonly ErrorRow[];
  readonly failures: readonly Failure[];
  readonly tolerance: Tolerance;
  readonly replacements: readonly Replacement[];
  readonly surroundings: readonly SurroundingsEffect[];
  readonly powerBasis: PowerBasis;
  readonly warnings: readonly Remark[];
};

const ROWS = 13;

/** Evenly spread samples and the worst one. */
const rowIndices = (count: number, worst: number): readonly number[] => {
  const wanted = Math.min(ROWS, count);
  const even = Array.from({ length: wanted }, (_, row) => Math.round((row * (count - 1)) / (wanted - 1)));
  return [...new Set([...even, worst])].sort((one, other) => one - other);
};

const powerBasisOf = (question: TrimQuestion): PowerBasis => {
  const { usual, worst, assumed } = feedsFor(question.options);
  const place = question.options.place ?? trimDefaults.place;
  return {
    supplyVolt: usual.supplyVolt,
    highestSupplyVolt: worst.supplyVolt,
    gaugeOhm: usual.gaugeOhm,
    place,
    ambientCelsius: designAmbientCelsius[place],
    assumed,
  };
};

const partsOf = (question: TrimQuestion, network: Network, basis: PowerBasis): readonly CandidatePart[] => {
  const { usual, worst } = feedsFor(question.options);
  const states = circuitStates(Array.from(question.problem.ohm), [usual, worst]);
  const powers = worstPowers(network, states);
  return network.parts.map((part, index) => {
    const rating = ratingForPlace(powers[index]!.powerWatt, basis.place);
    return {
      ...part,
      tolerancePercent: question.supply.tolerancePercent(part.resistanceOhm),
      powerWorstWatt: powers[index]!.powerWatt,
      powerWorstWhen: powers[index]!.when,
      ...(rating ? { ratingWatt: rating.ratingWatt } : {}),
    };
  });
};

const errorsOf = (
  question: TrimQuestion,
  loaded: Loaded,
): Pick<
  Candidate,
  'worstError' | 'worstAt' | 'worstWeightedError' | 'rmsError' | 'keepsRule' | 'errorTable'
> => {
  const { problem } = question;
  const errors = Array.from(
    problem.value,
    (value) => loaded.gauge.reading(seenOhm(loaded.network, loadedOhm(loaded, value))) - value,
  );
  const sizes = errors.map(Math.abs);
  const worst = sizes.indexOf(Math.max(...sizes));
  return {
    worstError: sizes[worst]!,
    worstAt: problem.value[worst]!,
    worstWeightedError: Math.max(...errors.map((error, index) => weighed(problem, index, error))),
    rmsError: Math.sqrt(sizes.reduce((sum, size) => sum + size * size, 0) / sizes.length),
    keepsRule: errors.every(
      (error, index) => error >= problem.lowestError[index]! && error <= problem.highestError[index]!,
    ),
    errorTable: rowIndices(sizes.length, worst).map((index) => errorRow(loaded, problem.value[index]!)),
  };
};

/** The report on one network found by a search. Source: the parts of this folder it calls. */
export const candidateOf = (question: TrimQuestion, network: Network): Candidate => {
  const { problem, sender, supply, options } = question;
  const { gauge } = problem.table;
  const loaded: Loaded = {
    gauge,
    sender,
    network,
    heat: problem.heat,
    tolerancePercent: supply.tolerancePercent,
    dashHalf: dashHalfOf(question),
  };
  const powerBasis = powerBasisOf(question);
  const parts = partsOf(question, network, powerBasis);
  const failures = failuresOf(question, network);
  const run = { trials: options.trials ?? trimDefaults.trials, seed: options.seed ?? trimDefaults.seed };
  return {
    topology: network.topology,
    parts,
    ...errorsOf(question, loaded),
    worstErrorAnywhere: worstErrorAnywhere(loaded, question.band),
    failures,
    tolerance: toleranceOf(question, loaded, run),
    replacements: replacementsOf(question, network),
    surroundings: surroundingsEffects(question, network),
    powerBasis,
    warnings: candidateWarnings(question, network, { parts, failures }),
  };
};
