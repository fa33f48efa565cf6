import { monotoneRoot } from '../numeric/monotone-root';
import { type Refusal, refuse } from '../refusal';
import { bareOhm, senderOhmAt } from './evaluate';
import type { FittedSender } from './sender';
import { kelvinFromCelsius, unitChange } from '../units';

/** A sender's resistance at one measuring current, in a stirred bath. */
export type CurrentReading = { readonly currentAmp: number; readonly resistanceOhm: number };

export type TwoCurrents = {
  readonly bathCelsius: number;
  readonly betaKelvin: number;
  readonly low: CurrentReading;
  readonly high: CurrentReading;
  /** Relative standard uncertainty of each resistance; 0.2 % when not given (the same meter twice; common practice). */
  readonly resistanceFraction?: number | undefined;
};

/** How much heat a sender sheds for each kelvin above its bath, and what it reads without heat of its own. */
export type Dissipation = {
  readonly kind: 'dissipation';
  readonly wattPerKelvin: number;
  readonly standardUncertaintyWattPerKelvin: number;
  readonly zeroPowerOhm: number;
  readonly lowRiseKelvin: number;
  readonly highRiseKelvin: number;
};

export type SelfHeated = {
  readonly kind: 'self-heated';
  readonly resistanceOhm: number;
  readonly riseKelvin: number;
};

/** A sender this much above its bath is being destroyed, and the law no longer applies. */
const LARGEST_RISE_KELVIN = 150;
const USUAL_RESISTANCE_FRACTION = 0.002;

/**
 * Dissipation constant from the resistance at two currents in one bath.
 * Source: delta = dP/dT with ln(r_low/r_high) = B (1/T_low - 1/T_high), T = bath + P/delta, solved without the usual
 * approximation dT = ln(r_low/r_high) T^2/B (derived here; tests/core/sender/self-heating.test.ts).
 * Refuses: SELF_HEATING_INPUT (numbers that cannot be, or no more power at the second reading), SELF_HEATING_NOT_SEEN
 * (the resistance did not fall by more than the meter's uncertainty), SELF_HEATING_TOO_HOT.
 */
export function dissipationFromTwoCurrents(readings: TwoCurrents): Dissipation | Refusal {
  const { betaKelvin, low, high } = readings;
  const [lowWatt, highWatt] = [powerOf(low), powerOf(high)];
  const fault = inputFault(readings, lowWatt, highWatt);
  if (fault !== undefined) return fault;
  const bathKelvin = kelvinFromCelsius(readings.bathCelsius);
  const fall = Math.log(low.resistanceOhm / high.resistanceOhm);
  const noise = Math.SQRT2 * (readings.resistanceFraction ?? USUAL_RESISTANCE_FRACTION);
  if (!(fall > noise)) {
    return refuse('SELF_HEATING_NOT_SEEN', { fallPercent: 100 * fall, noisePercent: 100 * noise });
  }
  const fallAt = (kelvinPerWatt: number): number =>
    betaKelvin * (1 / (bathKelvin + lowWatt * kelvinPerWatt) - 1 / (bathKelvin + highWatt * kelvinPerWatt));
  const kelvinPerWatt = monotoneRoot(fallAt, { from: 0, to: LARGEST_RISE_KELVIN / highWatt, target: fall });
  if (kelvinPerWatt === undefined) {
    return refuse('SELF_HEATING_TOO_HOT', { riseAboveCelsius: LARGEST_RISE_KELVIN });
  }
  const lowRiseKelvin = lowWatt * kelvinPerWatt;
  const coldening = betaKelvin * (1 / bathKelvin - 1 / (bathKelvin + lowRiseKelvin));
  return {
    kind: 'dissipation',
    wattPerKelvin: 1 / kelvinPerWatt,
    standardUncertaintyWattPerKelvin: noise / fall / kelvinPerWatt,
    zeroPowerOhm: low.resistanceOhm * Math.exp(coldening),
    lowRiseKelvin,
    highRiseKelvin: highWatt * kelvinPerWatt,
  };
}

/**
 * Resistance of a temperature sender that its own current warms: what the gauge sees, not what an ohmmeter sees.
 * Source: T = bath + I^2 R(T)/delta, derived here. Refuses: SELF_HEATING_INPUT, SENDER_OUT_OF_RANGE, and a current that
 * heats it beyond where the law can be followed (SELF_HEATING_TOO_HOT).
 */
export function selfHeatedOhm(
  sender: FittedSender,
  heating: { readonly value: number; readonly currentAmp: number; readonly wattPerKelvin: number },
): SelfHeated | Refusal {
  const { value, currentAmp, wattPerKelvin } = heating;
  const change = unitChange('degC', sender.unit);
  if (change.kind === 'refused' || !(wattPerKelvin > 0) || !Number.isFinite(currentAmp)) {
    return refuse('SELF_HEATING_INPUT', { wrong: 'not-temperature' });
  }
  const cold = senderOhmAt(sender, value);
  if (cold.kind === 'refused') return cold;
  const ohmAt = (at: number): number => bareOhm(sender, at);
  // The excess of the temperature over what its own heat explains rises with it for an NTC: one crossing.
  const excess = (at: number): number =>
    (at - value) / change.factor - (currentAmp * currentAmp * ohmAt(at)) / wattPerKelvin;
  const settled =
    currentAmp === 0 ? value : monotoneRoot(excess, { from: value, to: sender.usableTo, target: 0 });
  if (settled === undefined) {
    return refuse('SELF_HEATING_TOO_HOT', { currentAmp, hottest: sender.usableTo, unit: sender.unit });
  }
  return {
    kind: 'self-heated',
    resistanceOhm: ohmAt(settled),
    riseKelvin: (settled - value) / change.factor,
  };
}

const powerOf = ({ currentAmp, resistanceOhm }: CurrentReading): number => currentAmp ** 2 * resistanceOhm;

function inputFault(readings: TwoCurrents, lowWatt: number, highWatt: number): Refusal | undefined {
  const { bathCelsius, betaKelvin, low, high } = readings;
  const areReal = [bathCelsius, betaKelvin, lowWatt, highWatt].every(Number.isFinite);
  if (!areReal || !(kelvinFromCelsius(bathCelsius) > 0 && betaKelvin > 0)) {
    return refuse('SELF_HEATING_INPUT', { wrong: 'not-real' });
  }
  if (!(low.resistanceOhm > 0 && high.resistanceOhm > 0)) {
    return refuse('SELF_HEATING_INPUT', { wrong: 'resistance' });
  }
  return highWatt > lowWatt
    ? undefined
    : refuse('SELF_HEATING_INPUT', { wrong: 'no-more-power', lowWatt, highWatt });
}
