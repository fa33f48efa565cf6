import { refuse, type Refusal } from './refusal';
import type { Quantity } from './response';

/** The Celsius zero in kelvin. Source: definition, BIPM SI brochure. */
export const CELSIUS_ZERO_KELVIN = 273.15;

/** kelvin from degrees Celsius. Source: definition. */
export const kelvinFromCelsius = (temperatureCelsius: number): number =>
  temperatureCelsius + CELSIUS_ZERO_KELVIN;

/** Degrees Fahrenheit in a degree Celsius, and where its zero stands. Source: definition, C = (F - 32) / 1.8. */
const DEGF_PER_DEGC = 1.8;
const CELSIUS_ZERO_DEGF = 32;

/** Kilopascal in a psi. Source: 0.45359237 kg x 9.80665 m/s^2 / (0.0254 m)^2, all exact by definition. */
const KPA_PER_PSI = (0.45359237 * 9.80665) / 0.0254 ** 2 / 1000;
/** Litres in a United States gallon, the smaller one. Source: definition, 231 cubic inches of 16.387064 mL. */
const LITRE_PER_GALLON_US = 231 * 0.016387064;
/** Litres in an imperial gallon. Source: definition, 4.54609 L. */
const LITRE_PER_GALLON_IMPERIAL = 4.54609;

/** What a unit measures; only units of one family can be turned into each other: a part of a tank is not litres. */
export type Family = 'temperature' | 'pressure' | 'volume' | 'part' | 'resistance' | 'voltage';

export type Unit = {
  /** The one name inside the house: "degC", "kPa", "US gal". */
  readonly name: string;
  /** As a column name ends: `temperature_C`. */
  readonly columnName: string;
  readonly family: Family;
  /** base = (value - zero) * perUnit; base is degC, kPa, litre, %, ohm, V. */
  readonly zero: number;
  readonly perUnit: number;
  /** What people write, as `normalName` leaves it. */
  readonly words: readonly string[];
  /** As it is printed where that is not the name: `°C`. */
  readonly symbol?: string;
  /** The unit of the computations where a dial is never marked in this one: kelvin become degC. */
  readonly keptAs?: string;
};

type Row = Omit<Unit, 'zero'> & { readonly zero?: number };

const row = (unit: Row): Unit => ({ zero: 0, ...unit });

/** Every unit the house knows, once. Numbers by definition; words as tables and people of the trade write them. */
const UNITS: readonly Unit[] = [
  row({
    ...{ name: 'degC', symbol: '\u00b0C', columnName: 'C', family: 'temperature', perUnit: 1 },
    words: ['degc', 'c', 'deg_c', 'celsius', 'centigrade', 'degree_c', 'degrees_c'],
  }),
  row({
    ...{
      name: 'degF',
      symbol: '\u00b0F',
      columnName: 'F',
      family: 'temperature',
      perUnit: 1 / DEGF_PER_DEGC,
    },
    ...{ zero: CELSIUS_ZERO_DEGF, words: ['degf', 'f', 'deg_f', 'fahrenheit', 'degree_f', 'degrees_f'] },
  }),
  row({
    ...{ name: 'K', columnName: 'K', family: 'temperature', perUnit: 1, zero: CELSIUS_ZERO_KELVIN },
    ...{ words: ['k', 'kelvin', 'degk', 'deg_k'], keptAs: 'degC' },
  }),
  row({ name: 'kPa', columnName: 'kPa', family: 'pressure', perUnit: 1, words: ['kpa'] }),
  row({ name: 'bar', columnName: 'bar', family: 'pressure', perUnit: 100, words: ['bar'] }),
  row({
    ...{ name: 'psi', columnName: 'psi', family: 'pressure', perUnit: KPA_PER_PSI },
    words: ['psi', 'psig', 'lb_in2', 'lbf_in2'],
  }),
  row({
    ...{ name: 'L', symbol: 'litres', columnName: 'litre', family: 'volume', perUnit: 1 },
    words: ['l', 'litre', 'litres', 'liter', 'liters'],
  }),
  row({ name: 'litre', symbol: 'litres', columnName: 'litre', family: 'volume', perUnit: 1, words: [] }),
  row({
    ...{ name: 'US gal', columnName: 'US_gal', family: 'volume', perUnit: LITRE_PER_GALLON_US },
    words: ['us_gal', 'us_gals', 'us_gallon', 'us_gallons', 'usgal'],
  }),
  row({
    ...{ name: 'imp gal', columnName: 'imp_gal', family: 'volume', perUnit: LITRE_PER_GALLON_IMPERIAL },
    words: ['imp_gal', 'imp_gals', 'imp_gallon', 'imp_gallons', 'imperial_gal', 'imperial_gallons'],
  }),
  row({ name: '%', columnName: 'percent', family: 'part', perUnit: 1, words: ['percent', 'pct'] }),
  row({
    ...{ name: 'fraction', columnName: 'fraction', family: 'part', perUnit: 100 },
    ...{ words: ['fraction', 'frac'], keptAs: '%' },
  }),
  row({ name: 'ohm', columnName: 'ohm', family: 'resistance', perUnit: 1, words: ['ohm', 'ohms'] }),
  row({
    ...{ name: 'kohm', columnName: 'kohm', family: 'resistance', perUnit: 1e3, keptAs: 'ohm' },
    words: ['kohm', 'kohms', 'k_ohm', 'k_ohms', 'kiloohm', 'kiloohms', 'kilohm', 'kilohms'],
  }),
  row({
    ...{ name: 'Mohm', columnName: 'Mohm', family: 'resistance', perUnit: 1e6, keptAs: 'ohm' },
    words: ['megohm', 'megohms'],
  }),
  row({ name: 'V', columnName: 'V', family: 'voltage', perUnit: 1, words: ['v', 'volt', 'volts'] }),
  row({
    ...{ name: 'mV', columnName: 'mV', family: 'voltage', perUnit: 1e-3, keptAs: 'V' },
    words: ['mv', 'millivolt', 'millivolts'],
  }),
];

const byName = new Map(UNITS.map((unit) => [unit.name, unit]));

const QUANTITIES: Readonly<Partial<Record<Family, Quantity>>> = {
  temperature: 'temperature',
  pressure: 'pressure',
  volume: 'fuel',
  part: 'fuel',
};

/** Units a dial can be marked in. Source: the table above. */
export const knownUnits: readonly string[] = UNITS.filter(
  ({ family, keptAs }) => QUANTITIES[family] !== undefined && keptAs === undefined,
).map(({ name }) => name);

const dialUnit = (name: string): Unit | undefined =>
  knownUnits.includes(name) ? byName.get(name) : undefined;

/** A unit as it is printed: "°C", "litres"; a unit that is not known here as it is. */
export const unitSymbol = (unit: string): string => byName.get(unit)?.symbol ?? unit;

/** The units a value in this unit can be shown in, itself among them (alone when it is not known here). Source: as above. */
export const unitsLike = (unit: string): readonly string[] => {
  const family = dialUnit(unit)?.family;
  return family === undefined ? [unit] : knownUnits.filter((each) => byName.get(each)?.family === family);
};

/** What a unit measures; 'other' for a unit that no dial is marked in. Source: the table above. */
export const quantityOfUnit = (unit: string): Quantity => {
  const family = dialUnit(unit)?.family;
  return family === undefined ? 'other' : (QUANTITIES[family] ?? 'other');
};

/** A change of unit as plain numbers: to = from * factor + offset. */
export type UnitChange = { readonly kind: 'unit-change'; readonly factor: number; readonly offset: number };

/**
 * The change from one unit to another. A standard uncertainty or a span is multiplied by `factor` alone.
 * Source: NIST SP 811, Appendix B. Refuses: units of different families, or unknown and different (SENDER_UNIT).
 */
export function unitChange(fromUnit: string, toUnit: string): UnitChange | Refusal<'SENDER_UNIT'> {
  if (fromUnit === toUnit) return { kind: 'unit-change', factor: 1, offset: 0 };
  const from = byName.get(fromUnit);
  const to = byName.get(toUnit);
  if (from === undefined || to === undefined || from.family !== to.family) {
    return refuse('SENDER_UNIT', { fromUnit, toUnit });
  }
  const factor = from.perUnit / to.perUnit;
  return { kind: 'unit-change', factor, offset: to.zero - from.zero * factor };
}

/**
 * A heading or a unit as one word: `°C`, `degC` and `deg C` become `degc`, `R (kΩ)` becomes `r_kohm`, `MΩ` becomes
 * `megohm` (small letters would make it the thousandth part).
 */
export const normalName = (text: string): string =>
  text
    .trim()
    .replace(/[\u03a9\u2126\u03c9]/gu, 'ohm')
    .replace(/[\u00b0\u00ba\u02da]\s*/gu, 'deg')
    .replace(/M\s*[oO][hH][mM]/gu, 'megohm')
    .toLowerCase()
    .replace(/%/g, ' percent')
    .replace(/[^\p{L}\p{N}]+/gu, '_')
    .replace(/^_+|_+$/g, '');

/** The unit a word names, in any case and spelling; undefined for a word that is none. */
export function unitFromText(text: string): Unit | undefined {
  const word = normalName(text);
  return UNITS.find(({ words }) => words.includes(word));
}

/** The unit at the end of a heading (`Temperatur °C`, `R25 (kΩ)`), the longest name that fits. */
export function unitAtEnd(heading: string): Unit | undefined {
  const words = normalName(heading).split('_');
  for (let from = Math.max(0, words.length - 2); from < words.length; from += 1) {
    const unit = unitFromText(words.slice(from).join('_'));
    if (unit !== undefined) return unit;
  }
  return undefined;
}

/** Column names of a family: `C`, `F`, `K`. */
export const unitNames = (...families: readonly Family[]): string[] => [
  ...new Set(UNITS.filter(({ family }) => families.includes(family)).map(({ columnName }) => columnName)),
];

/** The unit the computations keep a value in: degC for kelvin, the unit itself otherwise. */
export const keptUnit = (unit: Unit): string => unit.keptAs ?? unit.name;

/** Twelve figures: 104 degF is 40 degC again, 0.3 of a tank is 30 %, and no digit that anybody typed is lost. */
const FIGURES = 12;
const tidy = (value: number): number => Number(value.toPrecision(FIGURES));

/** A value written in one unit, in the unit that another is kept in (degC where that is kelvin). Families must agree. */
export function valueKeptAs(from: Unit, to: Unit, value: number): number {
  const change = unitChange(from.name, keptUnit(to));
  if (change.kind === 'refused' || from.name === keptUnit(to)) return value;
  return tidy(value * change.factor + change.offset);
}

/** As `valueKeptAs` for a difference (an uncertainty): offsets do not count. */
export function differenceKeptAs(from: Unit, to: Unit, difference: number): number {
  const change = unitChange(from.name, keptUnit(to));
  if (change.kind === 'refused' || from.name === keptUnit(to)) return difference;
  return tidy(difference * change.factor);
}
