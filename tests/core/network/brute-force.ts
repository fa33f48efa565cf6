import type { Problem } from '../../../host/core/network/search/problem';
import { sampleScore } from '../../../host/core/network/search/problem';
import type { Found } from '../../../host/core/network/search/ranking';
import { compareFound } from '../../../host/core/network/search/ranking';
import type { Form, Parts } from '../../../host/core/network/search/search';
import { seenOhm } from '../../../host/core/network/closed-form/network-law';
import { networkOf } from '../../../host/core/network/closed-form/topology';

const combinations = (values: Float64Array, count: number): number[][] =>
  count === 0
    ? [[]]
    : combinations(values, count - 1).flatMap((rest) => Array.from(values, (value) => [...rest, value]));

/** Score of one network by the definition, with nothing left out. */
const plainScore = (problem: Problem, form: Form, partsOhm: readonly number[], gaugeOhm?: number): number => {
  const network = networkOf(form.topology, partsOhm, gaugeOhm);
  const { reading } = problem.table.gauge;
  let worst = 0;
  for (let index = 0; index < problem.ohm.length; index += 1) {
    const error = reading(seenOhm(network, problem.ohm[index]!)) - problem.value[index]!;
    worst = Math.max(worst, sampleScore(problem, index, error));
  }
  return worst;
};

/** Every combination scored, the best `keep` of them. */
export const bruteForce = (problem: Problem, form: Form, parts: Parts, keep: number): readonly Found[] =>
  combinations(parts.values, form.partCount)
    .map((partsOhm) => ({ partsOhm, score: plainScore(problem, form, partsOhm, parts.gaugeOhm) }))
    .sort(compareFound)
    .slice(0, keep);

/** The best alone, without holding a million combinations: what a plain loop would do. */
export const bruteForceBest = (problem: Problem, form: Form, parts: Parts): Found => {
  let best: Found = { score: Infinity, partsOhm: [] };
  const partsOhm = new Array<number>(form.partCount).fill(0);
  const loop = (slot: number): void => {
    if (slot === form.partCount) {
      const score = plainScore(problem, form, partsOhm, parts.gaugeOhm);
      if (score < best.score) best = { score, partsOhm: [...partsOhm] };
      return;
    }
    for (const value of parts.values) {
      partsOhm[slot] = value;
      loop(slot + 1);
    }
  };
  loop(0);
  return best;
};
