import { preferredValues, seriesTolerancePercent } from '../../preferred';
import type { Refused } from '../../result';
import { refuse } from '../../result';
import type { Parts } from './search';
import type { StockPart, TrimOptions } from './trim-options';
import { trimDefaults } from './trim-options';

/** What may be built with, and how close a part of each value is to it. */
export type PartSupply = {
  readonly parts: Parts;
  readonly tolerancePercent: (resistanceOhm: number) => number;
  readonly says: string;
};

const fromStock = (stock: readonly StockPart[], otherwise: number): PartSupply => {
  const values = [...new Set(stock.map((part) => part.resistanceOhm))].sort((one, other) => one - other);
  const countOf = (value: number): number =>
    stock
      .filter((part) => part.resistanceOhm === value)
      .reduce((sum, part) => sum + (part.count ?? Infinity), 0);
  const toleranceOf = (value: number): number =>
    Math.max(
      ...stock
        .filter((part) => part.resistanceOhm === value)
        .map((part) => part.tolerancePercent ?? otherwise),
    );
  return {
    parts: {
      values: Float64Array.from(values),
      counts: new Map(values.map((value) => [value, countOf(value)])),
    },
    tolerancePercent: toleranceOf,
    says: `${values.length} values at hand`,
  };
};

/** Tightest tolerance that parts of ordinary series are sold with; a series tells the spacing, not the part in the bag. */
const DEFAULT_STOCK_TOLERANCE_PERCENT = 5;

/**
 * The part values to search. Source: IEC 60063 by way of host/core/preferred.
 * Refuses: STOCK (a value that is not a resistance, a count below 1, an empty drawer), RANGE (no value in the range),
 * TOLERANCE.
 */
export const partSupply = (
  options: TrimOptions,
): ({ readonly kind: 'supply' } & PartSupply) | Refused<'STOCK' | 'RANGE' | 'TOLERANCE'> => {
  const { stock, tolerancePercent } = options;
  if (tolerancePercent !== undefined && !(tolerancePercent >= 0 && tolerancePercent <= 50))
    return refuse('TOLERANCE', `a tolerance of ${tolerancePercent} % was given; 0 to 50 % is possible`);
  if (stock) {
    const wrong = stock.findIndex(
      (part) => !(part.resistanceOhm > 0 && part.resistanceOhm < Infinity && (part.count ?? 1) >= 1),
    );
    if (stock.length === 0 || wrong >= 0)
      return refuse(
        'STOCK',
        stock.length === 0
          ? 'the list of parts at hand is empty'
          : `entry ${wrong + 1} of the parts at hand (${stock[wrong]!.resistanceOhm} ohm, ${stock[wrong]!.count ?? 1} of them) must be more than 0 ohm and at least one`,
      );
    return { kind: 'supply', ...fromStock(stock, tolerancePercent ?? DEFAULT_STOCK_TOLERANCE_PERCENT) };
  }
  const series = options.series ?? trimDefaults.series;
  const lowestOhm = options.lowestOhm ?? trimDefaults.lowestOhm;
  const highestOhm = options.highestOhm ?? trimDefaults.highestOhm;
  const values = preferredValues(series, lowestOhm, highestOhm);
  if (values.length === 0)
    return refuse('RANGE', `no ${series} value lies between ${lowestOhm} and ${highestOhm} ohm`);
  return {
    kind: 'supply',
    parts: { values: Float64Array.from(values) },
    tolerancePercent: () => tolerancePercent ?? seriesTolerancePercent[series],
    says: `${series}, ${lowestOhm} to ${highestOhm} ohm`,
  };
};
