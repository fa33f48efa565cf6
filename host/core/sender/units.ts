import { degCFromDegF, kPaFromBar, kPaFromPsi } from '../dial';
import { type Refused, refuse } from '../result';
import type { Quantity } from '../response';

/** The Celsius zero in kelvin. Source: definition, BIPM SI brochure. */
export const CELSIUS_ZERO_KELVIN = 273.15;

/** kelvin from degrees Celsius. Source: definition. */
export const kelvinFromCelsius = (temperatureCelsius: number): number =>
  temperatureCelsius + CELSIUS_ZERO_KELVIN;
/** degrees Celsius from kelvin. Source: definition. */
export const celsiusFromKelvin = (temperatureKelvin: number): number =>
  temperatureKelvin - CELSIUS_ZERO_KELVIN;
type UnitRow = {
  readonly quantity: Quantity;
  /** base = (value - zero) * perUnit; base is degC, kPa or %. */
  readonly zero: number;
  readonly perUnit: number;
};

const units: Readonly<Record<string, UnitRow>> = {
  degC: { quantity: 'temperature', zero: 0, perUnit: 1 },
  degF: { quantity: 'temperature', zero: 32, perUnit: degCFromDegF(33) },
  kPa: { quantity: 'pressure', zero: 0, perUnit: 1 },
  bar: { quantity: 'pressure', zero: 0, perUnit: kPaFromBar(1) },
  psi: { quantity: 'pressure', zero: 0, perUnit: kPaFromPsi(1) },
  '%': { quantity: 'fuel', zero: 0, perUnit: 1 },
};

/** Units that values can be converted between, by quantity. */
export const knownUnits: readonly string[] = Object.keys(units);

/** What a unit measures; 'other' for a unit that is not known here. Source: the table above. */
export const quantityOfUnit = (unit: string): Quantity => units[unit]?.quantity ?? 'other';

/** A change of unit as plain numbers: to = from * factor + offset. */
export type UnitChange = { readonly kind: 'unit-change'; readonly factor: number; readonly offset: number };

/**
 * The change from one unit to another. A standard uncertainty or a span is multiplied by `factor` alone.
 * Source: NIST SP 811, Appendix B. Refuses: units of different quantities, or unknown and different (SENDER_UNIT).
 */
export function unitChange(fromUnit: string, toUnit: string): UnitChange | Refused<'SENDER_UNIT'> {
  if (fromUnit === toUnit) return { kind: 'unit-change', factor: 1, offset: 0 };
  const from = units[fromUnit];
  const to = units[toUnit];
  if (from === undefined || to === undefined || from.quantity !== to.quantity) {
    return refuse(
      'SENDER_UNIT',
      `${fromUnit} cannot be turned into ${toUnit}; known units: ${knownUnits.join(', ')}`,
    );
  }
  const factor = from.perUnit / to.perUnit;
  return { kind: 'unit-change', factor, offset: to.zero - from.zero * factor };
}
