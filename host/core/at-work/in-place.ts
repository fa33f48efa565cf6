import { weightedLinearFit } from '../numeric/linear-fit';
import { coverageFactor } from '../numeric/student-t';
import { refuse } from '../refusal';
import type { Refusal } from '../refusal';
import type { SenderResponse } from '../response';
import { unitChange } from '../units';
import { factorFound, factorFromStill } from './dissipation-factor';
import type { DissipationFactor } from './dissipation-factor';
import type { LeadSource } from './source';

/**
 * Volts on the sender lead at one moment, and on the same lead unclipped (or at the gauge's feed, for two terminals) by the
 * same meter over the same whole pulses, where that is not the source's own voltage.
 */
export type LeadVolt = { readonly senderVolt: number; readonly openVolt?: number | undefined };

/** With coolant flowing: just after the lead is put on (`cold`), and after it was on for a minute (`warm`), in turn. */
export type FlowingVolt = LeadVolt & { readonly when: 'cold' | 'warm' };
/** With coolant still: seconds since the ignition was switched on. */
export type StillVolt = LeadVolt & { readonly second: number };

export type InPlace = {
  readonly kind: 'in-place';
  readonly method: 'flowing' | 'still';
  readonly factor: DissipationFactor;
  /** As it was found; for still coolant the factor to use lies above it. */
  readonly foundWattPerKelvin: number;
  readonly standardUncertaintyWattPerKelvin: number;
  /** Dial units: the true value at which it was measured, and by how much the sender warmed. */
  readonly value: number;
  readonly rise: number;
  readonly coldOhm: number;
  readonly warmOhm: number;
  readonly watt: number;
};

export type InPlaceRefusal = Refusal<
  'IN_PLACE_TOO_FEW' | 'IN_PLACE_VOLTS' | 'IN_PLACE_NOT_SEEN' | 'IN_PLACE_NO_TEMPERATURE'
>;

type Circuit = { readonly source: LeadSource; readonly sender: SenderResponse };

/** Seconds the lead stays on and off, and how long after clipping on a meter has shown its first figure. */
const MINUTE_SECOND = 60;
const FIRST_SECOND = 1.5;
/** Time constants of senders in moving liquid, s. Common practice, no source. */
const TIME_CONSTANTS = [5, 7, 10, 14, 20, 30] as const;
const FEWEST_FLOWING = 4;
const FEWEST_STILL = 6;
const SHORTEST_STILL_SECOND = 90;
/** A change that is not twice its own uncertainty was not seen. */
const SEEN = 2;

/** A handheld meter repeats a ratio of two volts no better than this, relative. Common practice, no source. */
const METER_FRACTION = 0.003;
const COVERAGE_PROBABILITY = 0.95;
const COVERAGE_FACTOR = 2;

type Fit = {
  readonly start: number;
  readonly change: number;
  readonly uncertainty: number;
  readonly misfit: number;
};

/**
 * Level and change (the last column) of ln r, the change with its standard uncertainty, widened so that twice it covers
 * 95 % (Student t) for as few readings as there are.
 */
const fitOf = (rows: readonly (readonly number[])[], logOhm: readonly number[]): Fit | undefined => {
  const fit = weightedLinearFit({ rows, targets: logOhm, weights: logOhm.map(() => 1) });
  const last = (rows[0]?.length ?? 0) - 1;
  const degrees = rows.length - last - 1;
  if (fit === undefined || degrees < 1) return undefined;
  const spread = Math.max(METER_FRACTION, Math.sqrt(fit.chiSquared / degrees));
  const widened = coverageFactor(COVERAGE_PROBABILITY, degrees) / COVERAGE_FACTOR;
  return {
    start: fit.coefficients[0]!,
    change: fit.coefficients[last]!,
    uncertainty: widened * spread * Math.sqrt(fit.inverseNormal[last]![last]!),
    misfit: fit.chiSquared,
  };
};

/** r = R Vs / (V - Vs): equal current through what is behind the lead and through the sender. */
const ohmFrom = ({ senderVolt, openVolt }: LeadVolt, { volt, ohm }: LeadSource): number => {
  const open = openVolt ?? volt;
  return senderVolt > 0 && senderVolt < open ? (ohm * senderVolt) / (open - senderVolt) : NaN;
};

const voltsRefusal = (readings: readonly LeadVolt[], { source }: Circuit): InPlaceRefusal | undefined => {
  const wrong = readings.findIndex((reading) => !(ohmFrom(reading, source) > 0));
  if (wrong < 0) return undefined;
  const { senderVolt, openVolt } = readings[wrong]!;
  return refuse('IN_PLACE_VOLTS', { row: wrong + 1, senderVolt, openVolt: openVolt ?? source.volt });
};

/**
 * Which part of the whole rise lies between the two moments read, for one time constant: some is gone before the meter
 * shows its first figure, and after a minute neither warming nor cooling is quite over.
 * Source: first-order heating, switched on and off in turn; h = X / (1 + q), c = q h with q = exp(-60/tau).
 */
const seenPart = (timeConstant: number): number => {
  const left = Math.exp(-MINUTE_SECOND / timeConstant);
  return (Math.exp(-FIRST_SECOND / timeConstant) * (1 - left)) / (1 + left);
};

const parts = TIME_CONSTANTS.map(seenPart);
const SEEN_PART = (Math.max(...parts) + Math.min(...parts)) / 2;
/** Rectangular between the extremes of the time constants (GUM 4.3.7). */
const SEEN_PART_UNCERTAINTY = (Math.max(...parts) - Math.min(...parts)) / 2 / Math.sqrt(3);

type Seen = {
  readonly method: 'flowing' | 'still';
  readonly coldLogOhm: number;
  readonly change: number;
  readonly changeUncertainty: number;
  /** Of the whole change, what lies between the moments read, with its standard uncertainty. */
  readonly part: number;
  readonly partUncertainty: number;
};

/** From the change of ln r to a dissipation factor, by the sender's own curve. */
const factorOf = ({ source, sender }: Circuit, seen: Seen): InPlace | InPlaceRefusal => {
  const change = unitChange('degC', sender.unit);
  if (sender.quantity !== 'temperature' || change.kind === 'refused')
    return refuse('IN_PLACE_NO_TEMPERATURE', { unit: sender.unit });
  const coldOhm = Math.exp(seen.coldLogOhm);
  const warmOhm = Math.exp(seen.coldLogOhm + seen.change / seen.part);
  const value = sender.value(coldOhm);
  const rise = sender.value(warmOhm) - value;
  if (!(rise > 0 && Math.abs(seen.change) > SEEN * seen.changeUncertainty))
    return refuse('IN_PLACE_NOT_SEEN', {
      changePercent: 100 * Math.abs(seen.change),
      uncertaintyPercent: 100 * seen.changeUncertainty,
    });
  const watt = (source.volt / (source.ohm + warmOhm)) ** 2 * warmOhm;
  const wattPerKelvin = (watt / rise) * change.factor;
  const relative = Math.hypot(seen.changeUncertainty / seen.change, seen.partUncertainty / seen.part);
  const standard = relative * wattPerKelvin;
  return {
    kind: 'in-place',
    method: seen.method,
    factor:
      seen.method === 'still'
        ? factorFromStill(wattPerKelvin, standard)
        : factorFound(wattPerKelvin, standard, 'flowing'),
    foundWattPerKelvin: wattPerKelvin,
    standardUncertaintyWattPerKelvin: standard,
    ...{ value, rise, coldOhm, warmOhm, watt },
  };
};

const tooFew = (given: number, method: 'flowing' | 'still'): InPlaceRefusal =>
  refuse('IN_PLACE_TOO_FEW', {
    given,
    needed: method === 'still' ? FEWEST_STILL : FEWEST_FLOWING + 2,
    method,
  });

/**
 * What a sender sheds in its place with the coolant flowing: volts just after the lead is put on, and a minute later, in
 * turn; off for a minute between. A drift of the coolant that is straight in time drops out.
 * Source: ln r = a + b t + d [warm] by least squares; delta = P / rise (IEC 60539-1).
 * Refuses: IN_PLACE_TOO_FEW, IN_PLACE_VOLTS, IN_PLACE_NOT_SEEN, IN_PLACE_NO_TEMPERATURE.
 */
export const factorFromFlowing = (
  readings: readonly FlowingVolt[],
  circuit: Circuit,
): InPlace | InPlaceRefusal => {
  const counts = (['cold', 'warm'] as const).map(
    (when) => readings.filter((each) => each.when === when).length,
  );
  if (readings.length < FEWEST_FLOWING || Math.min(...counts) < FEWEST_FLOWING / 2)
    return tooFew(readings.length, 'flowing');
  const wrong = voltsRefusal(readings, circuit);
  if (wrong) return wrong;
  const middle = (readings.length - 1) / 2;
  const rows = readings.map(({ when }, turn) => [1, turn - middle, when === 'warm' ? 1 : 0]);
  const fit = fitOf(
    rows,
    readings.map((reading) => Math.log(ohmFrom(reading, circuit.source))),
  );
  if (fit === undefined) return tooFew(readings.length, 'flowing');
  return factorOf(circuit, {
    method: 'flowing',
    coldLogOhm: fit.start,
    change: fit.change,
    changeUncertainty: fit.uncertainty,
    part: SEEN_PART,
    partUncertainty: SEEN_PART_UNCERTAINTY,
  });
};

/** Time constants tried in still coolant, s: it takes heat away more slowly. */
const STILL_TIME_CONSTANTS = Array.from({ length: 40 }, (_, index) => 4 * 1.09 ** index);

/**
 * What a sender sheds in still coolant: volts from the moment the ignition is switched on, for five minutes. A lower
 * bound of what it sheds in flow. A ground that lifts when current flows does so at once: it is in the first reading,
 * heat creeps.
 * Source: ln r = a + d (1 - exp(-t/tau)), the best tau of many, taken back to t = 0; delta = P / rise (IEC 60539-1).
 * Refuses: as factorFromFlowing.
 */
export const factorInStill = (readings: readonly StillVolt[], circuit: Circuit): InPlace | InPlaceRefusal => {
  const lastSecond = Math.max(0, ...readings.map(({ second }) => second));
  if (readings.length < FEWEST_STILL || !(lastSecond >= SHORTEST_STILL_SECOND))
    return tooFew(readings.length, 'still');
  const wrong = voltsRefusal(readings, circuit);
  if (wrong) return wrong;
  const logOhm = readings.map((reading) => Math.log(ohmFrom(reading, circuit.source)));
  const fits = STILL_TIME_CONSTANTS.flatMap(
    (timeConstant) =>
      fitOf(
        readings.map(({ second }) => [1, 1 - Math.exp(-second / timeConstant)]),
        logOhm,
      ) ?? [],
  );
  if (fits.length === 0) return tooFew(readings.length, 'still');
  const best = fits.reduce((one, other) => (other.misfit < one.misfit ? other : one));
  return factorOf(circuit, {
    method: 'still',
    coldLogOhm: best.start,
    change: best.change,
    changeUncertainty: best.uncertainty,
    part: 1,
    partUncertainty: 0,
  });
};
