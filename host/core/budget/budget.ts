import { compensatedSum } from '../numeric/sum';
import { coverageFactor } from '../numeric/student-t';
import { isRefused, type Refusal, refuse } from '../refusal';
import type { ComponentFault } from './refusals';
import { type CorrelationPair, correlationMatrix } from './correlation';
import {
  type Distribution,
  distributionFault,
  ownDegreesOfFreedom,
  standardUncertaintyOf,
} from './distribution';
import { effectiveDegreesOfFreedom, usedDegreesOfFreedom } from './welch-satterthwaite';

/** One input of a measurement: its best value, how it may lie about it, and what it does to the result. */
export type BudgetComponent = {
  readonly name: string;
  readonly value: number;
  readonly distribution: Distribution;
  /** How well the width itself is known; without it those of a Student t, otherwise infinite (null says infinite too). */
  readonly degreesOfFreedom?: number | null | undefined;
  /** Change of the result for one unit of this input; 1 when not given. */
  readonly sensitivity?: number | undefined;
};

export type BudgetOptions = {
  readonly correlations?: readonly CorrelationPair[] | undefined;
  /** Probability of the expanded uncertainty; 0.95 when not given. */
  readonly probability?: number | undefined;
  /** Coverage factor to use instead of one from Student t. */
  readonly coverageFactor?: number | undefined;
  /** Value of the result; the sum of sensitivity times value when not given. */
  readonly value?: number | undefined;
};

/** A component as it enters the sum. */
export type BudgetLine = {
  readonly name: string;
  readonly value: number;
  readonly distribution: Distribution['kind'];
  readonly standardUncertainty: number;
  /** null means infinite. */
  readonly degreesOfFreedom: number | null;
  readonly sensitivity: number;
  /** |sensitivity| times standard uncertainty, in units of the result. */
  readonly contribution: number;
  /** Share of the combined variance, correlation terms split evenly; the shares sum to 1, one may be negative. */
  readonly varianceShare: number;
};

export type Budget = {
  readonly kind: 'budget';
  readonly value: number;
  readonly lines: readonly BudgetLine[];
  readonly combinedStandardUncertainty: number;
  /** null means infinite. */
  readonly effectiveDegreesOfFreedom: number | null;
  /** What the coverage factor was taken at: truncated to a whole number. null means infinite. */
  readonly degreesOfFreedomUsed: number | null;
  readonly probability: number;
  readonly coverageFactor: number;
  readonly expandedUncertainty: number;
};

export const USUAL_PROBABILITY = 0.95;
const MOST_COMPONENTS = 200;

/**
 * First-order uncertainty budget of y = sum of sensitivity times input, correlated inputs included.
 * Source: JCGM 100:2008 (GUM) 5.1.2, 5.2.2, G.4 and G.6.4.
 * Refuses: BUDGET_EMPTY, BUDGET_TOO_MANY, BUDGET_COMPONENT (a number that cannot be, the component named),
 * BUDGET_NAME (given twice), BUDGET_CORRELATION, BUDGET_CORRELATED_DEGREES (Welch-Satterthwaite does not hold; give a
 * coverage factor), BUDGET_PROBABILITY, BUDGET_COVERAGE_FACTOR.
 */
export function makeBudget(
  components: readonly BudgetComponent[],
  options: BudgetOptions = {},
): Budget | Refusal {
  const fault = inputFault(components, options);
  if (fault !== undefined) return fault;
  const names = components.map(({ name }) => name);
  const correlation = correlationMatrix(names, options.correlations ?? []);
  if (isRefused(correlation)) return correlation;
  const signed = components.map((each) => sensitivityOf(each) * standardUncertaintyOf(each.distribution));
  const terms = signed.map((one, i) =>
    compensatedSum(signed.map((other, j) => correlation.rows[i]![j]! * one * other)),
  );
  const variance = Math.max(0, compensatedSum(terms));
  const combined = Math.sqrt(variance);
  const probability = options.probability ?? USUAL_PROBABILITY;
  const coverage = coverageOf(
    { components, signed, rows: correlation.rows, combined },
    { ...options, probability },
  );
  if (isRefused(coverage)) return coverage;
  return {
    kind: 'budget',
    value: options.value ?? compensatedSum(components.map((each) => sensitivityOf(each) * each.value)),
    lines: components.map((each, i) => lineOf(each, variance === 0 ? 0 : terms[i]! / variance)),
    combinedStandardUncertainty: combined,
    effectiveDegreesOfFreedom: finiteOrNull(coverage.effective),
    degreesOfFreedomUsed: finiteOrNull(coverage.used),
    probability,
    coverageFactor: coverage.factor,
    expandedUncertainty: coverage.factor * combined,
  };
}

/** Degrees of freedom of a component: as given, otherwise its distribution's own. Source: GUM G.4.2. */
const degreesOf = ({ degreesOfFreedom, distribution }: BudgetComponent): number =>
  degreesOfFreedom === null ? Infinity : (degreesOfFreedom ?? ownDegreesOfFreedom(distribution));

const sensitivityOf = ({ sensitivity }: BudgetComponent): number => sensitivity ?? 1;
const finiteOrNull = (degrees: number): number | null => (Number.isFinite(degrees) ? degrees : null);

type Sum = {
  readonly components: readonly BudgetComponent[];
  readonly signed: readonly number[];
  readonly rows: readonly (readonly number[])[];
  readonly combined: number;
};
type Coverage = { readonly kind: 'coverage'; effective: number; used: number; factor: number };

function coverageOf(
  { components, signed, rows, combined }: Sum,
  { coverageFactor: given, probability }: BudgetOptions & { probability: number },
): Coverage | Refusal {
  const degrees = components.map(degreesOf);
  const found = effectiveDegreesOfFreedom({ signed, degrees, rows, combined });
  if (given !== undefined) {
    const effective = isRefused(found) ? Infinity : found.effective;
    return { kind: 'coverage', effective, used: Infinity, factor: given };
  }
  if (isRefused(found)) return found;
  const used = usedDegreesOfFreedom(found.effective);
  return { kind: 'coverage', effective: found.effective, used, factor: coverageFactor(probability, used) };
}

function lineOf(component: BudgetComponent, varianceShare: number): BudgetLine {
  const standardUncertainty = standardUncertaintyOf(component.distribution);
  const sensitivity = sensitivityOf(component);
  return {
    name: component.name,
    value: component.value,
    distribution: component.distribution.kind,
    standardUncertainty,
    degreesOfFreedom: finiteOrNull(degreesOf(component)),
    sensitivity,
    contribution: Math.abs(sensitivity) * standardUncertainty,
    varianceShare,
  };
}

function inputFault(components: readonly BudgetComponent[], options: BudgetOptions): Refusal | undefined {
  if (components.length === 0) return refuse('BUDGET_EMPTY', {});
  if (components.length > MOST_COMPONENTS) {
    return refuse('BUDGET_TOO_MANY', { componentCount: components.length, most: MOST_COMPONENTS });
  }
  for (const [index, component] of components.entries()) {
    const fault = componentFault(component);
    if (fault !== undefined)
      return refuse('BUDGET_COMPONENT', { number: index + 1, name: component.name, fault });
  }
  const names = components.map(({ name }) => name);
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice !== undefined) return refuse('BUDGET_NAME', { name: twice });
  const { probability = USUAL_PROBABILITY, coverageFactor: factor = 2, value = 0 } = options;
  if (!(probability > 0 && probability < 1)) {
    return refuse('BUDGET_PROBABILITY', { probability });
  }
  if (!(factor > 0 && Number.isFinite(factor))) {
    return refuse('BUDGET_COVERAGE_FACTOR', { coverageFactor: factor });
  }
  return Number.isFinite(value) ? undefined : refuse('BUDGET_COMPONENT', { result: value });
}

function componentFault(component: BudgetComponent): ComponentFault | undefined {
  const { value, distribution } = component;
  if (!Number.isFinite(value)) return { of: 'value', given: value };
  const sensitivity = sensitivityOf(component);
  if (!Number.isFinite(sensitivity)) return { of: 'sensitivity', given: sensitivity };
  const degrees = degreesOf(component);
  return degrees > 0 ? distributionFault(distribution) : { of: 'degrees', given: degrees };
}
