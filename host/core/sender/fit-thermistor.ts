import { BETA_REFERENCE_KELVIN } from './law';
import { fitLinearLaw, type LawFit, type LinearLaw } from './law-fit';
import type { LawPoint } from './points';
import { kelvinFromCelsius } from '../units';

const inverseKelvin = (point: LawPoint): number => 1 / kelvinFromCelsius(point.argument);
/** Variance of 1/T: u(T)^2 / T^4. */
const inverseKelvinVariance = (point: LawPoint): number =>
  (point.argumentUncertainty * inverseKelvin(point) ** 2) ** 2;
const lnOhmVariance = (point: LawPoint): number => (point.ohmUncertainty / point.ohm) ** 2;

const steinhartHartEquations: LinearLaw = {
  row: ({ ohm }) => [1, Math.log(ohm), Math.log(ohm) ** 3],
  target: inverseKelvin,
  variance: (point, [, b, c]) =>
    inverseKelvinVariance(point) + (b! + 3 * c! * Math.log(point.ohm) ** 2) ** 2 * lnOhmVariance(point),
};

const betaEquations: LinearLaw = {
  row: (point) => [1, inverseKelvin(point) - 1 / BETA_REFERENCE_KELVIN],
  target: ({ ohm }) => Math.log(ohm),
  variance: (point, [, beta]) => lnOhmVariance(point) + beta! ** 2 * inverseKelvinVariance(point),
};

/**
 * Steinhart-Hart coefficients: exact through three points, least squares in 1/T through more.
 * Source: Steinhart and Hart, Deep-Sea Research 15 (1968) 497-503. Undefined when the points do not determine them.
 */
export function fitSteinhartHart(
  points: readonly LawPoint[],
  weighting: 'weighted' | 'plain',
): LawFit | undefined {
  const fit = fitLinearLaw(steinhartHartEquations, points, weighting);
  if (fit === undefined) return undefined;
  const [a, b, c] = fit.coefficients;
  const branchLnOhm = Math.log(points[Math.floor(points.length / 2)]!.ohm);
  return {
    kind: 'law-fit',
    law: { name: 'steinhart-hart', a: a!, b: b!, c: c!, branchLnOhm },
    names: ['A', 'B', 'C'].map((name) => ({ name, unit: '1/K' })),
    values: fit.coefficients,
    inverseNormal: fit.inverseNormal,
    chiSquared: fit.chiSquared,
    residuals: fit.residuals,
    leverages: fit.leverages,
  };
}

/** A resistance at 25 degC beyond this (or below its inverse) is no resistance, and its square must still be a number. */
const FURTHEST_25_OHM = 1e30;

/**
 * Resistance at 25 degC and Beta: exact through two points, least squares in ln R through more.
 * Source: R = R25 exp(B (1/T - 1/T25)), the two-point form of IEC 60539-1 (from memory). Undefined when the points do
 * not determine them.
 */
export function fitBeta(points: readonly LawPoint[], weighting: 'weighted' | 'plain'): LawFit | undefined {
  const fit = fitLinearLaw(betaEquations, points, weighting);
  if (fit === undefined) return undefined;
  const [lnOhm, betaKelvin] = fit.coefficients;
  const resistance25Ohm = Math.exp(lnOhm!);
  if (!(resistance25Ohm > 1 / FURTHEST_25_OHM && resistance25Ohm < FURTHEST_25_OHM)) return undefined;
  // The fit is in ln R25: one row and column of the covariance scale with R25.
  const scales = [resistance25Ohm, 1];
  return {
    kind: 'law-fit',
    law: { name: 'beta', resistance25Ohm, betaKelvin: betaKelvin! },
    names: [
      { name: 'R25', unit: 'ohm' },
      { name: 'beta', unit: 'K' },
    ],
    values: [resistance25Ohm, betaKelvin!],
    inverseNormal: fit.inverseNormal.map((row, i) => row.map((entry, j) => entry * scales[i]! * scales[j]!)),
    chiSquared: fit.chiSquared,
    residuals: fit.residuals,
    leverages: fit.leverages,
  };
}
