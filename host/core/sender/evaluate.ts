import { quadraticForm } from '../numeric/matrix';
import { coverageFactor } from '../numeric/student-t';
import { type Refusal, refuse } from '../refusal';
import { argumentAt } from './candidate';
import { lawGradient, lawOhm, lawSlope } from './law';
import { lawRemainder } from './remainder';
import type { FittedSender } from './sender';
import { flatStretch, tableOhmUncertainty } from './table';
import { type UnitChange, unitChange } from '../units';

/** Probability of the expanded uncertainties stated here. Source: GUM (JCGM 100:2008) 6.3, a level of about 95 %. */
const COVERAGE_PROBABILITY = 0.95;

/** An end of a range is met when it is missed by no more than this share of the range: changes of unit round. */
const ROUNDING_SHARE = 1e-9;

/** Resistance of a sender at a value. `isExtrapolated`: the value lies beyond the measured points. */
export type SenderOhm = {
  readonly kind: 'sender-ohm';
  readonly value: number;
  readonly resistanceOhm: number;
  readonly standardUncertaintyOhm: number;
  readonly expandedUncertaintyOhm: number;
  readonly coverageFactor: number;
  readonly isExtrapolated: boolean;
};

/** Value at a resistance of a sender, in the sender's unit. */
export type SenderValue = {
  readonly kind: 'sender-value';
  readonly resistanceOhm: number;
  readonly value: number;
  readonly standardUncertainty: number;
  readonly expandedUncertainty: number;
  readonly coverageFactor: number;
  readonly isExtrapolated: boolean;
};

/**
 * Resistance at a value in the sender's unit, with the uncertainty that the fit leaves.
 * Source: the sender's law; u^2 = g' V g (GUM 5.2.2), expanded with Student t at 95 %.
 * Refuses: a value beyond the usable range (SENDER_OUT_OF_RANGE).
 */
export function senderOhmAt(sender: FittedSender, value: number): SenderOhm | Refusal<'SENDER_OUT_OF_RANGE'> {
  const slack = ROUNDING_SHARE * (sender.usableTo - sender.usableFrom);
  if (!(value >= sender.usableFrom - slack && value <= sender.usableTo + slack)) {
    const { unit, usableFrom: from, usableTo: to } = sender;
    return refuse('SENDER_OUT_OF_RANGE', { value, unit, from, to });
  }
  const argument = toArgument(sender, value);
  const standardUncertaintyOhm = ohmUncertainty(sender, argument);
  const factor = factorOf(sender);
  return {
    kind: 'sender-ohm',
    value,
    resistanceOhm: bareOhm(sender, value),
    standardUncertaintyOhm,
    expandedUncertaintyOhm: factor * standardUncertaintyOhm,
    coverageFactor: factor,
    isExtrapolated: isBeyondPoints(sender, value),
  };
}

/**
 * Value at a resistance, in the sender's unit, with the uncertainty that the fit leaves. On a flat stretch of a table
 * the answer is its middle, and half its width counts as a rectangular contribution (GUM 4.3.7).
 * Source: the inverse of the sender's law; u(value) = u(R) / |dR/dvalue|.
 * Refuses: a resistance that the law does not take within its usable range (SENDER_OUT_OF_RANGE).
 */
export function senderValueAt(
  sender: FittedSender,
  resistanceOhm: number,
): SenderValue | Refusal<'SENDER_OUT_OF_RANGE'> {
  const found = argumentOf(sender, resistanceOhm);
  if (found === undefined) {
    const [fromOhm, toOhm] = ohmRange(sender);
    return refuse('SENDER_OUT_OF_RANGE', { resistanceOhm, fromOhm, toOhm });
  }
  const { factor: perArgument } = toUnit(sender);
  const value = perArgument * found.argument + toUnit(sender).offset;
  const standardUncertainty = Math.abs(perArgument) * argumentUncertainty(sender, found);
  const factor = factorOf(sender);
  return {
    kind: 'sender-value',
    resistanceOhm,
    value,
    standardUncertainty,
    expandedUncertainty: factor * standardUncertainty,
    coverageFactor: factor,
    isExtrapolated: isBeyondPoints(sender, value),
  };
}

/** Resistance alone, without its uncertainty and without a check of the range: for searches. Source: the sender's law. */
export const bareOhm = (sender: FittedSender, value: number): number =>
  Math.max(0, lawOhm(sender.law, toArgument(sender, value)));

/** Standard uncertainty of the resistance alone, ohm, without a check of the range: for searches. Source: GUM 5.2.2. */
export const bareOhmUncertainty = (sender: FittedSender, value: number): number =>
  ohmUncertainty(sender, toArgument(sender, value));

/** Value alone, undefined where the law does not take the resistance: for searches. Source: the sender's law. */
export function bareValue(sender: FittedSender, resistanceOhm: number): number | undefined {
  const found = argumentOf(sender, resistanceOhm);
  return found === undefined ? undefined : toUnit(sender).factor * found.argument + toUnit(sender).offset;
}

/** Lowest and highest resistance within the usable range. Source: the law is monotone there. */
export function ohmRange(sender: FittedSender): readonly [number, number] {
  const ends = [sender.usableFrom, sender.usableTo].map((value) =>
    lawOhm(sender.law, toArgument(sender, value)),
  );
  return [Math.max(0, Math.min(...ends)), Math.max(...ends)];
}

type Place = { readonly argument: number; readonly halfWidth: number };

function argumentOf(sender: FittedSender, resistanceOhm: number): Place | undefined {
  if (!Number.isFinite(resistanceOhm) || resistanceOhm < 0) return undefined;
  const flat = sender.law.name === 'table' ? flatStretch(sender.law, resistanceOhm) : undefined;
  if (flat !== undefined)
    return { argument: (flat.from + flat.to) / 2, halfWidth: (flat.to - flat.from) / 2 };
  const usable = {
    from: toArgument(sender, sender.usableFrom),
    to: toArgument(sender, sender.usableTo),
  };
  const argument = argumentAt(sender.law, usable, heldAtEnds(sender, resistanceOhm));
  return argument === undefined ? undefined : { argument, halfWidth: 0 };
}

/** A line through 0 ohm may begin at 5e-15 by rounding: within a billionth of the range an end is met. */
function heldAtEnds(sender: FittedSender, resistanceOhm: number): number {
  const [low, high] = ohmRange(sender);
  const slack = ROUNDING_SHARE * (high - low);
  if (resistanceOhm < low && resistanceOhm >= low - slack) return low;
  return resistanceOhm > high && resistanceOhm <= high + slack ? high : resistanceOhm;
}

function argumentUncertainty(sender: FittedSender, { argument, halfWidth }: Place): number {
  if (halfWidth > 0) return halfWidth / Math.sqrt(3);
  const widest = Math.abs(toArgument(sender, sender.usableTo) - toArgument(sender, sender.usableFrom));
  const slope = Math.abs(lawSlope(sender.law, argument));
  const spread = ohmUncertainty(sender, argument);
  // Where the curve is flat the value is only known to lie in the usable range.
  return spread < slope * widest ? spread / slope : widest / Math.sqrt(12);
}

function ohmUncertainty(sender: FittedSender, argument: number): number {
  if (sender.law.name === 'table') return tableOhmUncertainty(sender.law, argument);
  const variance = quadraticForm(sender.covariance, lawGradient(sender.law, argument));
  const place = {
    coldCelsius: toArgument(sender, sender.knownFrom),
    hotCelsius: toArgument(sender, sender.knownTo),
    isSeenInScatter: sender.uncertaintyBasis === 'residuals',
  };
  return Math.hypot(Math.sqrt(Math.max(0, variance)), lawRemainder(sender.law, argument, place));
}

const factorOf = ({ degreesOfFreedom }: FittedSender): number =>
  coverageFactor(COVERAGE_PROBABILITY, degreesOfFreedom ?? Infinity);

const isBeyondPoints = (sender: FittedSender, value: number): boolean => {
  const slack = ROUNDING_SHARE * (sender.knownTo - sender.knownFrom);
  return value < sender.knownFrom - slack || value > sender.knownTo + slack;
};

const UNCHANGED: UnitChange = { kind: 'unit-change', factor: 1, offset: 0 };

function toUnit(sender: FittedSender): UnitChange {
  const change = unitChange(sender.quantity === 'temperature' ? 'degC' : sender.unit, sender.unit);
  return change.kind === 'refused' ? UNCHANGED : change;
}

function toArgument(sender: FittedSender, value: number): number {
  const { factor, offset } = toUnit(sender);
  return (value - offset) / factor;
}
