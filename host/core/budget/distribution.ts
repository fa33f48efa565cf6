import type { RandomSource } from '../numeric/random';
import { normalCdf, normalQuantile } from '../numeric/normal';
import { studentTQuantile } from '../numeric/student-t';
import type { ComponentFault } from './refusals';

/**
 * How a quantity may lie about its value. Half-widths and standard uncertainties are in the quantity's own unit.
 * A Student t is given either by `scale`, the standard uncertainty s/sqrt(n) of a mean (JCGM 101:2008, 6.4.9, whose
 * spread is wider than its scale), or by `standardDeviation`, the spread itself.
 */
export type Distribution =
  | { readonly kind: 'normal'; readonly standardUncertainty: number }
  | { readonly kind: 'rectangular'; readonly halfWidth: number }
  | { readonly kind: 'triangular'; readonly halfWidth: number }
  | { readonly kind: 'arcsine'; readonly halfWidth: number }
  | { readonly kind: 'student-t'; readonly scale: number; readonly degreesOfFreedom: number }
  | { readonly kind: 'student-t'; readonly standardDeviation: number; readonly degreesOfFreedom: number };

/**
 * Standard uncertainty that a distribution contributes to a first-order budget. For a t given by its scale this is the
 * scale, and the degrees of freedom carry the rest.
 * Source: GUM 4.3.7 (rectangular), 4.3.9 (triangular), JCGM 101:2008 Table 1 (arcsine, t).
 */
export function standardUncertaintyOf(distribution: Distribution): number {
  switch (distribution.kind) {
    case 'normal':
      return distribution.standardUncertainty;
    case 'rectangular':
      return distribution.halfWidth / Math.sqrt(3);
    case 'triangular':
      return distribution.halfWidth / Math.sqrt(6);
    case 'arcsine':
      return distribution.halfWidth / Math.sqrt(2);
    case 'student-t':
      return 'scale' in distribution ? distribution.scale : distribution.standardDeviation;
  }
}

/** Which of a distribution's numbers cannot be. A deviation needs more than two degrees of freedom to exist. */
export function distributionFault(distribution: Distribution): ComponentFault | undefined {
  const size = standardUncertaintyOf(distribution);
  if (!(size >= 0 && Number.isFinite(size))) return { of: 'width', given: size };
  if (distribution.kind !== 'student-t') return undefined;
  const { degreesOfFreedom } = distribution;
  if (!(degreesOfFreedom > 0)) return { of: 'degrees', given: degreesOfFreedom };
  return 'standardDeviation' in distribution && !(degreesOfFreedom > 2)
    ? { of: 'student-t', given: degreesOfFreedom }
    : undefined;
}

/** Degrees of freedom that go with a distribution by itself: those of a t, infinite otherwise. Source: GUM G.4.2. */
export const ownDegreesOfFreedom = (distribution: Distribution): number =>
  distribution.kind === 'student-t' ? distribution.degreesOfFreedom : Infinity;

/** One draw of the deviation from the value. Source: JCGM 101:2008, 6.4 and Table 1. */
export function drawDeviation(distribution: Distribution, random: RandomSource): number {
  switch (distribution.kind) {
    case 'normal':
      return distribution.standardUncertainty * random.normal();
    case 'rectangular':
      return distribution.halfWidth * (2 * random.uniform() - 1);
    case 'triangular':
      return distribution.halfWidth * (random.uniform() + random.uniform() - 1);
    case 'arcsine':
      return distribution.halfWidth * Math.sin(2 * Math.PI * random.uniform());
    case 'student-t':
      return scaleOf(distribution) * random.studentT(distribution.degreesOfFreedom);
  }
}

/**
 * The deviation whose probability of not being exceeded is that of a standard normal score: how correlated inputs of
 * any shape are drawn (Gaussian copula). Source: inverse distribution functions; for correlated inputs derived here.
 */
export function deviationAtScore(distribution: Distribution, score: number): number {
  if (distribution.kind === 'normal') return distribution.standardUncertainty * score;
  const probability = normalCdf(score);
  switch (distribution.kind) {
    case 'rectangular':
      return distribution.halfWidth * (2 * probability - 1);
    case 'triangular':
      return distribution.halfWidth * triangularQuantile(probability);
    case 'arcsine':
      return -distribution.halfWidth * Math.cos(Math.PI * probability);
    case 'student-t':
      return scaleOf(distribution) * tAtScore(score, distribution.degreesOfFreedom);
  }
}

type StudentT = Extract<Distribution, { kind: 'student-t' }>;

const scaleOf = (distribution: StudentT): number =>
  'scale' in distribution
    ? distribution.scale
    : distribution.standardDeviation * Math.sqrt(1 - 2 / distribution.degreesOfFreedom);

const triangularQuantile = (probability: number): number =>
  probability < 0.5 ? Math.sqrt(2 * probability) - 1 : 1 - Math.sqrt(2 * (1 - probability));

/** Beyond this score the probability of the tail is below any draw of 52 bits. */
const LARGEST_SCORE = -normalQuantile(2 ** -53);

const tAtScore = (score: number, degreesOfFreedom: number): number =>
  // The lower tail keeps its digits; the upper one mirrors it.
  -Math.sign(score) *
  studentTQuantile(normalCdf(-Math.min(Math.abs(score), LARGEST_SCORE)), degreesOfFreedom);
