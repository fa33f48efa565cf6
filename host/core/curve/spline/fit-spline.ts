import { cubicBasis } from '../../numeric/b-spline';
import { choleskyFactor, choleskySolve } from '../../numeric/cholesky';
import { refuse } from '../../refusal';
import type { Refusal } from '../../refusal';
import { rootWeights } from '../readings/fit-context';
import type { FitContext, RawFit } from '../readings/fit-context';
import { axisPosition } from '../readings/log-axis';
import type { Row } from '../readings/observations';
import { monotone } from './spline-monotone';
import { bendingPenalty, dot, normalEquations, penalised } from './spline-normal';
import type { Grid, Normal } from './spline-normal';
import type { LawModel } from '../types';
import { effectiveSum, whiten } from '../readings/whitening';

export type SplineModel = Extract<LawModel, { form: 'spline' }>;

/** Knot intervals: one less than the settings, within these. */
const FEWEST_INTERVALS = 3;
const MOST_INTERVALS = 16;
/** Smoothing strengths tried, from "follow every reading" to "a straight line in ln R". Four a decade near the middle. */
const STRENGTHS = Array.from({ length: 17 }, (_, k) => 10 ** (-4 + 0.5 * k));

/** Strengths with less than this part of the best one's likelihood are left out. */
const LEAST_WEIGHT = 0.01;

/** One strength of the penalty, without the monotone bound. */
type Solved = {
  readonly strength: number;
  readonly coefficients: readonly number[];
  readonly factor: readonly (readonly number[])[];
  /** -2 ln restricted likelihood. */
  readonly score: number;
};

type Share = {
  readonly share: number;
  readonly coefficients: readonly number[];
  /** (X'X + S)^-1. */
  readonly inverse: readonly (readonly number[])[];
  readonly freedom: number;
};

/**
 * Fits a monotone cubic spline in ln R whose bending is penalised. The strength of the penalty is not picked but
 * averaged over, each weighted by its restricted likelihood, so the uncertainty includes not knowing it.
 * Source: P-splines, Eilers and Marx (1996), Statistical Science 11, 89-121; restricted likelihood as in Wood (2011),
 * J. R. Statist. Soc. B 73, 3-36; Bayesian covariance, Nychka (1988) (all from memory); monotone by increments >= 0.
 * Refuses: a singular system (SPLINE_SINGULAR).
 */
export function fitSpline(context: FitContext): RawFit<SplineModel> | Refusal<'SPLINE_SINGULAR'> {
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
      struck: observations.struck.map(lower),
    },
  };
}

function fitAboutZero(context: FitContext): RawFit<SplineModel> | Refusal<'SPLINE_SINGULAR'> {
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
  if (solved.length === 0) return refuse('SPLINE_SINGULAR', {});
  const shares = weighed(solved).map(({ one, share }) => ({
    share,
    coefficients: monotone(normal, penalty, { one, sense, context, grid }) ?? one.coefficients,
    ...spreadOf(one, normal),
  }));
  return averaged(context, positions, grid, shares);
}

function averaged(
  context: FitContext,
  positions: readonly number[],
  grid: Grid,
  shares: readonly Share[],
): RawFit<SplineModel> {
  const { fitted } = context.observations;
  const size = grid.intervals + 3;
  const mean = (pick: (one: Share) => number): number =>
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

/** Strengths with their share of the likelihood; those that hardly matter are left out. */
function weighed(solved: readonly Solved[]): { readonly one: Solved; readonly share: number }[] {
  const least = Math.min(...solved.map((one) => one.score));
  const weights = solved.map((one) => Math.exp((least - one.score) / 2));
  const kept = weights.map((weight) => (weight > LEAST_WEIGHT ? weight : 0));
  const total = kept.reduce((sum, weight) => sum + weight, 0);
  return solved.flatMap((one, i) => (kept[i]! > 0 ? [{ one, share: kept[i]! / total }] : []));
}

function solve(
  normal: Normal,
  penalty: readonly (readonly number[])[],
  strength: number,
  { observations, whitening }: FitContext,
): Solved | undefined {
  const factor = choleskyFactor(penalised(normal, penalty, strength));
  if (factor === undefined) return undefined;
  const coefficients = choleskySolve(factor, normal.right);
  // y'y - b'X'y is the sum of squares plus the penalty paid; what repeats only repeat does not count.
  const paid = Math.max(
    normal.square - dot(coefficients, normal.right) - normal.discount,
    1e-12 * normal.square,
  );
  const logDeterminant = factor.reduce((sum, row, i) => sum + 2 * Math.log(row[i]!), 0);
  const { expectedScatter, expectationWeight } = observations;
  const bendable = penalty.length - 2;
  const degrees = whitening.effectiveCount - (normal.gram.length - bendable) + expectationWeight;
  const score =
    Math.max(degrees, expectationWeight) * Math.log(expectationWeight * expectedScatter ** 2 + paid) +
    logDeterminant -
    bendable * Math.log(strength);
  return { strength, coefficients, factor, score };
}

function spreadOf({ factor }: Solved, { gram }: Normal): Pick<Share, 'inverse' | 'freedom'> {
  const inverse = gram.map((_, j) =>
    choleskySolve(
      factor,
      gram.map((__, k) => (k === j ? 1 : 0)),
    ),
  );
  return { inverse, freedom: inverse.reduce((sum, row, i) => sum + dot(row, gram[i]!), 0) };
}
