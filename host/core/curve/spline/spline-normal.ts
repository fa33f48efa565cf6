import { cubicBasis } from '../../numeric/b-spline';
import { rootWeights } from '../readings/fit-context';
import type { FitContext } from '../readings/fit-context';
import { pairedHalf } from '../readings/legs';
import { effectiveSum, whiten } from '../readings/whitening';

/** Ridge that fixes coefficients no reading reaches, as a part of the mean diagonal. */
const RIDGE = 1e-9;

/** Uniform knots of the spline on the axis. */
export type Grid = { readonly first: number; readonly spacing: number; readonly intervals: number };

/** Everything about the readings that the normal equations need. */
export type Normal = {
  readonly gram: number[][];
  readonly right: number[];
  readonly square: number;
  /** The part of `square` that repeats do not vouch for, see `effectiveSum`. */
  readonly discount: number;
};

/** The readings as normal equations in the spline's coefficients and the half difference of the legs. Source: least squares. */
export function normalEquations(context: FitContext, positions: readonly number[], grid: Grid): Normal {
  const { fitted } = context.observations;
  const size = grid.intervals + 3;
  const count = size + (context.hasHalf ? 1 : 0);
  const roots = rootWeights(context);
  const columns = Array.from({ length: count }, () => new Float64Array(fitted.length));
  fitted.forEach((row, i) => {
    const { index, values } = cubicBasis(positions[i]!, grid);
    values.forEach((value, k) => (columns[index + k]![i] = value * roots[i]!));
    if (context.hasHalf) columns[size]![i] = row.legSign * roots[i]!;
  });
  const white = columns.map((column) => whiten(context.whitening, column));
  const y = whiten(
    context.whitening,
    Float64Array.from(fitted, (row, i) => row.reading * roots[i]!),
  );
  return {
    gram: white.map((one) => white.map((other) => dot(one, other))),
    right: white.map((one) => dot(one, y)),
    square: dot(y, y),
    discount: repeatDiscount(context, roots),
  };
}

function repeatDiscount(
  { observations: { fitted }, whitening, hasHalf }: FitContext,
  roots: Float64Array,
): number {
  const half = hasHalf ? pairedHalf(fitted) : 0;
  // Within a setting the law is one number, which the common part takes away: any will do.
  const white = whiten(
    whitening,
    Float64Array.from(fitted, (row, i) => (row.reading - half * row.legSign) * roots[i]!),
  );
  const all = effectiveSum({ ...whitening, repeatsWorth: 1 }, white);
  return all - effectiveSum(whitening, white);
}

/** D'D of second differences: what a straight line does not pay. Source: Eilers and Marx (1996). */
export function bendingPenalty(size: number): number[][] {
  const penalty = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  for (let row = 0; row + 2 < size; row += 1)
    [1, -2, 1].forEach((a, i) => [1, -2, 1].forEach((b, j) => (penalty[row + i]![row + j]! += a * b)));
  return penalty;
}

/** Gram matrix with the penalty at one strength. Source: penalised least squares. */
export function penalised(
  normal: Normal,
  penalty: readonly (readonly number[])[],
  strength: number,
): number[][] {
  const size = penalty.length;
  const mean = normal.gram.reduce((sum, row, i) => sum + row[i]!, 0) / normal.gram.length;
  return normal.gram.map((row, i) =>
    row.map(
      (entry, j) =>
        entry +
        (i < size && j < size ? strength * penalty[i]![j]! : 0) +
        (i === j && i < size ? RIDGE * mean : 0),
    ),
  );
}

/** Scalar product. Source: definition. */
export function dot(one: ArrayLike<number>, other: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < one.length; i += 1) sum += one[i]! * other[i]!;
  return sum;
}
