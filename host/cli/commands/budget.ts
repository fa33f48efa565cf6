import {
  agreesWithMonteCarlo,
  makeBudget,
  monteCarlo,
  USUAL_PROBABILITY,
  type Budget,
  type MonteCarlo,
} from '../../core/budget';
import { budgetFromJson, type BudgetQuestion } from '../input/budget-file';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../command';
import { InputError, refusedError } from '../input-error';
import { parseJson, readText } from '../input/input-file';
import type { Arguments } from '../options';
import type { MonteCarloJson } from '../output/answers/figures';
import type { AnswerOf } from '../output/schemas';
import { significant, textTable } from '../output/text-table';
import { plain } from '../../words/notation';
import { saidRefusal } from '../../words/refusal';

const DEFAULT_SEED = 1;

/** An uncertainty budget by the GUM, checked by simulation on request. */
export const budgetCommand: Command = {
  name: 'budget',
  summary: 'an uncertainty budget: combined, degrees of freedom, coverage factor, expanded',
  usage: 'FILE.json [--monte-carlo N --seed S] [--json]',
  example: 'needlewright budget ohmmeter.json --monte-carlo 100000',
  details: [
    'In: {"name", "unit", "components": [{"name", "value", "distribution", a width, "degrees_of_freedom",',
    '"sensitivity"}], "correlations": [{"between": [name, name], "coefficient"}], "probability"}.',
    'Distributions: normal, rectangular, triangular, arcsine, student-t. Width: standard_uncertainty, half_width, scale,',
    'or expanded_uncertainty with coverage_factor. The result is the sum of sensitivity times value.',
  ],
  options: {
    'monte-carlo': {
      kind: 'number',
      value: 'N',
      min: 1000,
      max: 10_000_000,
      isWhole: true,
      help: 'simulate so many draws as well',
    },
    seed: {
      kind: 'number',
      value: 'S',
      min: 0,
      max: 0xffff_ffff,
      isWhole: true,
      help: `seed of the draws; ${DEFAULT_SEED} when left out`,
    },
    ...JSON_OPTION,
  },
  words: { least: 1, most: 1 },
  run,
};

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  const path = given.words[0] ?? '-';
  const question = budgetFromJson(path, parseJson(path, await readText(path, surroundings)));
  const budget = makeBudget(question.components, question.options);
  if (budget.kind === 'refused') {
    // Degrees of freedom that cannot be combined are a limit of the method; everything else is a fault of the file.
    if (budget.code !== 'BUDGET_CORRELATED_DEGREES')
      throw new InputError(saidRefusal(budget, plain), { file: path });
    const alone = simulate(given, question);
    if (alone === undefined) throw refusedError(budget);
    return simulatedOnly(question, alone, saidRefusal(budget, plain));
  }
  const simulated = simulate(given, question);
  return { text: budgetText(question, budget, simulated), json: budgetJson(question, budget, simulated) };
}

function simulate(given: Arguments, question: BudgetQuestion): MonteCarlo | undefined {
  const draws = given.number('monte-carlo');
  if (draws === undefined) return undefined;
  const { correlations, probability = USUAL_PROBABILITY } = question.options;
  const result = monteCarlo(question.components, {
    draws,
    seed: given.number('seed') ?? DEFAULT_SEED,
    probability,
    value: question.options.value,
    ...(correlations === undefined ? {} : { correlations }),
  });
  if (result.kind === 'refused') throw refusedError(result);
  return result;
}

/** Where the first-order method has no answer and the simulation has: the same fields, those of the method empty. */
const simulatedOnly = ({ name, unit }: BudgetQuestion, simulated: MonteCarlo, why: string): Report => ({
  text: [`${name} in ${unit}, by simulation alone`, ...simulationText(simulated, unit)],
  json: {
    schema: 'needlewright/budget/1',
    name,
    unit,
    value: simulated.mean,
    combined_standard_uncertainty: simulated.standardDeviation,
    effective_degrees_of_freedom: null,
    coverage_factor: null,
    expanded_uncertainty: null,
    monte_carlo: simulationJson(simulated),
    warnings: [why],
  },
  warnings: [why],
});

const orInfinite = (degrees: number | null): string =>
  degrees === null ? 'infinite' : significant(degrees, 3);

function budgetText(
  { name, unit }: BudgetQuestion,
  budget: Budget,
  simulated: MonteCarlo | undefined,
): string[] {
  const percent = significant(budget.probability * 100, 3);
  return [
    `${name} = ${significant(budget.value, 6)} ${unit} \u00b1 ${significant(budget.expandedUncertainty, 2)} ${unit} (${percent} %, k = ${significant(budget.coverageFactor, 3)})`,
    `  combined standard uncertainty ${significant(budget.combinedStandardUncertainty, 3)} ${unit}, effective degrees of freedom ${orInfinite(budget.effectiveDegreesOfFreedom)}`,
    '',
    ...textTable(
      [
        { title: 'component', align: 'left' },
        { title: 'distribution', align: 'left' },
        { title: 'std uncertainty' },
        { title: 'sensitivity' },
        { title: 'degrees' },
        { title: 'contribution' },
        { title: 'share %' },
      ],
      budget.lines.map((line) => [
        line.name,
        line.distribution,
        significant(line.standardUncertainty, 3),
        significant(line.sensitivity, 3),
        orInfinite(line.degreesOfFreedom),
        significant(line.contribution, 3),
        (line.varianceShare * 100).toFixed(1),
      ]),
    ),
    ...(simulated === undefined ? [] : ['', ...simulationText(simulated, unit)]),
  ];
}

const simulationText = (simulated: MonteCarlo, unit: string): string[] => [
  `simulated (${simulated.draws} draws, seed ${simulated.seed}): mean ${significant(simulated.mean, 6)} ${unit}, standard deviation ${significant(simulated.standardDeviation, 3)} ${unit}`,
  `  shortest interval ${significant(simulated.shortest.from, 4)} to ${significant(simulated.shortest.to, 4)}, symmetric ${significant(simulated.symmetric.from, 4)} to ${significant(simulated.symmetric.to, 4)} ${unit}`,
];

function budgetJson(
  { name, unit }: BudgetQuestion,
  budget: Budget,
  simulated: MonteCarlo | undefined,
): AnswerOf<'budget'> {
  return {
    schema: 'needlewright/budget/1',
    name,
    unit,
    value: budget.value,
    combined_standard_uncertainty: budget.combinedStandardUncertainty,
    effective_degrees_of_freedom: budget.effectiveDegreesOfFreedom,
    degrees_of_freedom_used: budget.degreesOfFreedomUsed,
    probability: budget.probability,
    coverage_factor: budget.coverageFactor,
    expanded_uncertainty: budget.expandedUncertainty,
    components: budget.lines.map((line) => ({
      name: line.name,
      value: line.value,
      distribution: line.distribution,
      standard_uncertainty: line.standardUncertainty,
      degrees_of_freedom: line.degreesOfFreedom,
      sensitivity: line.sensitivity,
      contribution: line.contribution,
      variance_share: line.varianceShare,
    })),
    ...(simulated === undefined ? {} : { monte_carlo: simulationJson(simulated, budget) }),
  };
}

const simulationJson = (simulated: MonteCarlo, budget?: Budget): MonteCarloJson => ({
  draws: simulated.draws,
  seed: simulated.seed,
  mean: simulated.mean,
  standard_deviation: simulated.standardDeviation,
  mean_standard_error: simulated.meanStandardError,
  shortest: { from: simulated.shortest.from, to: simulated.shortest.to },
  symmetric: { from: simulated.symmetric.from, to: simulated.symmetric.to },
  gum_validated: budget === undefined ? null : agreesWithMonteCarlo(budget, simulated),
});
