import { CELSIUS_ZERO_KELVIN } from '../units';
import { exponentialCelsius, exponentialGradient, exponentialOhm } from './exponential';
import { polynomialGradient, polynomialOhm } from './polynomial';
import { steinhartHartGradient, steinhartHartKelvin, steinhartHartOhm } from './steinhart-hart';
import { type TableLaw, tableOhm } from './table';

/** The reference temperature at which a Beta law states its resistance: 25 degC. Source: common practice of thermistor makers. */
export const BETA_REFERENCE_KELVIN = CELSIUS_ZERO_KELVIN + 25;

/**
 * A sender curve as plain data. Its argument is degrees Celsius for temperature senders whatever unit the points were
 * given in, and the sender's own unit otherwise.
 */
export type SenderLaw =
  | {
      /** 1/T = a + b ln R + c (ln R)^3, T in kelvin, R in ohm. `branchLnOhm` lies on the branch that is meant. */
      readonly name: 'steinhart-hart';
      readonly a: number;
      readonly b: number;
      readonly c: number;
      readonly branchLnOhm: number;
    }
  | {
      /** R = resistance25Ohm exp( betaKelvin (1/T - 1/298.15) ). */
      readonly name: 'beta';
      readonly resistance25Ohm: number;
      readonly betaKelvin: number;
    }
  | {
      /** R = b1Ohm exp( b2Celsius / (t + b3Celsius) ), t in degrees Celsius. */
      readonly name: 'exponential';
      readonly b1Ohm: number;
      readonly b2Celsius: number;
      readonly b3Celsius: number;
    }
  | {
      /** R = sum of coefficients[k] value^k; two coefficients make a straight line. */
      readonly name: 'linear' | 'polynomial';
      readonly coefficients: readonly number[];
    }
  | TableLaw;

export type SenderLawName = SenderLaw['name'];

/**
 * Resistance of a law at its argument. NaN where the law has no value: callers inside this folder keep to the usable
 * range, nobody outside calls it. Source: the formulas beside each law.
 */
export function lawOhm(law: SenderLaw, argument: number): number {
  switch (law.name) {
    case 'steinhart-hart':
      return steinhartHartOhm(law, argument + CELSIUS_ZERO_KELVIN);
    case 'beta':
      return betaOhm(law.resistance25Ohm, law.betaKelvin, argument + CELSIUS_ZERO_KELVIN);
    case 'exponential':
      return exponentialOhm(law, argument);
    case 'linear':
    case 'polynomial':
      return polynomialOhm(law.coefficients, argument);
    case 'table':
      return tableOhm(law, argument);
  }
}

/** Argument of a law at a resistance where a closed form exists, otherwise undefined. Source: the formulas beside each law, solved. */
export function lawArgument(law: SenderLaw, resistanceOhm: number): number | undefined {
  switch (law.name) {
    case 'steinhart-hart':
      return steinhartHartKelvin(law, resistanceOhm) - CELSIUS_ZERO_KELVIN;
    case 'beta': {
      const inverse =
        1 / BETA_REFERENCE_KELVIN + Math.log(resistanceOhm / law.resistance25Ohm) / law.betaKelvin;
      return 1 / inverse - CELSIUS_ZERO_KELVIN;
    }
    case 'exponential':
      return exponentialCelsius(law, resistanceOhm);
    case 'linear':
    case 'polynomial':
    case 'table':
      return undefined;
  }
}

/**
 * Derivatives of the resistance with respect to the law's coefficients, in the order they are reported; empty for a
 * table. Source: the formulas beside each law, differentiated; held against differences by a test.
 */
export function lawGradient(law: SenderLaw, argument: number): readonly number[] {
  switch (law.name) {
    case 'steinhart-hart':
      return steinhartHartGradient(law, argument + CELSIUS_ZERO_KELVIN);
    case 'beta': {
      const ohm = lawOhm(law, argument);
      const distance = 1 / (argument + CELSIUS_ZERO_KELVIN) - 1 / BETA_REFERENCE_KELVIN;
      return [ohm / law.resistance25Ohm, ohm * distance];
    }
    case 'exponential':
      return exponentialGradient(law, argument);
    case 'linear':
    case 'polynomial':
      return polynomialGradient(law.coefficients, argument);
    case 'table':
      return [];
  }
}

/**
 * dR/d(argument): every law here is smooth, and the answer feeds uncertainties only. Source: central difference.
 */
export function lawSlope(law: SenderLaw, argument: number): number {
  const step = 1e-4 * Math.max(1, Math.abs(argument));
  return (lawOhm(law, argument + step) - lawOhm(law, argument - step)) / (2 * step);
}

const betaOhm = (resistance25Ohm: number, betaKelvin: number, temperatureKelvin: number): number =>
  resistance25Ohm * Math.exp(betaKelvin * (1 / temperatureKelvin - 1 / BETA_REFERENCE_KELVIN));
