import { type Refusal, refuse } from '../refusal';

const CELSIUS_ZERO_KELVIN = 273.15;
const PASCAL_PER_MEGAPASCAL = 1e6;

/** Coefficients n1 to n10. Source: IAPWS R7-97(2012), Table 34. */
const N1 = 0.11670521452767e4;
const N2 = -0.72421316703206e6;
const N3 = -0.17073846940092e2;
const N4 = 0.1202082470247e5;
const N5 = -0.32325550322333e7;
const N6 = 0.1491510861353e2;
const N7 = -0.48232657361591e4;
const N8 = 0.40511340542057e6;
const N9 = -0.23855557567849;
const N10 = 0.65017534844798e3;

/** Where liquid and vapour exist together. Source: IAPWS R7-97(2012), section 8. */
export const saturationLimits = {
  coldestKelvin: 273.15,
  hottestKelvin: 647.096,
  /** The pressure that equation (30) itself gives at 273.15 K, so that both directions have the same ends. */
  lowestPascal: 611.2126,
  highestPascal: 22.064e6,
} as const;

export type SaturationPressure = { readonly kind: 'saturation-pressure'; readonly pressurePascal: number };
export type SaturationTemperature = {
  readonly kind: 'saturation-temperature';
  readonly temperatureCelsius: number;
};

/**
 * Pressure at which pure water boils at a temperature (ITS-90).
 * Source: IAPWS R7-97(2012), equation (30). Refuses: outside 0 to 373.946 degC (WATER_TEMPERATURE).
 */
export function saturationPressure(
  temperatureCelsius: number,
): SaturationPressure | Refusal<'WATER_TEMPERATURE'> {
  const kelvin = temperatureCelsius + CELSIUS_ZERO_KELVIN;
  const { coldestKelvin, hottestKelvin } = saturationLimits;
  if (!(kelvin >= coldestKelvin && kelvin <= hottestKelvin)) {
    return refuse('WATER_TEMPERATURE', { temperatureCelsius });
  }
  const theta = kelvin + N9 / (kelvin - N10);
  const a = theta * theta + N1 * theta + N2;
  const b = N3 * theta * theta + N4 * theta + N5;
  const c = N6 * theta * theta + N7 * theta + N8;
  const megapascal = ((2 * c) / (-b + Math.sqrt(b * b - 4 * a * c))) ** 4;
  // At the critical point the equation ends 0.3 mPa above it by rounding.
  const pressurePascal = Math.min(megapascal * PASCAL_PER_MEGAPASCAL, saturationLimits.highestPascal);
  return { kind: 'saturation-pressure', pressurePascal };
}

/**
 * Temperature (ITS-90) at which pure water boils at a pressure.
 * Source: IAPWS R7-97(2012), equation (31). Refuses: outside 611.213 Pa to 22.064 MPa (WATER_PRESSURE).
 */
export function saturationTemperature(
  pressurePascal: number,
): SaturationTemperature | Refusal<'WATER_PRESSURE'> {
  const { lowestPascal, highestPascal } = saturationLimits;
  if (!(pressurePascal >= lowestPascal && pressurePascal <= highestPascal)) {
    return refuse('WATER_PRESSURE', { pressureHectopascal: pressurePascal / 100 });
  }
  const beta = (pressurePascal / PASCAL_PER_MEGAPASCAL) ** 0.25;
  const e = beta * beta + N3 * beta + N6;
  const f = N1 * beta * beta + N4 * beta + N7;
  const g = N2 * beta * beta + N5 * beta + N8;
  const d = (2 * g) / (-f - Math.sqrt(f * f - 4 * e * g));
  const kelvin = (N10 + d - Math.sqrt((N10 + d) ** 2 - 4 * (N9 + N10 * d))) / 2;
  return { kind: 'saturation-temperature', temperatureCelsius: kelvin - CELSIUS_ZERO_KELVIN };
}
