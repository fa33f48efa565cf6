import { leastSquares } from '../../numeric/least-squares';
import type {
  LeastSquaresFit,
  LeastSquaresOptions,
  LeastSquaresRefusal,
  ResidualProblem,
} from '../../numeric/least-squares';
import { rootWeights } from '../readings/fit-context';
import type { FitContext, RawFit } from '../readings/fit-context';
import { anchoredLaw } from './shape-law';
import type { Anchors } from './shape-law';
import type { Shape } from './shapes';
import type { LawModel } from '../types';
import { effectiveSum, whiten } from '../readings/whitening';

export type ShapeModel = Extract<LawModel, { form: 'shape' }>;

/**
 * Fits a law of fixed shape: two anchor readings, its shape parameters and, with both legs, half their difference.
 * Readings at a stop enter as one-sided residuals. Source: least squares; see `shapes` for the laws.
 * Refuses as `leastSquares` does.
 */
export function fitShape(
  shape: Shape,
  context: FitContext,
  warmStart?: readonly number[],
): RawFit<ShapeModel> | LeastSquaresRefusal {
  const { fitted } = context.observations;
  const anchorsOhm: Anchors = [fitted[0]!.ohm, fitted.at(-1)!.ohm];
  const shapeCount = shape.starts[0]!.length;
  const count = 2 + shapeCount + (context.hasHalf ? 1 : 0);
  const ends = [fitted[0]!.reading, fitted.at(-1)!.reading];
  const startsAt = (shapes: readonly (readonly number[])[]): number[][] =>
    shapes.map((start) => [...ends, ...start, ...(context.hasHalf ? [0] : [])]);
  const free = context.hasHalf ? [Infinity] : [];
  const options = (starts: readonly (readonly number[])[]): LeastSquaresOptions => ({
    start: starts[0]!,
    otherStarts: starts.slice(1),
    linearParameters: context.hasHalf ? [0, 1, count - 1] : [0, 1],
    bounds: {
      lower: [-Infinity, -Infinity, ...shape.lower, ...free.map((value) => -value)],
      upper: [Infinity, Infinity, ...shape.upper, ...free],
    },
    iterationLimit: 60,
    spread: 0,
  });
  const fitTo = (some: FitContext, starts: readonly (readonly number[])[]) =>
    leastSquares(shapeProblem(shape, anchorsOhm, some), options(startsAt(starts)));
  const thin = warmStart === undefined ? thinned(context) : undefined;
  const scout = thin && fitTo(thin, shape.starts);
  const found = scout?.kind === 'fit' ? scout.parameters.slice(2, 2 + shapeCount) : warmStart;
  const fit = fitTo(context, found === undefined ? shape.starts : [found]);
  return fit.kind === 'refused' ? fit : described(shape, anchorsOhm, context, fit);
}

/** So many readings show which of the starts leads to the lowest place; the way down from there takes all of them. */
const ENOUGH_TO_SCOUT = 500;

/** Some of the settings, evenly taken, with everything that belongs to them; undefined where there are few readings. */
function thinned(context: FitContext): FitContext | undefined {
  const { observations, whitening, weights } = context;
  const every = Math.floor(observations.fitted.length / ENOUGH_TO_SCOUT);
  if (every < 2) return undefined;
  const kept = whitening.blocks.filter((_, index) => index % every === 0);
  const rows = kept.flatMap((block) => block.rows);
  let next = 0;
  const blocks = kept.map((block) => ({ ...block, rows: block.rows.map(() => next++) }));
  return {
    ...context,
    observations: { ...observations, fitted: rows.map((row) => observations.fitted[row]!) },
    weights: rows.map((row) => weights[row]!),
    whitening: { ...whitening, blocks },
  };
}

function described(
  shape: Shape,
  anchorsOhm: Anchors,
  context: FitContext,
  fit: LeastSquaresFit,
): RawFit<ShapeModel> {
  const { fitted } = context.observations;
  const lawCount = fit.parameters.length - (context.hasHalf ? 1 : 0);
  const parameters = fit.parameters.slice(0, lawCount);
  const half = context.hasHalf ? fit.parameters[lawCount]! : 0;
  const covariance = fit.inverseNormal.slice(0, lawCount).map((row) => row.slice(0, lawCount));
  const law = anchoredLaw(shape, anchorsOhm, parameters);
  return {
    kind: 'fit',
    model: { form: 'shape', name: shape.name, anchorsOhm, parameters, covariance },
    half,
    halfInverse: context.hasHalf ? fit.inverseNormal[lawCount]![lawCount]! : 0,
    sumOfSquares: effectiveSum(context.whitening, fit.residuals),
    // A parameter at its bound was still there to be moved: it counts, or degenerate laws would look simple.
    freedom: fit.parameters.length,
    residuals: fitted.map((row) => row.reading - law.reading(row.ohm) - half * row.legSign),
  };
}

function shapeProblem(shape: Shape, anchors: Anchors, context: FitContext): ResidualProblem {
  const { fitted, bounds } = context.observations;
  const roots = rootWeights(context);
  const lawCount = 2 + shape.starts[0]!.length;
  const count = lawCount + (context.hasHalf ? 1 : 0);
  return {
    residualCount: fitted.length + bounds.length,
    parameterCount: count,
    evaluate: (p, residuals, jacobian) => {
      const law = anchoredLaw(shape, anchors, p.subarray(0, lawCount));
      const half = context.hasHalf ? p[lawCount]! : 0;
      const raw = new Float64Array(fitted.length);
      for (const [i, row] of fitted.entries())
        raw[i] = (law.reading(row.ohm) + half * row.legSign - row.reading) * roots[i]!;
      residuals.set(whiten(context.whitening, raw));
      if (jacobian !== undefined) {
        const columns = Array.from({ length: count }, () => new Float64Array(fitted.length));
        for (const [i, row] of fitted.entries()) {
          const gradient = law.gradient(row.ohm);
          for (let j = 0; j < gradient.length; j += 1) columns[j]![i] = gradient[j]! * roots[i]!;
          if (context.hasHalf) columns[lawCount]![i] = row.legSign * roots[i]!;
        }
        columns.forEach((column, j) => {
          const white = whiten(context.whitening, column);
          for (let i = 0; i < white.length; i += 1) jacobian[i * count + j] = white[i]!;
        });
      }
      bounds.forEach((row, k) => {
        const i = fitted.length + k;
        const excess = law.reading(row.ohm) - row.reading;
        const breaks = row.bound === 'at most' ? excess > 0 : excess < 0;
        residuals[i] = breaks ? excess : 0;
        const gradient = breaks && jacobian !== undefined ? law.gradient(row.ohm) : [];
        for (let j = 0; j < count; j += 1)
          if (jacobian !== undefined) jacobian[i * count + j] = gradient[j] ?? 0;
      });
    },
  };
}
