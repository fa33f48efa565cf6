import { cubicBasis } from '../numeric/b-spline';
import { choleskyFactor, choleskySolve } from '../numeric/cholesky';
import { nonnegativeMinimum } from '../numeric/nonnegative';
import { refuse } from '../result';
import type { Refused } from '../result';
import { rootWeights } from './fit-context';
import type { FitContext, RawFit } from './fit-context';
import { axisPosition } from './log-axis';
import type { Row } from './observations';
import type { LawModel } from './types';
import { effectiveSum, whiten } from './whitening';

export type SplineModel = Extract<LawModel, { form: 'spline' }>;

/** Knot intervals: one less than the settings, within these. */
const FEWEST_INTERVALS = 3;
const MOST_INTERVALS = 16;
/** Smoothing strengths tried, from "follow every reading" to "a straight line in ln R". Four a decade near the middle. */
const STRENGTHS = Array.from({ length: 17 }, (_, k) => 10 ** (-4 + 0.5 * k));
/** Ridge that fixes coefficients no reading reaches, as a part of the mean diagonal. */
const RIDGE = 1e-9;

type Grid = { readonly first: number; readonly spacing: number; readonly intervals: number };

/** Everything about the readings that the normal equations need. */
type Normal = {
  readonly gram: number[][];
  readonly right: number[];
  readonly square: number;
  readonly count: number;
  readonly hasHalf: boolean;
};

type Solved = {
  readonly coefficients: readonly number[];
  readonly inverse: readonly (readonly number[])[];
  readonly sumOfSquares: number;
  readonly freedom: number;
  readonly score: number;
};

/**
 * Fits a monotone cubic spline in ln R whose bending is penalised. The strength of the penalty is not picked but
 * averaged over, each weighted by its restricted likelihood, so the uncertainty includes not knowing it.
 * Source: P-splines, Eilers and Marx (1996), Statistical Science 11, 89-121; restricted likelihood as in Wood (2011),
 * J. R. Statist. Soc. B 73, 3-36; Bayesian covariance, Nychka (1988) (all from memory); monotone by increments >= 0.
 * Refuses: a singular system (SPLINE_SINGULAR).
 */
export function fitSpline(context: FitContext): RawFit<SplineModel> | Refused<'SPLINE_SINGULAR'> {
  // About the mean reading, so that a scale far from zero costs no digits in the normal equations.
  const { fitted } = context.observations;
  const centre = fitted.reduce((sum, row) => sum + row.reading, 0) / fitted.length;
  const fit = fitAboutZero(lowered(context, centre));
  if (fit.kind === 'refused') return fit;
  return { ...fit, model: { ...fit.model, parameters: fit.model.parameters.map((value) => value + centre) } };
}

function lowered(context: FitContext, by: number): FitContext {
  const lower = (row: Row): Row => ({ ...row, reading: row.reading - by });
  const { observations } = context;
  return {
    ...context,
    observations: {
      ...observations,
      fitted: observations.fitted.map(lower),
      bounds: observations.bounds.map(lower),
    },
  };
}

function fitAboutZero(context: FitContext): RawFit<SplineModel> | Refused<'SPLINE_SINGULAR'> {
  const { observations, axis } = context;
  const { fitted } = observations;
  const positions = fitted.map((row) => axisPosition(axis, row.ohm));
  const settings = new Set(fitted.map((row) => row.setting)).size;
  const intervals = Math.min(Math.max(settings - 1, FEWEST_INTERVALS), MOST_INTERVALS);
  const first = positions[0]!;
  const grid: Grid = { first, intervals, spacing: (positions.at(-1)! - first) / intervals };
  const sense = observations.risesWithResistance ? 1 : -1;
  const normal = normalEquations(context, positions, grid);
  const penalty = bendingPenalty(intervals + 3);
  const solved = STRENGTHS.flatMap((strength) => solve(normal, penalty, strength, context) ?? []);
  if (solved.length === 0)
    return refuse('SPLINE_SINGULAR', 'The readings do not determine a spline: measure at more resistances.');
  const least = Math.min(...solved.map((one) => one.score));
  const weighted = solved.map((one) => ({ ...one, weight: Math.exp((least - one.score) / 2) }));
  const total = weighted.reduce((sum, one) => sum + one.weight, 0);
  const shares = weighted.flatMap((one) =>
    one.weight > 1e-3 * total ? [{ ...one, share: one.weight / total }] : [],
  );
  const kept = shares.reduce((sum, one) => sum + one.share, 0);
  const bent = shares.map((one) => ({
    ...one,
    share: one.share / kept,
    coefficients: monotone(normal, penalty, { one, sense, context, grid }) ?? one.coefficients,
  }));
  return averaged(context, positions, grid, bent);
}

type Share = Solved & { readonly share: number; readonly strength: number };

function averaged(
  context: FitContext,
  positions: readonly number[],
  grid: Grid,
  shares: readonly (Solved & { readonly share: number })[],
): RawFit<SplineModel> {
  const { fitted } = context.observations;
  const size = grid.intervals + 3;
  const mean = (pick: (one: Solved) => number): number =>
    shares.reduce((sum, one) => sum + one.share * pick(one), 0);
  const all = Array.from({ length: shares[0]!.coefficients.length }, (_, j) =>
    mean((one) => one.coefficients[j]!),
  );
  const parameters = all.slice(0, size);
  const half = context.hasHalf ? all[size]! : 0;
  const residuals = fitted.map((row, i) => {
    const { index, values } = cubicBasis(positions[i]!, grid);
    const law = values.reduce((sum, value, k) => sum + value * parameters[index + k]!, 0);
    return row.reading - law - half * row.legSign;
  });
  const roots = rootWeights(context);
  const white = whiten(
    context.whitening,
    Float64Array.from(residuals, (value, i) => value * roots[i]!),
  );
  return {
    kind: 'fit',
    model: {
      form: 'spline',
      name: 'monotone-spline',
      axis: context.axis,
      firstKnot: grid.first,
      knotSpacing: grid.spacing,
      parameters,
      covariance: Array.from({ length: size }, (_, i) =>
        Array.from({ length: size }, (__, j) => mean((one) => one.inverse[i]![j]!)),
      ),
    },
    half,
    halfInverse: context.hasHalf ? mean((one) => one.inverse[size]![size]!) : 0,
    sumOfSquares: effectiveSum(context.whitening, white),
    freedom: mean((one) => one.freedom),
    residuals,
  };
}

function normalEquations(context: FitContext, positions: readonly number[], grid: Grid): Normal {
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
    count: fitted.length,
    hasHalf: context.hasHalf,
  };
}

/** D'D of second differences: what a straight line does not pay. */
function bendingPenalty(size: number): number[][] {
  const penalty = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  for (let row = 0; row + 2 < size; row += 1)
    [1, -2, 1].forEach((a, i) => [1, -2, 1].forEach((b, j) => (penalty[row + i]![row + j]! += a * b)));
  return penalty;
}

function penalised(normal: Normal, penalty: readonly (readonly number[])[], strength: number): number[][] {
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

/** One strength without the monotone bound: coefficients, (X'X + S)^-1, effective freedom and -2 ln restricted likelihood. */
function solve(
  normal: Normal,
  penalty: readonly (readonly number[])[],
  strength: number,
  { observations }: FitContext,
): Share | undefined {
  const factor = choleskyFactor(penalised(normal, penalty, strength));
  if (factor === undefined) return undefined;
  const coefficients = choleskySolve(factor, normal.right);
  const inverse = normal.right.map((_, j) =>
    choleskySolve(
      factor,
      normal.right.map((__, k) => (k === j ? 1 : 0)),
    ),
  );
  // y'y - b'X'y is the sum of squares plus the penalty paid.
  const paid = Math.max(normal.square - dot(coefficients, normal.right), 1e-12 * normal.square);
  const freedom = inverse.reduce((sum, row, i) => sum + dot(row, normal.gram[i]!), 0);
  const logDeterminant = factor.reduce((sum, row, i) => sum + 2 * Math.log(row[i]!), 0);
  const { expectedScatter, expectationWeight } = observations;
  const bendable = penalty.length - 2;
  const degrees = normal.count - (normal.gram.length - bendable) + expectationWeight;
  const score =
    degrees * Math.log(expectationWeight * expectedScatter ** 2 + paid) +
    logDeterminant -
    bendable * Math.log(strength);
  return { coefficients, inverse, sumOfSquares: paid, freedom, score, share: 0, strength };
}

type Bending = {
  readonly one: Solved & { readonly strength: number };
  readonly sense: number;
  readonly context: FitContext;
  readonly grid: Grid;
};

/** The same strength with increments of the right sign and the stops respected. */
function monotone(
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

function dot(one: ArrayLike<number>, other: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < one.length; i += 1) sum += one[i]! * other[i]!;
  return sum;
}
