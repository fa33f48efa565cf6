import { preferredValues, seriesTolerancePercent } from '../../preferred';
import type { SeriesName } from '../../preferred';
import type { Refusal } from '../../refusal';
import { refuse } from '../../refusal';
import type { Parts } from './search';
import type { StockPart, TrimOptions } from './trim-options';
import { trimDefaults } from './trim-options';

/** What may be built with, and how close a part of each value is to it. */
export type PartSupply = {
  readonly parts: Parts;
  readonly tolerancePercent: (resistanceOhm: number) => number;
  readonly searched: SearchedValues;
};

/** Which values were searched: a series within limits, or so many values at hand. */
export type SearchedValues =
  | { readonly series: SeriesName; readonly lowestOhm: number; readonly highestOhm: number }
  | { readonly atHandCount: number };

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
    searched: { atHandCount: values.length },
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
): ({ readonly kind: 'supply' } & PartSupply) | Refusal<'STOCK' | 'RANGE' | 'TOLERANCE'> => {
  const { stock, tolerancePercent } = options;
  if (tolerancePercent !== undefined && !(tolerancePercent >= 0 && tolerancePercent <= 50))
    return refuse('TOLERANCE', { tolerancePercent });
  if (stock) {
    const wrong = stock.findIndex(
      (part) => !(part.resistanceOhm > 0 && part.resistanceOhm < Infinity && (part.count ?? 1) >= 1),
    );
    if (stock.length === 0) return refuse('STOCK', {});
    const { resistanceOhm, count = 1 } = stock[wrong] ?? {};
    if (resistanceOhm !== undefined) return refuse('STOCK', { entry: wrong + 1, resistanceOhm, count });
    return { kind: 'supply', ...fromStock(stock, tolerancePercent ?? DEFAULT_STOCK_TOLERANCE_PERCENT) };
  }
  const series = options.series ?? trimDefaults.series;
  const lowestOhm = options.lowestOhm ?? trimDefaults.lowestOhm;
  const highestOhm = options.highestOhm ?? trimDefaults.highestOhm;
  const values = preferredValues(series, lowestOhm, highestOhm);
  if (values.length === 0) return refuse('RANGE', { series, lowestOhm, highestOhm });
  return {
    kind: 'supply',
    parts: { values: Float64Array.from(values) },
    tolerancePercent: () => tolerancePercent ?? seriesTolerancePercent[series],
    searched: { series, lowestOhm, highestOhm },
  };
};
