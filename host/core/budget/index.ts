export { makeBudget, MOST_COMPONENTS, USUAL_PROBABILITY } from './budget';
export type { Budget, BudgetComponent, BudgetLine, BudgetOptions } from './budget';
export type { CorrelationPair } from './correlation';
export { standardUncertaintyOf } from './distribution';
export type { Distribution, DistributionKind } from './distribution';
export type { CoverageInterval } from './interval';
export { FEWEST_DRAWS, monteCarlo, MOST_DRAWS, propagate } from './monte-carlo';
export type { MonteCarlo, MonteCarloOptions } from './monte-carlo';
export { agreesWithMonteCarlo } from './validation';
