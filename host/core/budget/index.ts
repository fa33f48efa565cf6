export { makeBudget, USUAL_PROBABILITY } from './budget';
export type { Budget, BudgetComponent, BudgetLine, BudgetOptions } from './budget';
export type { CorrelationPair } from './correlation';
export { standardUncertaintyOf } from './distribution';
export type { Distribution } from './distribution';
export type { CoverageInterval } from './interval';
export { monteCarlo, propagate } from './monte-carlo';
export type { MonteCarlo, MonteCarloOptions } from './monte-carlo';
export { agreesWithMonteCarlo } from './validation';
