import type { LawPoint, UncertaintyBasis } from './points';
import { kelvinFromCelsius } from '../units';

/**
 * Betas found on senders of this trade; outside, the measurement is suspect before the sender is.
 * Source: 3,550 to 4,600 K computed from published sender tables, widened; common practice, no source.
 */
export const LOWEST_PLAUSIBLE_BETA_KELVIN = 3000;
export const HIGHEST_PLAUSIBLE_BETA_KELVIN = 4600;

/** Beta between two neighbouring points. `standardUncertaintyKelvin` is null when nothing is known of the points' own. */
export type PairwiseBeta = {
  readonly fromCelsius: number;
  readonly toCelsius: number;
  readonly betaKelvin: number;
  readonly standardUncertaintyKelvin: number | null;
  /** False when Beta lies outside the plausible range, by more than its own uncertainty where that was given. */
  readonly isPlausible: boolean;
};

/** Beta from two temperatures and their resistances. Source: B = ln(R1/R2) / (1/T1 - 1/T2), IEC 60539-1 (from memory). */
export function betaFromPair(
  one: Pick<LawPoint, 'argument' | 'ohm'>,
  other: Pick<LawPoint, 'argument' | 'ohm'>,
): number {
  const distance = 1 / kelvinFromCelsius(one.argument) - 1 / kelvinFromCelsius(other.argument);
  return Math.log(one.ohm / other.ohm) / distance;
}

/**
 * Beta between neighbours, and between the first and the last when there are more than two; points at one temperature
 * are passed over. Uncertainties that were given widen the gate; assumed ones do not, and neighbours closer than 10 K
 * are then left unjudged, since half a degree of reading error would decide.
 * Source: as `betaFromPair`, uncertainty by first-order propagation (GUM 5.1.2).
 */
export function pairwiseBetas(points: readonly LawPoint[], basis: UncertaintyBasis): PairwiseBeta[] {
  const distinct = points.filter((point, i) => i === 0 || point.argument !== points[i - 1]!.argument);
  const pairs = distinct.slice(1).map((point, i) => pairBeta(distinct[i]!, point, basis));
  if (distinct.length > 2) pairs.push(pairBeta(distinct[0]!, distinct.at(-1)!, basis));
  return pairs;
}

/** True inside the gate. Source: the limits above. */
export const isPlausibleBeta = (betaKelvin: number): boolean => gateDistance(betaKelvin) === 0;

/** Neighbours closer than this, without uncertainties of their own, say nothing about Beta. */
const CLOSE_KELVIN = 10;

function pairBeta(one: LawPoint, other: LawPoint, basis: UncertaintyBasis): PairwiseBeta {
  const betaKelvin = betaFromPair(one, other);
  const uncertainty = betaUncertainty(one, other, betaKelvin);
  const isUnjudged = basis !== 'given' && other.argument - one.argument < CLOSE_KELVIN;
  return {
    fromCelsius: one.argument,
    toCelsius: other.argument,
    betaKelvin,
    standardUncertaintyKelvin: uncertainty > 0 ? uncertainty : null,
    isPlausible: isUnjudged || gateDistance(betaKelvin) <= (basis === 'given' ? uncertainty : 0),
  };
}

function betaUncertainty(one: LawPoint, other: LawPoint, betaKelvin: number): number {
  const distance = Math.abs(1 / kelvinFromCelsius(one.argument) - 1 / kelvinFromCelsius(other.argument));
  const lnErrors = [one, other].map((point) =>
    Math.hypot(
      point.ohmUncertainty / point.ohm,
      (betaKelvin * point.argumentUncertainty) / kelvinFromCelsius(point.argument) ** 2,
    ),
  );
  return Math.hypot(...lnErrors) / distance;
}

/** How far a Beta lies outside the gate, kelvin; 0 inside. */
const gateDistance = (betaKelvin: number): number =>
  Math.max(0, LOWEST_PLAUSIBLE_BETA_KELVIN - betaKelvin, betaKelvin - HIGHEST_PLAUSIBLE_BETA_KELVIN);
