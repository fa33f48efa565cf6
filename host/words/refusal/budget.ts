import type { BudgetRefusals, ComponentFault } from '../../core/budget/refusals';
import { listed, type RefusalWords } from '../sentence';

type Words = { readonly [Code in keyof BudgetRefusals]: RefusalWords<BudgetRefusals[Code]> };

function faultWords({ of, given }: ComponentFault): string {
  switch (of) {
    case 'value':
      return `its value is ${given}, not a finite number`;
    case 'sensitivity':
      return `its sensitivity is ${given}, not a finite number`;
    case 'degrees':
      return `its degrees of freedom are ${given}, not above 0`;
    case 'width':
      return `its width is ${given}, not 0 or more`;
    case 'student-t':
      return `a Student t of ${given} degrees of freedom has no standard deviation, so its scale is needed`;
  }
}

const CORRELATION: Readonly<Record<'no-such-name' | 'with-itself' | 'coefficient' | 'twice', string>> = {
  'no-such-name': 'there is no component of that name',
  'with-itself': 'a component is correlated with itself by 1 already',
  coefficient: 'the coefficient must lie between -1 and 1',
  twice: 'the pair is given twice',
};

/** Refusals of uncertainty budgets and their simulation. */
export const budgetRefusals: Words = {
  BUDGET_EMPTY: { says: () => 'The budget has no component.', remedy: 'Give at least one.' },
  BUDGET_TOO_MANY: {
    says: ({ componentCount, most }) => `${componentCount} components are too many; the limit is ${most}.`,
    remedy: 'Combine some of them first.',
  },
  BUDGET_COMPONENT: {
    says: (slots) =>
      'result' in slots
        ? `The value of the result is ${slots.result}, not a finite number.`
        : `Component ${slots.number} (${slots.name}): ${faultWords(slots.fault)}.`,
    remedy: 'Correct it.',
  },
  BUDGET_NAME: {
    says: ({ name }) => `Two components have the name "${name}".`,
    remedy: 'Rename one of them.',
  },
  BUDGET_PROBABILITY: {
    says: ({ probability }) => `A coverage probability of ${probability} is not possible.`,
    remedy: 'Give a number between 0 and 1, for example 0.95.',
  },
  BUDGET_COVERAGE_FACTOR: {
    says: ({ coverageFactor }) => `A coverage factor of ${coverageFactor} is not possible.`,
    remedy: 'Give a number above 0, for example 2.',
  },
  BUDGET_CORRELATION: {
    says: (slots) =>
      slots.wrong === 'not-together'
        ? 'These correlations cannot all hold at once (the matrix has a negative eigenvalue).'
        : `Correlation of "${slots.between[0]}" and "${slots.between[1]}" (${slots.coefficient}): ${CORRELATION[slots.wrong]}.`,
    remedy: 'Correct the correlations.',
  },
  BUDGET_CORRELATED_DEGREES: {
    says: ({ combinedStandardUncertainty }, say) =>
      `Correlated components have different degrees of freedom, so Welch-Satterthwaite does not hold (combined standard uncertainty ${say.number(combinedStandardUncertainty)}).`,
    remedy: 'State a coverage factor, or use --monte-carlo.',
  },
  MONTE_CARLO_NOT_FINITE: {
    says: ({ inputs }, say) =>
      `The model gives no number at ${listed(inputs.map(({ name, value }) => `${name} = ${say.number(value)}`))}.`,
    remedy: 'Narrow the inputs.',
  },
  MONTE_CARLO_DRAWS: {
    says: ({ draws, fewest, most }) => `${draws} draws are not possible; ${fewest} to ${most} are.`,
    remedy: 'Give a whole number.',
  },
  MONTE_CARLO_SEED: { says: ({ seed }) => `The seed is ${seed}.`, remedy: 'Give a whole number.' },
};
