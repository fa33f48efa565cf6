import { isRefused, type Refused, refuse } from '../result';
import { type Candidate, candidateFrom, isContradicted, isHopeless, worstResidual } from './candidate';
import { describeSender } from './describe';
import { modelSentence, modelsToTry } from './choose-model';
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
export function fitSender(points: readonly SenderPoint[], options: SenderOptions): FittedSender | Refused {
  const prepared = preparePoints(points, options.unit);
  if (prepared.kind === 'refused') return prepared;
  const degree = options.degree ?? 2;
  if (options.model === undefined) return fitBestModel(prepared, options.unit, degree);
  const candidate = fitModel(prepared, options.model, degree);
  return isRefused(candidate) ? candidate : describeSender(candidate, options.unit, 'asked for by name');
}

function fitBestModel(prepared: PreparedPoints, unit: string, degree: number): FittedSender | Refused {
  const { order, observation } = modelsToTry(prepared.points, prepared.quantity);
  const passedOver: string[] = [];
  const misfits: Candidate[] = [];
  let refusal: Refused | undefined;
  for (const model of order) {
    const candidate = fitModel(prepared, model, degree);
    if (isRefused(candidate)) {
      passedOver.push(`${model}: ${candidate.message}`);
      // The most telling refusal is that of the law that bends to every point.
      if (refusal === undefined || model === 'table') refusal = candidate;
    } else if (isContradicted(candidate)) {
      passedOver.push(`${model} misses the points by up to ${worstResidual(candidate).toPrecision(2)}`);
      misfits.push(candidate);
    } else {
      return describeSender(candidate, unit, chosenBecause(model, observation, passedOver));
    }
  }
  const leastBad = misfits.sort((one, other) => worstResidual(one) - worstResidual(other))[0];
  if (leastBad === undefined || (refusal !== undefined && isHopeless(leastBad)))
    return refusal ?? refuse('SENDER_UNDETERMINED', 'no law goes through these points');
  return describeSender(leastBad, unit, `the least bad law: ${passedOver.join('; ')}`);
}

function chosenBecause(model: SenderLawName, observation: string, passedOver: readonly string[]): string {
  const start = observation === '' ? modelSentence[model] : `${modelSentence[model]}: ${observation}`;
  return passedOver.length === 0 ? start : `${start}; passed over ${passedOver.join('; ')}`;
}

function fitModel(prepared: PreparedPoints, model: SenderLawName, degree: number): Candidate | Refused {
  const { points, quantity } = prepared;
  if (thermistorLaws.includes(model) && quantity !== 'temperature') {
    return refuse('SENDER_MODEL', `${model} is a law of temperature; use linear, polynomial or table here`);
  }
  if (model === 'polynomial' && !(Number.isInteger(degree) && degree >= 2 && degree <= HIGHEST_DEGREE)) {
    return refuse('SENDER_MODEL', `degree ${degree}; a polynomial here has degree 2 or ${HIGHEST_DEGREE}`);
  }
  const least = model === 'polynomial' ? degree + 1 : leastDistinct[model];
  const distinct = distinctCount(points);
  if (distinct < least) {
    return refuse('SENDER_TOO_FEW_POINTS', `${model} needs ${least} different values, ${distinct} given`);
  }
  const basis = basisOf(prepared, model === 'table' ? Infinity : least);
  const known = basis === 'assumed' ? withAssumedUncertainty(points, quantity) : points;
  const fit = fitByName({ ...prepared, points: known }, basis, { model, degree });
  if (fit === undefined) return refuse('SENDER_UNDETERMINED', undetermined(model));
  return isRefused(fit) ? fit : candidateFrom(fit, { points: known, quantity, basis });
}

const undetermined = (model: SenderLawName): string =>
  model === 'exponential'
    ? 'the points do not determine an exponential with offset, or its pole falls between them'
    : `the points do not determine the coefficients of ${model}: are they all at one resistance?`;

function basisOf(prepared: PreparedPoints, least: number): UncertaintyBasis {
  if (prepared.isUncertaintyGiven) return 'given';
  return prepared.points.length > least ? 'residuals' : 'assumed';
}

function fitByName(
  { points, quantity }: PreparedPoints,
  basis: UncertaintyBasis,
  { model, degree }: { readonly model: SenderLawName; readonly degree: number },
): LawFit | Refused | undefined {
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
