import { cubicBasis } from '../../numeric/b-spline';
import { quadraticForm } from '../../numeric/matrix';
import { cubicAt, cubicSlopeAt, monotoneCubic, pieceOf } from '../../numeric/monotone-cubic';
import { axisPosition, axisSlope } from '../readings/log-axis';
import { anchoredLaw, type AnchoredLaw } from './shape-law';
import { shapeOf } from './shapes';
import type { LawModel } from '../types';

type ShapeModel = Extract<LawModel, { form: 'shape' }>;
type Spline = Extract<LawModel, { form: 'spline' }>;
type Interpolant = Extract<LawModel, { form: 'interpolant' }>;

const lawsOf = new WeakMap<ShapeModel, AnchoredLaw>();

/** The law of a model; a model is asked thousands of times. */
function anchored(model: ShapeModel): AnchoredLaw {
  const known = lawsOf.get(model) ?? anchoredLaw(shapeOf(model.name), model.anchorsOhm, model.parameters);
  lawsOf.set(model, known);
  return known;
}

/** Reading that a fitted law gives at a resistance, stops not regarded. Source: the law's own formula. */
export function lawReading(model: LawModel, ohm: number): number {
  switch (model.form) {
    case 'shape':
      return anchored(model).reading(ohm);
    case 'spline': {
      const { index, values } = cubicBasis(axisPosition(model.axis, ohm), gridOf(model));
      return values.reduce((sum, value, k) => sum + value * model.parameters[index + k]!, 0);
    }
    case 'interpolant':
      return cubicAt(cubicOf(model), axisPosition(model.axis, ohm));
  }
}

/** Slope of a fitted law in dial units per ohm. Source: derivative of `lawReading`. */
export function lawSlope(model: LawModel, ohm: number): number {
  switch (model.form) {
    case 'shape':
      return anchored(model).slope(ohm);
    case 'spline': {
      const { index, slopes } = cubicBasis(axisPosition(model.axis, ohm), gridOf(model));
      const along = slopes.reduce((sum, value, k) => sum + value * model.parameters[index + k]!, 0);
      return along * axisSlope(model.axis, ohm);
    }
    case 'interpolant':
      return cubicSlopeAt(cubicOf(model), axisPosition(model.axis, ohm)) * axisSlope(model.axis, ohm);
  }
}

/** Variance of the law's reading from its covariance, g'Vg. Source: GUM 5.2.2 equation (13). */
export const lawVariance = (model: LawModel, ohm: number): number =>
  Math.max(0, quadraticForm(model.covariance, lawGradient(model, ohm)));

/** Derivatives of the law's reading by its parameters. Source: as each form. */
export function lawGradient(model: LawModel, ohm: number): number[] {
  switch (model.form) {
    case 'shape':
      return anchored(model).gradient(ohm);
    case 'spline': {
      const { index, values } = cubicBasis(axisPosition(model.axis, ohm), gridOf(model));
      const gradient = new Array<number>(model.parameters.length).fill(0);
      values.forEach((value, k) => (gradient[index + k] = value));
      return gradient;
    }
    case 'interpolant':
      return interpolantGradient(model, ohm);
  }
}

/** Weights of the two knots around: the straight line between them stands in for the cubic. */
function interpolantGradient({ knots, axis }: Interpolant, ohm: number): number[] {
  const at = axisPosition(axis, ohm);
  const piece = pieceOf(knots, at);
  const part = (at - knots[piece]!) / (knots[piece + 1]! - knots[piece]!);
  return knots.map((_, i) => (i === piece ? 1 - part : i === piece + 1 ? part : 0));
}

const gridOf = ({ firstKnot, knotSpacing, parameters }: Spline) => ({
  first: firstKnot,
  spacing: knotSpacing,
  intervals: parameters.length - 3,
});

function cubicOf({ knots, parameters }: Interpolant) {
  const cubic = monotoneCubic(knots, parameters);
  // Knots are made strictly ascending where the model is made; a model read from elsewhere is the caller's to check.
  if (cubic.kind === 'refused') throw new Error(cubic.code);
  return cubic;
}
