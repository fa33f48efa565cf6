import { lawOhm, lawSlope, type SenderLaw } from './law';
import { kelvinFromCelsius } from '../units';

/** Where the points of a sender lie, degrees Celsius, and whether their scatter already shows what the law leaves out. */
export type RemainderPlace = {
  readonly coldCelsius: number;
  readonly hotCelsius: number;
  readonly isSeenInScatter: boolean;
};

/**
 * Growth of Beta with temperature, kelvin per kelvin, taken as a standard uncertainty about none.
 * Source: 1.2 to 3.6 in published tables (material curve of tests/vectors/thermistor-ntc-ratio-table.json: 1.9 between
 * 25 and 112 degC; NIST MGH10: 3.6).
 */
const BETA_GROWTH = 2.5;

/**
 * Third-order term in ln R that three-parameter laws leave out of 1/T, 1/K, as a standard uncertainty about none.
 * Source: fitted through three points of the published material curve, which departs from Steinhart-Hart by 0.2 to
 * 0.5e-7 and from the exponential with offset by 0.6 to 1.1e-7 (tests/core/sender/remainder.test.ts).
 */
const THIRD_ORDER = { 'steinhart-hart': 0.5e-7, exponential: 1e-7 } as const;

/**
 * What a thermistor law leaves out, as a standard uncertainty in ohm: nothing at the points, little between them, and
 * growing beyond. This is what an extrapolation risks however good the points are. 0 for laws that follow the points.
 * Source: first term that the law omits, interpolation error as in any text of numerical analysis; derived here.
 */
export function lawRemainder(law: SenderLaw, argument: number, place: RemainderPlace): number {
  switch (law.name) {
    case 'beta':
      return place.isSeenInScatter ? 0 : betaRemainder(law, argument, place);
    case 'steinhart-hart':
    case 'exponential':
      return thirdOrderRemainder(law, argument, place);
    case 'linear':
    case 'polynomial':
    case 'table':
      return 0;
  }
}

function betaRemainder(
  law: SenderLaw,
  argument: number,
  { coldCelsius, hotCelsius }: RemainderPlace,
): number {
  const [cold, hot] = [kelvinFromCelsius(coldCelsius), kelvinFromCelsius(hotCelsius)];
  const inverse = 1 / kelvinFromCelsius(argument);
  const sag = 0.5 * BETA_GROWTH * cold * hot * (inverse - 1 / cold) * (inverse - 1 / hot);
  return Math.abs(sag) * lawOhm(law, argument);
}

function thirdOrderRemainder(
  law: Extract<SenderLaw, { name: keyof typeof THIRD_ORDER }>,
  argument: number,
  { coldCelsius, hotCelsius }: RemainderPlace,
): number {
  const [first, last] = [Math.log(lawOhm(law, coldCelsius)), Math.log(lawOhm(law, hotCelsius))];
  const lnOhm = Math.log(lawOhm(law, argument));
  const product = (lnOhm - first) * (lnOhm - (first + last) / 2) * (lnOhm - last);
  const kelvin = THIRD_ORDER[law.name] * Math.abs(product) * kelvinFromCelsius(argument) ** 2;
  return kelvin * Math.abs(lawSlope(law, argument));
}
