import { cubicBasis } from '../../numeric/b-spline';
import { nonnegativeMinimum } from '../../numeric/nonnegative';
import type { FitContext } from '../readings/fit-context';
import { axisPosition } from '../readings/log-axis';
import { dot, penalised } from './spline-normal';
import type { Grid, Normal } from './spline-normal';

export type Bending = {
  /** The unbounded solution. */
  readonly one: { readonly coefficients: readonly number[]; readonly strength: number };
  readonly sense: number;
  readonly context: FitContext;
  readonly grid: Grid;
};

/** The same strength with increments of the right sign and the stops respected; undefined when it already was so. Source: `nonnegativeMinimum`. */
export function monotone(
  normal: Normal,
  penalty: readonly (readonly number[])[],
  { one, sense, context, grid }: Bending,
): number[] | undefined {
  const size = penalty.length;
  const rises = one.coefficients
    .slice(0, size)
    .every((value, j) => j === 0 || sense * (value - one.coefficients[j - 1]!) >= 0);
  const broken = brokenBounds(one.coefficients, context, grid);
  if (rises && broken.length === 0) return undefined;
  const gram = penalised(normal, penalty, one.strength);
  const right = [...normal.right];
  let coefficients: number[] | undefined;
  let toAdd = broken;
  for (let round = 0; round < 4; round += 1) {
    for (const { index, values, reading } of toAdd)
      values.forEach((a, i) => {
        right[index + i]! += a * reading;
        values.forEach((b, j) => (gram[index + i]![index + j]! += a * b));
      });
    coefficients = increasing(gram, right, size, sense);
    if (coefficients === undefined) return undefined;
    const seen = new Set(toAdd.map((row) => row.row));
    toAdd = brokenBounds(coefficients, context, grid).filter((row) => !seen.has(row.row));
    if (toAdd.length === 0) break;
  }
  return coefficients;
}

/** Minimises with coefficient j = first + sense * (sum of increments up to j), increments >= 0. */
function increasing(
  gram: readonly (readonly number[])[],
  right: readonly number[],
  size: number,
  sense: number,
): number[] | undefined {
  const count = right.length;
  const entry = (j: number, k: number): number =>
    j >= size || k >= size ? (j === k ? 1 : 0) : k === 0 ? 1 : j >= k ? sense : 0;
  const turned = right.map((_, k) => right.map((__, j) => entry(j, k)));
  const half = turned.map((column) => gram.map((row) => dot(row, column)));
  const minimum = nonnegativeMinimum({
    gram: turned.map((column) => half.map((other) => dot(column, other))),
    right: turned.map((column) => dot(column, right)),
    isNonnegative: right.map((_, k) => k > 0 && k < size),
  });
  if (minimum === undefined) return undefined;
  return Array.from({ length: count }, (_, j) =>
    minimum.reduce((sum, value, k) => sum + entry(j, k) * value, 0),
  );
}

function brokenBounds(
  coefficients: readonly number[],
  { observations, axis }: FitContext,
  grid: Grid,
): { row: number; index: number; values: readonly number[]; reading: number }[] {
  return observations.bounds.flatMap(({ ohm, reading, bound }, row) => {
    const { index, values } = cubicBasis(axisPosition(axis, ohm), grid);
    const excess = values.reduce((sum, value, k) => sum + value * coefficients[index + k]!, 0) - reading;
    const breaks = bound === 'at most' ? excess > 0 : excess < 0;
    return breaks ? [{ row, index, values, reading }] : [];
  });
}
