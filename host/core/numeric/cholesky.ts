/**
 * Lower Cholesky factor of a symmetric positive definite matrix, A = L L', or undefined when A is not positive definite.
 * Source: Golub and Van Loan, Matrix Computations, algorithm 4.2.1 (from memory).
 */
export function choleskyFactor(matrix: readonly (readonly number[])[]): number[][] | undefined {
  const size = matrix.length;
  const lower = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  for (let i = 0; i < size; i += 1) {
    const row = lower[i]!;
    for (let j = 0; j <= i; j += 1) {
      let sum = matrix[i]![j]!;
      for (let k = 0; k < j; k += 1) sum -= row[k]! * lower[j]![k]!;
      if (i !== j) row[j] = sum / lower[j]![j]!;
      // Written so that NaN fails.
      else if (!(sum > 0)) return undefined;
      else row[i] = Math.sqrt(sum);
    }
  }
  return lower;
}

/** L^-1 b for a lower triangular L: turns correlated residuals into independent ones. Source: forward substitution. */
export function forwardSubstitute(
  lower: readonly (readonly number[])[],
  vector: readonly number[],
): number[] {
  const out: number[] = [];
  for (const [i, row] of lower.entries()) {
    let sum = vector[i]!;
    for (let k = 0; k < i; k += 1) sum -= row[k]! * out[k]!;
    out.push(sum / row[i]!);
  }
  return out;
}

/** A^-1 b from the factor L of A. Source: forward, then back substitution. */
export function choleskySolve(lower: readonly (readonly number[])[], vector: readonly number[]): number[] {
  const out = forwardSubstitute(lower, vector);
  for (let i = lower.length - 1; i >= 0; i -= 1) {
    for (let k = i + 1; k < lower.length; k += 1) out[i]! -= lower[k]![i]! * out[k]!;
    out[i]! /= lower[i]![i]!;
  }
  return out;
}
