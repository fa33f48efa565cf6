import { CELSIUS_ZERO_KELVIN } from '../core/sender';

/** A unit as it may stand in a column name or an option, and how it becomes a unit the computations know. */
export type Unit = {
  /** As column names end: `temperature_C`. */
  readonly name: string;
  readonly family: 'resistance' | 'temperature' | 'pressure' | 'level' | 'voltage';
  /** Unit of the computations: value there = value * factor + offset. */
  readonly coreUnit: string;
  readonly words: readonly string[];
  readonly factor: number;
  readonly offset: number;
};

const same = (name: string, coreUnit: string, words: readonly string[]) => ({
  name,
  coreUnit,
  words,
  factor: 1,
  offset: 0,
});

/**
 * Words only: what one unit is in another is known to the core alone (`unitChange`), but for three spellings that no dial
 * is marked in (kilo-ohm, kelvin, fraction).
 */
const UNITS: readonly Unit[] = [
  { family: 'resistance', ...same('ohm', 'ohm', ['ohm', 'ohms']) },
  { family: 'resistance', ...same('kohm', 'ohm', ['kohm', 'kohms', 'k_ohm']), factor: 1000 },
  { family: 'temperature', ...same('C', 'degC', ['c', 'degc', 'deg_c', 'celsius']) },
  { family: 'temperature', ...same('F', 'degF', ['f', 'degf', 'deg_f', 'fahrenheit']) },
  { family: 'temperature', ...same('K', 'degC', ['k', 'kelvin']), offset: -CELSIUS_ZERO_KELVIN },
  { family: 'pressure', ...same('kPa', 'kPa', ['kpa']) },
  { family: 'pressure', ...same('bar', 'bar', ['bar']) },
  { family: 'pressure', ...same('psi', 'psi', ['psi', 'lb_in2', 'lbf_in2']) },
  { family: 'level', ...same('percent', '%', ['percent', 'pct']) },
  { family: 'level', ...same('fraction', '%', ['fraction']), factor: 100 },
  { family: 'level', ...same('litre', 'litre', ['litre', 'litres', 'liter', 'liters', 'l']) },
  { family: 'level', ...same('US_gal', 'US gal', ['us_gal', 'us_gallon']) },
  { family: 'level', ...same('imp_gal', 'imp gal', ['imp_gal', 'imp_gallon']) },
  { family: 'voltage', ...same('V', 'V', ['v', 'volt', 'volts']) },
];

/** `°C`, `degC` and `deg C` are one word. */
export const normalName = (text: string): string =>
  text
    .trim()
    .toLowerCase()
    .replace(/[°º˚]\s*/gu, 'deg')
    .replace(/[Ωω]/gu, 'ohm')
    .replace(/%/g, ' percent')
    .replace(/[^a-z0-9]+/g, '_')
    .replace(/^_+|_+$/g, '');

/** The unit a word names, in any case; undefined for a word that is none. */
export function unitFromText(text: string): Unit | undefined {
  const word = normalName(text);
  return UNITS.find(({ words }) => words.includes(word));
}

export const unitNames = (family: Unit['family']): string[] =>
  UNITS.filter((unit) => unit.family === family).map(({ name }) => name);

/** A value in the unit of the computations. */
export const toCore = (unit: Unit, value: number): number => value * unit.factor + unit.offset;

/** A difference (an uncertainty) in the unit of the computations: offsets do not count. */
export const differenceToCore = (unit: Unit, difference: number): number => difference * unit.factor;
