import { anyValueBound } from '../search/any-value';
import type { SearchedValues } from '../search/part-values';
import type { Problem } from '../search/problem';
import type { FormResult, Parts } from '../search/search';
import type { Topology } from '../closed-form/topology';

/**
 * What was searched, and why nothing better is left out. The search has no cut-off: every network of the topologies,
 * values and samples stated was computed or proved no better, so none of them scores below `bestScore` (dial units,
 * weighted).
 */
export type Certificate = {
  readonly combinations: number;
  readonly evaluated: number;
  readonly bestScore: number;
  /**
   * No network of these topologies scores below this with any resistances in the range, preferred or not: what closer
   * values could still bring.
   */
  readonly anyValueBound: number;
  /** False when no network at all keeps the safety rule; scores are then those of the points that break it. */
  readonly keepsRule: boolean;
  readonly values: SearchedValues;
  readonly samples: number;
  readonly topologies: readonly {
    readonly topology: Topology;
    readonly partCount: number;
    readonly combinations: number;
    readonly evaluated: number;
    readonly bestScore: number | undefined;
  }[];
};

/** Sums up the complete searches of all forms. Source: the searches; a form in which nothing is permitted has no score. */
export const certificateOf = (
  results: readonly FormResult[],
  problem: Problem,
  searched: { readonly values: SearchedValues; readonly parts: Parts },
): Certificate => {
  const plain = (score: number): number => (score > problem.penalty ? score - problem.penalty : score);
  const best = Math.min(...results.flatMap(({ found }) => found.slice(0, 1).map(({ score }) => score)));
  return {
    combinations: results.reduce((sum, result) => sum + result.combinations, 0),
    evaluated: results.reduce((sum, result) => sum + result.evaluated, 0),
    bestScore: plain(best),
    anyValueBound: plain(
      results.reduce(
        (bound, result) => Math.min(bound, anyValueBound(problem, result.form, searched.parts, bound)),
        best,
      ),
    ),
    keepsRule: best <= problem.penalty,
    values: searched.values,
    samples: problem.value.length,
    topologies: results.map(({ form, combinations, evaluated, found }) => ({
      topology: form.topology,
      partCount: form.partCount,
      combinations,
      evaluated,
      bestScore: found[0] && plain(found[0].score),
    })),
  };
};
