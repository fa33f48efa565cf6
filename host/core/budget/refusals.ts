type Bare = Readonly<Record<string, never>>;

/** Which number of a component cannot be. */
export type ComponentFault = {
  readonly of: 'value' | 'sensitivity' | 'degrees' | 'width' | 'student-t';
  readonly given: number;
};

/** Codes of this folder's refusals and their figures. */
export type BudgetRefusals = {
  readonly BUDGET_EMPTY: Bare;
  readonly BUDGET_TOO_MANY: { readonly componentCount: number; readonly most: number };
  readonly BUDGET_COMPONENT:
    | { readonly number: number; readonly name: string; readonly fault: ComponentFault }
    | { readonly result: number };
  readonly BUDGET_NAME: { readonly name: string };
  readonly BUDGET_PROBABILITY: { readonly probability: number };
  readonly BUDGET_COVERAGE_FACTOR: { readonly coverageFactor: number };
  readonly BUDGET_CORRELATION:
    | {
        readonly between: readonly [string, string];
        readonly wrong: 'no-such-name' | 'with-itself' | 'coefficient' | 'twice';
        readonly coefficient: number;
      }
    | { readonly wrong: 'not-together' };
  readonly BUDGET_CORRELATED_DEGREES: { readonly combinedStandardUncertainty: number };
  readonly MONTE_CARLO_NOT_FINITE: {
    readonly inputs: readonly { readonly name: string; readonly value: number }[];
  };
  readonly MONTE_CARLO_DRAWS: { readonly draws: number; readonly fewest: number; readonly most: number };
  readonly MONTE_CARLO_SEED: { readonly seed: number };
};
