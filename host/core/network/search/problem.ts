import type { Place } from '../../at-work';
import type { SenderResponse } from '../../response';
import type { Refusal } from '../../refusal';
import { refuse } from '../../refusal';
import type { GaugeTable } from './gauge-table';
import type { Heat } from './heat';
import { workingOhm } from './heat';
import type { SafetyRule } from './safety-rule';
import { sideWeights } from './safety-rule';
import { seenOhm } from '../closed-form/network-law';
import type { Network } from '../closed-form/topology';

/**
 * The question a search answers, at its sampled true values. The score of a network is the largest of
 * weight * |reading - value| over the samples (the weight is that of the side it errs to), plus `penalty` if an error there breaks the safety rule: a network that
 * keeps the rule always scores below one that breaks it.
 */
export type Problem = {
  readonly table: GaugeTable;
  readonly value: Float64Array;
  /** As an ohmmeter finds the sender. */
  readonly ohm: Float64Array;
  /** Where the sender's own heat counts: what the gauge sees of it depends on the network. */
  readonly heat?: Heat;
  /** Of an error to the low side, and to the high side. */
  readonly weightLow: Float64Array;
  readonly weightHigh: Float64Array;
  readonly lowestError: Float64Array;
  readonly highestError: Float64Array;
  readonly penalty: number;
};

/** Importance of an error at a true value (dimensionless), straight lines between the entries, level beyond them. */
export type Weight = { readonly value: number; readonly weight: number };

export type Band = { readonly from: number; readonly to: number; readonly samples: number };

const weightAt = (weights: readonly Weight[], value: number): number => {
  const sorted = [...weights].sort((one, other) => one.value - other.value);
  const after = sorted.findIndex((entry) => entry.value >= value);
  if (sorted.length === 0) return 1;
  if (after === 0) return sorted[0]!.weight;
  if (after < 0) return sorted.at(-1)!.weight;
  const [low, high] = [sorted[after - 1]!, sorted[after]!];
  return low.weight + ((high.weight - low.weight) * (value - low.value)) / (high.value - low.value);
};

const sampleValues = ({ from, to, samples }: Band): Float64Array =>
  Float64Array.from({ length: samples }, (_, index) =>
    index === samples - 1 ? to : from + ((to - from) * index) / (samples - 1),
  );

export type ProblemRefusal = Refusal<'SENDER_NOT_FINITE' | 'SENDER_NOT_MONOTONE' | 'WEIGHTS'>;

const senderRefusal = (unit: string, value: Float64Array, ohm: Float64Array): ProblemRefusal | undefined => {
  const wrong = ohm.findIndex((each) => !(each >= 0 && each < Infinity));
  if (wrong >= 0) return refuse('SENDER_NOT_FINITE', { value: value[wrong]!, unit });
  const rises = ohm[ohm.length - 1]! > ohm[0]!;
  const turn = ohm.findIndex(
    (each, index) => index > 0 && (rises ? each < ohm[index - 1]! : each > ohm[index - 1]!),
  );
  if (turn > 0 || ohm[0] === ohm[ohm.length - 1])
    return refuse('SENDER_NOT_MONOTONE', { turnsBackAt: value[Math.max(0, turn)]!, unit });
  return undefined;
};

/**
 * Samples the sender over the band. Source: definition of the score above.
 * Refuses: SENDER_NOT_FINITE, SENDER_NOT_MONOTONE, WEIGHTS (a weight that is negative, or all of them nothing).
 */
export const problemOf = (
  table: GaugeTable,
  sender: SenderResponse,
  asked: { readonly band: Band; readonly rule: SafetyRule; readonly weights: readonly Weight[] },
): ({ readonly kind: 'problem' } & Problem) | ProblemRefusal => {
  const all = sampleValues(asked.band);
  const refused = senderRefusal(
    table.gauge.unit,
    all,
    all.map((value) => sender.ohm(value)),
  );
  if (refused) return refused;
  const weights = all.map((value) => weightAt(asked.weights, value));
  if (!weights.every((weight) => weight >= 0 && weight < Infinity) || !weights.some((weight) => weight > 0))
    return refuse('WEIGHTS', {});
  // A point that weighs nothing neither scores nor is ruled: it is not part of the question.
  const value = all.filter((_, index) => weights[index]! > 0);
  const weight = weights.filter((each) => each > 0);
  const allowed = Array.from(value, asked.rule.allowed);
  const sides = Array.from(value, (each) => sideWeights(asked.rule.danger, each));
  const weightLow = weight.map((each, index) => each * sides[index]!.low);
  const weightHigh = weight.map((each, index) => each * sides[index]!.high);
  const dial = Math.abs(table.gauge.highestReading - table.gauge.lowestReading);
  const furthest = dial + Math.abs(asked.band.to - asked.band.from) + Math.max(...value.map(Math.abs));
  return {
    kind: 'problem',
    table,
    value,
    ohm: value.map((each) => sender.ohm(each)),
    weightLow,
    weightHigh,
    lowestError: Float64Array.from(allowed, ({ lowest }) => lowest),
    highestError: Float64Array.from(allowed, ({ highest }) => highest),
    penalty: 100 * Math.max(...weightLow, ...weightHigh) * furthest,
  };
};

/** The sender at one sample. */
export const placeOf = ({ value, ohm }: Pick<Problem, 'value' | 'ohm'>, index: number): Place => ({
  value: value[index]!,
  coldOhm: ohm[index]!,
});

/** An error at one sample, weighed, dial units. Source: definition of the score. */
export const weighed = (problem: Problem, index: number, error: number): number =>
  Math.abs(error) * (error < 0 ? problem.weightLow[index]! : problem.weightHigh[index]!);

/** What one sample adds to the score for an error (dial units). */
export const sampleScore = (problem: Problem, index: number, error: number): number => {
  const broken = error < problem.lowestError[index]! || error > problem.highestError[index]!;
  return weighed(problem, index, error) + (broken ? problem.penalty : 0);
};

/** Errors of a network at the samples, dial units. Source: definition. */
export const plainErrors = (problem: Problem, network: Network): readonly number[] =>
  Array.from(problem.value, (value, index) => {
    const ohm = workingOhm(problem.heat, network, placeOf(problem, index));
    return problem.table.gauge.reading(seenOhm(network, ohm)) - value;
  });

/** Worst weighted error of a network over the samples, the safety rule left aside, dial units. Source: definition. */
export const plainScore = (problem: Problem, network: Network): number =>
  Math.max(...plainErrors(problem, network).map((error, index) => weighed(problem, index, error)));
