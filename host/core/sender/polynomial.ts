/** Value of a polynomial, lowest power first. Source: Horner's scheme. */
export const polynomialOhm = (coefficients: readonly number[], argument: number): number =>
  coefficients.reduceRight((sum, coefficient) => sum * argument + coefficient, 0);

/** Derivatives with respect to the coefficients: the powers of the argument. Source: definition. */
export const polynomialGradient = (coefficients: readonly number[], argument: number): readonly number[] =>
  coefficients.map((_, power) => argument ** power);
