import { randomSource, type RandomSource } from '../numeric/random';
import { isRefused, type Refusal, refuse } from '../refusal';
import type { BudgetComponent } from './budget';
import { type CorrelationMatrix, type CorrelationPair, correlationMatrix } from './correlation';
import { deviationAtScore, distributionFault, drawDeviation } from './distribution';
import { type CoverageInterval, shortestInterval, symmetricInterval } from './interval';

export type MonteCarloOptions = {
  readonly draws: number;
  readonly seed: number;
  readonly probability?: number | undefined;
  readonly correlations?: readonly CorrelationPair[] | undefined;
  /** Value of the result where it is stated by itself: the sum of the components is then only what lies about it. */
  readonly value?: number | undefined;
};

export type MonteCarlo = {
  readonly kind: 'monte-carlo';
  readonly draws: number;
  readonly seed: number;
  readonly probability: number;
  readonly mean: number;
  readonly standardDeviation: number;
  /** Standard error of the mean by the number of draws alone. */
  readonly meanStandardError: number;
  /** Equal probability left out on both sides. */
  readonly symmetric: CoverageInterval;
  readonly shortest: CoverageInterval;
};

/** Fewer say nothing about a 95 % interval. Source: JCGM 101:2008, 7.2.2 asks for far more, 10^6 as a rule. */
const FEWEST_DRAWS = 1_000;
/** 80 MB of results; more digits than any input has. */
const MOST_DRAWS = 10_000_000;

/**
 * Distribution of a linear result, sum of sensitivity times input.
 * Source: JCGM 101:2008 (GUM Supplement 1), clause 7. Refuses: as `propagate`.
 */
export function monteCarlo(
  components: readonly BudgetComponent[],
  options: MonteCarloOptions,
): MonteCarlo | Refusal {
  const sensitivities = components.map(({ sensitivity }) => sensitivity ?? 1);
  const centre = components.reduce((sum, { value }, i) => sum + sensitivities[i]! * value, 0);
  const shift = (options.value ?? centre) - centre;
  const linear = (inputs: Float64Array): number => {
    let sum = shift;
    for (let i = 0; i < inputs.length; i += 1) sum += sensitivities[i]! * inputs[i]!;
    return sum;
  };
  return propagate(linear, components.map(withKnownWidth), options);
}

/**
 * A normal component of few degrees of freedom is drawn as a t scaled by its standard uncertainty: its width is itself
 * only known from so many readings. Source: JCGM 101:2008, 6.4.9.2.
 */
function withKnownWidth(component: BudgetComponent): BudgetComponent {
  const { distribution, degreesOfFreedom } = component;
  if (distribution.kind !== 'normal' || degreesOfFreedom === undefined || degreesOfFreedom === null)
    return component;
  if (!Number.isFinite(degreesOfFreedom)) return component;
  const scale = distribution.standardUncertainty;
  return { ...component, distribution: { kind: 'student-t', scale, degreesOfFreedom } };
}

/**
 * Distribution of any result computed from the inputs. The same seed gives the same answer everywhere. Correlated
 * inputs are drawn through a Gaussian copula: exact for normal inputs, close for other shapes.
 * Source: JCGM 101:2008, clause 7; 6.4.8 for correlated normal inputs.
 * Refuses: BUDGET_EMPTY, BUDGET_COMPONENT, BUDGET_CORRELATION, MONTE_CARLO_DRAWS, MONTE_CARLO_SEED, BUDGET_PROBABILITY,
 * MONTE_CARLO_NOT_FINITE (the model had no value at a drawn place, which is named).
 */
export function propagate(
  model: (inputs: Float64Array) => number,
  components: readonly BudgetComponent[],
  options: MonteCarloOptions,
): MonteCarlo | Refusal {
  const fault = questionFault(components, options);
  if (fault !== undefined) return fault;
  const names = components.map(({ name }) => name);
  const correlation = correlationMatrix(names, options.correlations ?? []);
  if (isRefused(correlation)) return correlation;
  const drawInputs = inputDrawer(components, correlation, randomSource(options.seed));
  const results = new Float64Array(options.draws);
  for (let draw = 0; draw < options.draws; draw += 1) {
    const inputs = drawInputs();
    const result = model(inputs);
    if (!Number.isFinite(result)) return notFinite(names, inputs);
    results[draw] = result;
  }
  return summarise(results, options);
}

const notFinite = (names: readonly string[], inputs: Float64Array): Refusal =>
  refuse('MONTE_CARLO_NOT_FINITE', {
    inputs: names.map((name, i) => ({ name, value: inputs[i]! })),
  });

function summarise(results: Float64Array, options: MonteCarloOptions): MonteCarlo {
  const { draws, seed, probability = 0.95 } = options;
  // Centred on the first result: the spread may be a millionth of the value.
  const centre = results[0]!;
  let sum = 0;
  for (const result of results) sum += result - centre;
  const mean = centre + sum / draws;
  let squares = 0;
  for (const result of results) squares += (result - mean) ** 2;
  const standardDeviation = Math.sqrt(squares / (draws - 1));
  const sorted = results.sort();
  return {
    kind: 'monte-carlo',
    draws,
    seed,
    probability,
    mean,
    standardDeviation,
    meanStandardError: standardDeviation / Math.sqrt(draws),
    symmetric: symmetricInterval(sorted, probability),
    shortest: shortestInterval(sorted, probability),
  };
}

function inputDrawer(
  components: readonly BudgetComponent[],
  { rows, factor }: CorrelationMatrix,
  random: RandomSource,
): () => Float64Array {
  const inputs = new Float64Array(components.length);
  const scores = new Float64Array(components.length);
  const isCorrelated = rows.map((row, i) => row.some((entry, j) => i !== j && entry !== 0));
  const anyCorrelated = isCorrelated.some(Boolean);
  return () => {
    if (anyCorrelated) for (let i = 0; i < scores.length; i += 1) scores[i] = random.normal();
    for (const [i, { value, distribution }] of components.entries()) {
      inputs[i] =
        value +
        (isCorrelated[i] === true
          ? deviationAtScore(distribution, mixed(factor[i]!, scores, i))
          : drawDeviation(distribution, random));
    }
    return inputs;
  };
}

function mixed(row: readonly number[], scores: Float64Array, last: number): number {
  let sum = 0;
  for (let k = 0; k <= last; k += 1) sum += row[k]! * scores[k]!;
  return sum;
}

function questionFault(
  components: readonly BudgetComponent[],
  { draws, seed, probability = 0.95 }: MonteCarloOptions,
): Refusal | undefined {
  if (components.length === 0) return refuse('BUDGET_EMPTY', {});
  for (const [index, { name, value, distribution }] of components.entries()) {
    const fault = Number.isFinite(value)
      ? distributionFault(distribution)
      : { of: 'value' as const, given: value };
    if (fault !== undefined) return refuse('BUDGET_COMPONENT', { number: index + 1, name, fault });
  }
  if (!(Number.isInteger(draws) && draws >= FEWEST_DRAWS && draws <= MOST_DRAWS)) {
    return refuse('MONTE_CARLO_DRAWS', { draws, fewest: FEWEST_DRAWS, most: MOST_DRAWS });
  }
  if (!Number.isSafeInteger(seed)) return refuse('MONTE_CARLO_SEED', { seed });
  if (!(probability > 0 && probability < 1)) {
    return refuse('BUDGET_PROBABILITY', { probability });
  }
  return undefined;
}
