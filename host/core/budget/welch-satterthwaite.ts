import { type Refusal, refuse } from '../refusal';

export type EffectiveDegrees = { readonly kind: 'degrees'; readonly effective: number };

/** Contributions with sign, their degrees of freedom, their correlations and the combined standard uncertainty. */
export type DegreesQuestion = {
  readonly signed: readonly number[];
  readonly degrees: readonly number[];
  readonly rows: readonly (readonly number[])[];
  readonly combined: number;
};

/**
 * Effective degrees of freedom of a combined standard uncertainty. Inputs that are correlated with each other and share
 * one number of degrees of freedom (coefficients of one fit, say) count as one contribution.
 * Source: GUM G.4.1, formula (G.2b); grouping after Willink, Metrologia 44 (2007) 340-349 (from memory).
 * Refuses: correlated inputs with different degrees of freedom, for which the formula does not hold
 * (BUDGET_CORRELATED_DEGREES).
 */
export function effectiveDegreesOfFreedom(
  question: DegreesQuestion,
): EffectiveDegrees | Refusal<'BUDGET_CORRELATED_DEGREES'> {
  const { signed, degrees, rows, combined } = question;
  let sum = 0;
  for (const group of correlatedGroups(rows)) {
    const groupDegrees = degrees[group[0]!]!;
    if (group.some((i) => degrees[i] !== groupDegrees))
      return refuse('BUDGET_CORRELATED_DEGREES', { combinedStandardUncertainty: combined });
    let variance = 0;
    for (const i of group) for (const j of group) variance += signed[i]! * signed[j]! * rows[i]![j]!;
    sum += variance ** 2 / groupDegrees;
  }
  return { kind: 'degrees', effective: sum > 0 ? combined ** 4 / sum : Infinity };
}

/** A published 19.0 may come out as 18.998 from published inputs: that is 19, not 18. */
const WHOLE_WITHIN = 0.05;

/**
 * The whole number at which the coverage factor is looked up: truncated, at least 1.
 * Source: GUM G.4.1, note 1 and G.6.4 (truncate to the next lower integer).
 */
export function usedDegreesOfFreedom(effective: number): number {
  if (!Number.isFinite(effective)) return Infinity;
  return Math.max(1, Math.floor(effective + WHOLE_WITHIN));
}

/** Indices that hang together through correlations that are not zero. */
function correlatedGroups(rows: readonly (readonly number[])[]): number[][] {
  const groupOf = rows.map((_, i) => i);
  for (const [i, row] of rows.entries()) {
    for (let j = 0; j < i; j += 1) {
      if (row[j] === 0) continue;
      const [from, to] = [groupOf[i]!, groupOf[j]!];
      groupOf.forEach((group, k) => {
        if (group === from) groupOf[k] = to;
      });
    }
  }
  const groups = new Map<number, number[]>();
  groupOf.forEach((group, i) => groups.set(group, [...(groups.get(group) ?? []), i]));
  return [...groups.values()];
}
