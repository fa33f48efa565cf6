/** Normal quantile of 99.9 %: a misfit rarer than that contradicts the law. */
const MISFIT_Z = 3.09;

/** True when chi-squared exceeds its 99.9 % point. Source: Wilson and Hilferty, PNAS 17 (1931) 684-688. */
export function exceedsChance(chiSquared: number, degreesOfFreedom: number): boolean {
  if (degreesOfFreedom <= 0) return false;
  const ninth = 2 / (9 * degreesOfFreedom);
  return chiSquared > degreesOfFreedom * (1 - ninth + MISFIT_Z * Math.sqrt(ninth)) ** 3;
}
