import { matrixFromRows, quadraticForm } from './matrix';
import { inverseNormal, qrFactor, solveLeastSquares } from './qr';
import { sumOfSquares } from './sum';

/** Equations row . c = target, each with a weight 1/variance (or 1 throughout). */
export type LinearEquations = {
  readonly rows: readonly (readonly number[])[];
  readonly targets: readonly number[];
  readonly weights: readonly number[];
};

export type LinearFit = {
  readonly coefficients: readonly number[];
  /** (A'WA)^-1: the covariance when weights are 1/variance, to be multiplied by the residual variance when they are 1. */
  readonly inverseNormal: readonly (readonly number[])[];
  /** Weighted sum of squared residuals. */
  readonly chiSquared: number;
  /** Residuals times the root of their weights, in the order of the equations. */
  readonly residuals: readonly number[];
  /** How much each equation determines its own fitted value: 0 to 1, summing to the number of unknowns. */
  readonly leverages: readonly number[];
};

/**
 * Weighted linear least squares, exact when there are as many equations as unknowns. Columns are scaled first, since
 * 1, ln R and (ln R)^3 differ by three orders. Undefined when the equations do not determine the unknowns.
 * Source: Golub and Van Loan, Matrix Computations, section 5.3 (from memory; checked by published fits).
 */
export function weightedLinearFit({ rows, targets, weights }: LinearEquations): LinearFit | undefined {
  const roots = weights.map(Math.sqrt);
  const weighted = rows.map((row, i) => row.map((entry) => entry * roots[i]!));
  const count = rows[0]?.length ?? 0;
  const scales = Array.from({ length: count }, (_, j) => columnNorm(weighted, j));
  const scaled = weighted.map((row) => row.map((entry, j) => entry / scales[j]!));
  const factors = qrFactor(matrixFromRows(scaled));
  if (factors.rank < count || rows.length < count) return undefined;
  const solution = solveLeastSquares(
    factors,
    targets.map((target, i) => target * roots[i]!),
  );
  const coefficients = Array.from(solution, (value, j) => value / scales[j]!);
  const residuals = rows.map((row, i) => roots[i]! * (targets[i]! - dot(row, coefficients)));
  const inverse = inverseNormal(factors).map((row, i) =>
    row.map((entry, j) => entry / (scales[i]! * scales[j]!)),
  );
  const leverages = weighted.map((row) => quadraticForm(inverse, row));
  return { coefficients, inverseNormal: inverse, chiSquared: sumOfSquares(residuals), residuals, leverages };
}

const dot = (one: readonly number[], other: readonly number[]): number =>
  one.reduce((sum, entry, index) => sum + entry * other[index]!, 0);

const columnNorm = (rows: readonly (readonly number[])[], column: number): number =>
  Math.sqrt(sumOfSquares(rows.map((row) => row[column]!))) || 1;
