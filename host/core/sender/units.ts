import { degCFromDegF, kPaFromBar, kPaFromPsi, litreFromGallonImperial, litreFromGallonUs } from '../dial';
import { type Refused, refuse } from '../result';
import type { Quantity } from '../response';

/** The Celsius zero in kelvin. Source: definition, BIPM SI brochure. */
export const CELSIUS_ZERO_KELVIN = 273.15;

/** kelvin from degrees Celsius. Source: definition. */
export const kelvinFromCelsius = (temperatureCelsius: number): number =>
  temperatureCelsius + CELSIUS_ZERO_KELVIN;

type UnitRow = {
  readonly quantity: Quantity;
  /** Only units of one scale can be turned into each other: a part of a tank is not a number of litres. */
  readonly scale: 'temperature' | 'pressure' | 'volume' | 'part';
  /** base = (value - zero) * perUnit; base is degC, kPa, litre or %. */
  readonly zero: number;
  readonly perUnit: number;
};

const row = (quantity: Quantity, scale: UnitRow['scale'], perUnit: number, zero = 0): UnitRow => ({
  quantity,
  scale,
  zero,
  perUnit,
});

const units: Readonly<Record<string, UnitRow>> = {
  degC: row('temperature', 'temperature', 1),
  degF: row('temperature', 'temperature', degCFromDegF(33), 32),
  kPa: row('pressure', 'pressure', 1),
  bar: row('pressure', 'pressure', kPaFromBar(1)),
  psi: row('pressure', 'pressure', kPaFromPsi(1)),
  L: row('fuel', 'volume', 1),
  litre: row('fuel', 'volume', 1),
  'US gal': row('fuel', 'volume', litreFromGallonUs(1)),
  'imp gal': row('fuel', 'volume', litreFromGallonImperial(1)),
  '%': row('fuel', 'part', 1),
};

/** Units that values can be converted between, by quantity. Source: the table above. */
export const knownUnits: readonly string[] = Object.keys(units);

/** The units a value in this unit can be shown in, itself among them (alone when it is not known here). Source: as above. */
export const unitsLike = (unit: string): readonly string[] =>
  units[unit] === undefined ? [unit] : knownUnits.filter((each) => units[each]?.scale === units[unit]?.scale);

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
  if (from === undefined || to === undefined || from.scale !== to.scale) {
    return refuse(
      'SENDER_UNIT',
      `${fromUnit} cannot be turned into ${toUnit}; known units: ${knownUnits.join(', ')}`,
    );
  }
  const factor = from.perUnit / to.perUnit;
  return { kind: 'unit-change', factor, offset: to.zero - from.zero * factor };
}
