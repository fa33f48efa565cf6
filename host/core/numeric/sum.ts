/**
 * Sum that keeps the digits an ordinary running sum loses when large and small terms alternate.
 * Source: Neumaier, Rundungsfehleranalyse einiger Verfahren zur Summation endlicher Summen, ZAMM 54 (1974) 39-51.
 */
export function compensatedSum(values: Iterable<number>): number {
  let sum = 0;
  let lost = 0;
  for (const value of values) {
    const next = sum + value;
    lost += Math.abs(sum) >= Math.abs(value) ? sum - next + value : value - next + sum;
    sum = next;
  }
  return sum + lost;
}

/** Arithmetic mean, 0 for no values. Source: definition; the sum is compensated. */
export function mean(values: readonly number[]): number {
  return values.length === 0 ? 0 : compensatedSum(values) / values.length;
}

/** Sum of squares, compensated. Source: definition. */
export function sumOfSquares(values: readonly number[]): number {
  return compensatedSum(values.map((value) => value * value));
}

/** Root of the sum of squares of independent terms. Source: JCGM 100:2008 (GUM) equation (10), sensitivities applied. */
export const rootSumOfSquares = (values: readonly number[]): number => Math.sqrt(sumOfSquares(values));
