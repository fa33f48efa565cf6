import { figure } from '../core/figure';
import { unitSymbol } from '../core/units';

/**
 * How figures are written. `printed`: page and record, with the signs of print. `plain`: the command line, whose text is
 * piped and searched: degC, ohm, a hyphen for minus.
 */
export type Notation = {
  /** A unit as it is written here. */
  readonly unit: (unit: string) => string;
  /** Four figures, no exponent for ordinary numbers. */
  readonly number: (value: number) => string;
  readonly ohm: (resistanceOhm: number) => string;
  /** "40 to 200 ohm". */
  readonly ohms: (fromOhm: number, toOhm: number) => string;
  /** A part as it is written on its bag: 18 ohm, 9.1 kohm. */
  readonly part: (resistanceOhm: number) => string;
  /** "40 to 120 degC". */
  readonly range: (from: number, to: number, unit: string) => string;
  /** A value or a difference with its unit: a difference of degrees is degrees. */
  readonly of: (value: number, unit: string) => string;
  /** The same in three figures, for a line of many. */
  readonly short: (value: number, unit: string) => string;
  /** A size to either side: +-3.2 degC. */
  readonly spread: (size: number, unit: string) => string;
  /** "3.2 degC low". */
  readonly lowOrHigh: (error: number, unit: string) => string;
};

const OHM_PER_KILOHM = 1000;
/** Errors and uncertainties: a third figure is never known. */
const ERROR_FIGURES = 3;

type Signs = {
  readonly unit: (unit: string) => string;
  readonly ohm: string;
  readonly kilohm: string;
  readonly minus: string;
};

function notation({ unit, ohm, kilohm, minus }: Signs): Notation {
  const number = (value: number): string => figure(value).replace('-', minus);
  const rounded = (size: number): string => figure(Number(size.toPrecision(ERROR_FIGURES)));
  /** A percent sign and the like stand after a space too; a value without a unit stands alone. */
  const withUnit = (text: string, name: string): string => `${text} ${unit(name)}`.trimEnd();
  return {
    unit,
    number,
    ohm: (resistanceOhm) => `${number(resistanceOhm)} ${ohm}`,
    ohms: (fromOhm, toOhm) => `${number(fromOhm)} to ${number(toOhm)} ${ohm}`,
    part: (resistanceOhm) =>
      resistanceOhm >= OHM_PER_KILOHM
        ? `${number(resistanceOhm / OHM_PER_KILOHM)} ${kilohm}`
        : `${number(resistanceOhm)} ${ohm}`,
    range: (from, to, name) => withUnit(`${number(from)} to ${number(to)}`, name),
    of: (value, name) => withUnit(number(value), name),
    short: (value, name) => withUnit(rounded(value).replace('-', minus), name),
    spread: (size, name) => withUnit(`\u00b1${rounded(Math.abs(size))}`, name),
    lowOrHigh: (error, name) => `${withUnit(rounded(Math.abs(error)), name)} ${error < 0 ? 'low' : 'high'}`,
  };
}

export const printed = notation({
  unit: unitSymbol,
  ohm: '\u03a9',
  kilohm: 'k\u03a9',
  minus: '\u2212',
});

export const plain = notation({ unit: (unit) => unit, ohm: 'ohm', kilohm: 'kohm', minus: '-' });
