import type { Budget } from './budget';
import type { MonteCarlo } from './monte-carlo';

/**
 * True when the first-order interval agrees with the Monte Carlo one at both ends to half a unit in the second
 * significant digit of the standard uncertainty: then the simple budget may be used.
 * Source: JCGM 101:2008, clause 8 and 7.9.2 (numerical tolerance).
 */
export function agreesWithMonteCarlo(budget: Budget, simulated: MonteCarlo): boolean {
  const { value, expandedUncertainty, combinedStandardUncertainty } = budget;
  const tolerance = secondDigitHalf(combinedStandardUncertainty);
  const low = Math.abs(value - expandedUncertainty - simulated.symmetric.from);
  const high = Math.abs(value + expandedUncertainty - simulated.symmetric.to);
  return low <= tolerance && high <= tolerance;
}

function secondDigitHalf(standardUncertainty: number): number {
  if (standardUncertainty === 0) return 0;
  return 0.5 * 10 ** (Math.floor(Math.log10(standardUncertainty)) - 1);
}
