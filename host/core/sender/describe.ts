import { outlyingPoints } from '../numeric/outlying';
import { sumOfSquares } from '../numeric/sum';
import { betaFromPair, pairwiseBetas } from './beta-gate';
import { type Candidate, isContradicted } from './candidate';
import { exceedsChance } from '../numeric/chi-squared';
import { lawOhm } from './law';
import type { SenderReason } from './remarks';
import type { FittedSender, FittedSenderPoint, SenderCoefficient } from './sender';
import { unitChange } from '../units';
import { senderWarnings } from './warnings';

/** Temperatures at which makers state Beta; outside the usable range of a sender there is no beta_25_85. */
const BETA_COLD_CELSIUS = 25;
const BETA_HOT_CELSIUS = 85;

/**
 * A fitted candidate as the plain data that leaves this folder: values in the person's unit, coefficients with
 * uncertainties, residuals, Betas, warnings.
 * Source: covariance s^2 (A'WA)^-1 of a plain fit, (A'WA)^-1 of a weighted one, enlarged by chi-squared per degree of
 * freedom when the misfit exceeds chance (Birge, Phys. Rev. 40 (1932) 207).
 */
export function describeSender(candidate: Candidate, unit: string, reason: SenderReason): FittedSender {
  const { fit, basis, points, usable, quantity } = candidate;
  const leftOver = fit.law.name === 'table' ? 0 : points.length - fit.values.length;
  const scale = covarianceScale(candidate, leftOver);
  const covariance = fit.inverseNormal.map((row) => row.map((entry) => entry * scale));
  const described = describedPoints(candidate, unit);
  const residualUnit = isJudgedInValue(candidate) ? unit : 'ohm';
  const squares = sumOfSquares(
    described.map((point) => (residualUnit === 'ohm' ? point.residualOhm : point.residualValue)),
  );
  const toUnit = fromArgument(quantity === 'temperature', unit);
  const betas = quantity === 'temperature' && !rises(candidate) ? pairwiseBetas(points, basis) : [];
  const facts: Omit<FittedSender, 'warnings'> = {
    kind: 'sender',
    schema: 1,
    quantity,
    unit,
    model: fit.law.name,
    reason,
    law: fit.law,
    coefficients: coefficientsOf(candidate, covariance, unit),
    covariance,
    uncertaintyBasis: basis,
    degreesOfFreedom: basis === 'residuals' ? leftOver : null,
    points: described,
    residualSumOfSquares: squares,
    residualUnit,
    residualStandardDeviation: leftOver > 0 ? Math.sqrt(squares / leftOver) : null,
    knownFrom: points[0]!.value,
    knownTo: points.at(-1)!.value,
    // Never short of the points by the rounding of a change of unit.
    usableFrom: Math.min(points[0]!.value, toUnit(usable.from)),
    usableTo: Math.max(points.at(-1)!.value, toUnit(usable.to)),
    risesWithValue: rises(candidate),
    beta2585Kelvin: beta2585(candidate),
    pairwiseBetas: betas,
  };
  const outlying = outlyingPoints(
    { residuals: fit.residuals, leverages: fit.leverages, parameterCount: fit.values.length },
    basis === 'residuals' ? 'estimated' : 'known',
  );
  return { ...facts, warnings: senderWarnings(facts, { isMisfitted: isContradicted(candidate), outlying }) };
}

const rises = ({ fit, points }: Candidate): boolean =>
  lawOhm(fit.law, points.at(-1)!.argument) > lawOhm(fit.law, points[0]!.argument);

/** Steinhart-Hart and Beta are fitted in 1/T and ln R, which nobody judges by eye: their residuals are told in degrees. */
const isJudgedInValue = ({ fit }: Candidate): boolean =>
  fit.law.name === 'steinhart-hart' || fit.law.name === 'beta';

function covarianceScale({ basis, fit }: Candidate, leftOver: number): number {
  if (basis === 'residuals') return leftOver > 0 ? fit.chiSquared / leftOver : 0;
  return basis === 'given' && leftOver > 0 && exceedsChance(fit.chiSquared, leftOver)
    ? fit.chiSquared / leftOver
    : 1;
}

function coefficientsOf(
  { fit, quantity }: Candidate,
  covariance: readonly (readonly number[])[],
  personUnit: string,
): readonly SenderCoefficient[] {
  const argumentUnit = quantity === 'temperature' ? 'degC' : personUnit;
  return fit.names.map(({ name, unit }, i) => ({
    name,
    unit: unit.replace('unit', argumentUnit),
    value: fit.values[i]!,
    standardUncertainty: Math.sqrt(covariance[i]![i]!),
  }));
}

function describedPoints({ fit, points, residuals, quantity }: Candidate, unit: string): FittedSenderPoint[] {
  const toUnit = fromArgument(quantity === 'temperature', unit);
  const perArgument = toUnit(1) - toUnit(0);
  return points.map((point, i) => {
    const residualOhm = point.ohm - lawOhm(fit.law, point.argument);
    return {
      value: point.value,
      resistanceOhm: point.ohm,
      residualValue: residuals[i]! * perArgument,
      residualOhm,
    };
  });
}

function fromArgument(isTemperature: boolean, unit: string): (argument: number) => number {
  const change = unitChange(isTemperature ? 'degC' : unit, unit);
  if (change.kind === 'refused') return (argument) => argument;
  return (argument) => change.factor * argument + change.offset;
}

function beta2585(candidate: Candidate): number | null {
  const { fit, usable, quantity } = candidate;
  if (quantity !== 'temperature' || rises(candidate)) return null;
  if (usable.from > BETA_COLD_CELSIUS || usable.to < BETA_HOT_CELSIUS) return null;
  return betaFromPair(
    { argument: BETA_COLD_CELSIUS, ohm: lawOhm(fit.law, BETA_COLD_CELSIUS) },
    { argument: BETA_HOT_CELSIUS, ohm: lawOhm(fit.law, BETA_HOT_CELSIUS) },
  );
}
