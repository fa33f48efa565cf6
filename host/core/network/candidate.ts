import type { MountingPlace } from '../preferred';
import { designAmbientCelsius, ratingForPlace } from '../preferred';
import { worstErrorAnywhere } from './between-samples';
import type { ErrorRow, Loaded } from './error-table';
import { errorRow } from './error-table';
import type { Failure } from './failures';
import { failuresOf } from './failures';
import { feedsFor } from './feeds';
import { circuitStates, worstPowers } from './power';
import type { Replacement } from './replacement';
import { replacementsOf } from './replacement';
import type { Tolerance } from './spread';
import { toleranceOf } from './spread';
import type { SurroundingsEffect } from './surroundings';
import { seenOhm } from './seen';
import { surroundingsEffects } from './surroundings';
import type { Task } from './task';
import type { Network, NetworkPart, Topology } from './topology';
import { wiringOf } from './topology';
import { trimDefaults } from './trim-options';
import { candidateWarnings } from './warnings';

/** A part to buy. `ratingWatt` is what the bag must say, derated for its place; absent when no ordinary part carries it. */
export type CandidatePart = NetworkPart & {
  readonly tolerancePercent: number;
  readonly powerWorstWatt: number;
  readonly powerWorstWhen: string;
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
  readonly assumed: readonly string[];
};

/** One network with everything a person should know before soldering it. Errors are indicated minus true, dial units. */
export type Candidate = {
  readonly topology: Topology;
  readonly wiring: string;
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
  readonly warnings: readonly string[];
};

const ROWS = 13;

/** Evenly spread samples and the worst one. */
const rowIndices = (count: number, worst: number): readonly number[] => {
  const wanted = Math.min(ROWS, count);
  const even = Array.from({ length: wanted }, (_, row) => Math.round((row * (count - 1)) / (wanted - 1)));
  return [...new Set([...even, worst])].sort((one, other) => one - other);
};

const powerBasisOf = (task: Task): PowerBasis => {
  const { usual, worst, assumed } = feedsFor(task.options);
  const place = task.options.place ?? trimDefaults.place;
  return {
    supplyVolt: usual.supplyVolt,
    highestSupplyVolt: worst.supplyVolt,
    gaugeOhm: usual.gaugeOhm,
    place,
    ambientCelsius: designAmbientCelsius[place],
    assumed,
  };
};

const partsOf = (task: Task, network: Network, basis: PowerBasis): readonly CandidatePart[] => {
  const { usual, worst } = feedsFor(task.options);
  const states = circuitStates(Array.from(task.problem.ohm), [
    { feed: usual, says: `${usual.supplyVolt} V` },
    { feed: worst, says: `${worst.supplyVolt} V` },
  ]);
  const powers = worstPowers(network, states);
  return network.parts.map((part, index) => {
    const rating = ratingForPlace(powers[index]!.powerWatt, basis.place);
    return {
      ...part,
      tolerancePercent: task.supply.tolerancePercent(part.resistanceOhm),
      powerWorstWatt: powers[index]!.powerWatt,
      powerWorstWhen: powers[index]!.when,
      ...(rating ? { ratingWatt: rating.ratingWatt } : {}),
    };
  });
};

const errorsOf = (
  task: Task,
  loaded: Loaded,
): Pick<
  Candidate,
  'worstError' | 'worstAt' | 'worstWeightedError' | 'rmsError' | 'keepsRule' | 'errorTable'
> => {
  const { problem } = task;
  const errors = Array.from(
    problem.ohm,
    (ohm, index) => loaded.gauge.reading(seenOhm(loaded.network, ohm)) - problem.value[index]!,
  );
  const sizes = errors.map(Math.abs);
  const worst = sizes.indexOf(Math.max(...sizes));
  return {
    worstError: sizes[worst]!,
    worstAt: problem.value[worst]!,
    worstWeightedError: Math.max(...sizes.map((size, index) => size * problem.weight[index]!)),
    rmsError: Math.sqrt(sizes.reduce((sum, size) => sum + size * size, 0) / sizes.length),
    keepsRule: errors.every(
      (error, index) => error >= problem.lowestError[index]! && error <= problem.highestError[index]!,
    ),
    errorTable: rowIndices(sizes.length, worst).map((index) => errorRow(loaded, problem.value[index]!)),
  };
};

/** The report on one network found by a search. Source: the parts of this folder it calls. */
export const candidateOf = (task: Task, network: Network): Candidate => {
  const { problem, sender, supply, options } = task;
  const { gauge } = problem.table;
  const loaded: Loaded = { gauge, sender, network, tolerancePercent: supply.tolerancePercent };
  const powerBasis = powerBasisOf(task);
  const parts = partsOf(task, network, powerBasis);
  const failures = failuresOf(task, network);
  const run = { trials: options.trials ?? trimDefaults.trials, seed: options.seed ?? trimDefaults.seed };
  return {
    topology: network.topology,
    wiring: wiringOf[network.topology],
    parts,
    ...errorsOf(task, loaded),
    worstErrorAnywhere: worstErrorAnywhere(loaded, task.band),
    failures,
    tolerance: toleranceOf(task, loaded, run),
    replacements: replacementsOf(task, network),
    surroundings: surroundingsEffects(task, network),
    powerBasis,
    warnings: candidateWarnings(task, network, { parts, failures }),
  };
};
