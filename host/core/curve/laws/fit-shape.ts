import { leastSquares } from '../../numeric/least-squares';
import type { LeastSquaresFit, LeastSquaresRefusal, ResidualProblem } from '../../numeric/least-squares';
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
  const [first, ...others] = (warmStart === undefined ? shape.starts : [warmStart]).map((start) => [
    fitted[0]!.reading,
    fitted.at(-1)!.reading,
    ...start,
    ...(context.hasHalf ? [0] : []),
  ]);
  const free = context.hasHalf ? [Infinity] : [];
  const fit = leastSquares(shapeProblem(shape, anchorsOhm, context), {
    start: first!,
    otherStarts: others,
    linearParameters: context.hasHalf ? [0, 1, count - 1] : [0, 1],
    bounds: {
      lower: [-Infinity, -Infinity, ...shape.lower, ...free.map((value) => -value)],
      upper: [Infinity, Infinity, ...shape.upper, ...free],
    },
    iterationLimit: 60,
    spread: 0,
  });
  return fit.kind === 'refused' ? fit : described(shape, anchorsOhm, context, fit);
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
      const raw = Float64Array.from(
        fitted,
        (row, i) => (law.reading(row.ohm) + half * row.legSign - row.reading) * roots[i]!,
      );
      residuals.set(whiten(context.whitening, raw));
      if (jacobian !== undefined) {
        const columns = Array.from({ length: count }, () => new Float64Array(fitted.length));
        fitted.forEach((row, i) => {
          const gradient = law.gradient(row.ohm);
          for (let j = 0; j < gradient.length; j += 1) columns[j]![i] = gradient[j]! * roots[i]!;
          if (context.hasHalf) columns[lawCount]![i] = row.legSign * roots[i]!;
        });
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
