import type { Problem } from '../../../host/core/network/problem';
import { sampleScore } from '../../../host/core/network/problem';
import type { Found } from '../../../host/core/network/ranking';
import { compareFound } from '../../../host/core/network/ranking';
import type { Form, Parts } from '../../../host/core/network/search';
import { seenOhm } from '../../../host/core/network/seen';
import { networkOf } from '../../../host/core/network/topology';

const combinations = (values: Float64Array, count: number): number[][] =>
  count === 0
    ? [[]]
    : combinations(values, count - 1).flatMap((rest) => Array.from(values, (value) => [...rest, value]));

/** Score of one network by the definition, with nothing left out. */
export const plainScore = (
  problem: Problem,
  form: Form,
  partsOhm: readonly number[],
  gaugeOhm?: number,
): number => {
  const network = networkOf(form.topology, partsOhm, gaugeOhm);
  const scores = Array.from(problem.ohm, (ohm, index) =>
    sampleScore(problem, index, problem.table.gauge.reading(seenOhm(network, ohm)) - problem.value[index]!),
  );
  return Math.max(...scores);
};

/** Every combination scored, the best `keep` of them. */
export const bruteForce = (problem: Problem, form: Form, parts: Parts, keep: number): readonly Found[] =>
  combinations(parts.values, form.partCount)
    .map((partsOhm) => ({ partsOhm, score: plainScore(problem, form, partsOhm, parts.gaugeOhm) }))
    .sort(compareFound)
    .slice(0, keep);
