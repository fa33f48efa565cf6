import { isRefused, type Refusal, refuse } from '../refusal';
import { type Candidate, candidateFrom, isContradicted, isHopeless, worstResidual } from './candidate';
import { describeSender } from './describe';
import { modelsToTry } from './choose-model';
import { fitExponential } from './fit-exponential';
import { fitPolynomial, HIGHEST_DEGREE } from './fit-polynomial';
import { fitTable } from './fit-table';
import { fitBeta, fitSteinhartHart } from './fit-thermistor';
import type { SenderLawName } from './law';
import type { LawFit } from './law-fit';
import {
  distinctCount,
  type PreparedPoints,
  preparePoints,
  type SenderPoint,
  type UncertaintyBasis,
  withAssumedUncertainty,
} from './points';
import type { RejectedLaw, SenderReason } from './remarks';
import type { FittedSender } from './sender';

export type SenderOptions = {
  /** Unit of the points' values: "degC", "degF", "kPa", "psi", "bar", "%", or any other word. */
  readonly unit: string;
  /** Law to use; without it the points decide and the reason is told. */
  readonly model?: SenderLawName | undefined;
  /** Degree of a polynomial (2 or 3; 2 when not given). */
  readonly degree?: number | undefined;
};

/** Least number of different values that determine a law. */
const leastDistinct: Readonly<Record<Exclude<SenderLawName, 'polynomial'>, number>> = {
  'steinhart-hart': 3,
  beta: 2,
  exponential: 3,
  linear: 2,
  table: 2,
};
const thermistorLaws: readonly SenderLawName[] = ['steinhart-hart', 'beta', 'exponential'];

/**
 * Fits a sender: exact when the points just determine the law, least squares with covariance (errors in both axes by
 * effective variance) when there are more. The result is plain data.
 * Source: the laws' own files. Refuses: SENDER_TOO_FEW_POINTS, SENDER_TOO_MANY_POINTS, SENDER_POINT, SENDER_MODEL (a
 * law that does not suit the quantity), SENDER_NOT_MONOTONE, SENDER_NEGATIVE (below 0 ohm between
 * the points), SENDER_UNDETERMINED.
 */
export function fitSender(points: readonly SenderPoint[], options: SenderOptions): FittedSender | Refusal {
  const prepared = preparePoints(points, options.unit);
  if (prepared.kind === 'refused') return prepared;
  const degree = options.degree ?? 2;
  if (options.model === undefined) return fitBestModel(prepared, options.unit, degree);
  const candidate = fitModel(prepared, options.model, degree);
  return isRefused(candidate) ? candidate : describeSender(candidate, options.unit, { why: 'asked-for' });
}

function fitBestModel(prepared: PreparedPoints, unit: string, degree: number): FittedSender | Refusal {
  const { order, shows } = modelsToTry(prepared.points, prepared.quantity);
  const rejected: RejectedLaw[] = [];
  const because = (why: 'fits' | 'least-bad'): SenderReason => ({
    why,
    ...(shows === undefined ? {} : { shows }),
    temperatureCount: distinctCount(prepared.points),
    rejected,
  });
  const misfits: Candidate[] = [];
  let refusal: Refusal | undefined;
  for (const model of order) {
    const candidate = fitModel(prepared, model, degree);
    if (isRefused(candidate)) {
      rejected.push({ model });
      // The most telling refusal is that of the law that bends to every point.
      if (refusal === undefined || model === 'table') refusal = candidate;
    } else if (isContradicted(candidate)) {
      rejected.push({ model, missesBy: worstResidual(candidate) });
      misfits.push(candidate);
    } else {
      return describeSender(candidate, unit, because('fits'));
    }
  }
  const leastBad = misfits.sort((one, other) => worstResidual(one) - worstResidual(other))[0];
  if (leastBad === undefined || (refusal !== undefined && isHopeless(leastBad)))
    return refusal ?? refuse('SENDER_UNDETERMINED', {});
  return describeSender(leastBad, unit, because('least-bad'));
}

function fitModel(prepared: PreparedPoints, model: SenderLawName, degree: number): Candidate | Refusal {
  const { points, quantity } = prepared;
  if (thermistorLaws.includes(model) && quantity !== 'temperature') {
    return refuse('SENDER_MODEL', { model });
  }
  if (model === 'polynomial' && !(Number.isInteger(degree) && degree >= 2 && degree <= HIGHEST_DEGREE)) {
    return refuse('SENDER_MODEL', { model, degree, highestDegree: HIGHEST_DEGREE });
  }
  const least = model === 'polynomial' ? degree + 1 : leastDistinct[model];
  const distinct = distinctCount(points);
  if (distinct < least) {
    return refuse('SENDER_TOO_FEW_POINTS', { valueCount: distinct, fewest: least, model });
  }
  const basis = basisOf(prepared, model === 'table' ? Infinity : least);
  const known = basis === 'assumed' ? withAssumedUncertainty(points, quantity) : points;
  const fit = fitByName({ ...prepared, points: known }, basis, { model, degree });
  if (fit === undefined) return refuse('SENDER_UNDETERMINED', { model });
  return isRefused(fit) ? fit : candidateFrom(fit, { points: known, quantity, basis });
}

function basisOf(prepared: PreparedPoints, least: number): UncertaintyBasis {
  if (prepared.isUncertaintyGiven) return 'given';
  return prepared.points.length > least ? 'residuals' : 'assumed';
}

function fitByName(
  { points, quantity }: PreparedPoints,
  basis: UncertaintyBasis,
  { model, degree }: { readonly model: SenderLawName; readonly degree: number },
): LawFit | Refusal | undefined {
  const weighting = basis === 'residuals' ? 'plain' : 'weighted';
  switch (model) {
    case 'steinhart-hart':
      return fitSteinhartHart(points, weighting);
    case 'beta':
      return fitBeta(points, weighting);
    case 'exponential':
      return fitExponential(points, weighting);
    case 'linear':
      return fitPolynomial(points, weighting, 1);
    case 'polynomial':
      return fitPolynomial(points, weighting, degree);
    case 'table':
      return fitTable(points, quantity === 'temperature' ? 'thermal' : 'plain');
  }
}
