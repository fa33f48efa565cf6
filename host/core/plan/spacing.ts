import { refuse, type Refusal } from '../refusal';

const SIGNIFICANT_DIGITS = 4;

/** Resistances a person can read out: four significant digits are finer than any box of this kind makes. */
const rounded = (ohm: number): number => Number(ohm.toPrecision(SIGNIFICANT_DIGITS));

/**
 * Resistances in ohm, evenly spaced in ln R from `fromOhm` to `toOhm`, both included, in that order.
 * Source: common practice for substitution sweeps (equal ratios give about equal needle steps for a thermistor family).
 * Refuses: an end that is not above zero or not finite (PLAN_RANGE), fewer than two points (PLAN_COUNT).
 */
export const logSpaced = (
  fromOhm: number,
  toOhm: number,
  count: number,
):
  | { readonly kind: 'spaced'; readonly resistancesOhm: readonly number[] }
  | Refusal<'PLAN_RANGE' | 'PLAN_COUNT'> => {
  if (!(fromOhm > 0 && toOhm > 0 && fromOhm < Infinity && toOhm < Infinity && fromOhm !== toOhm)) {
    return refuse('PLAN_RANGE', { fromOhm, toOhm });
  }
  if (!(Number.isInteger(count) && count >= 2)) {
    return refuse('PLAN_COUNT', { count });
  }
  const ratio = Math.log(toOhm / fromOhm) / (count - 1);
  const resistancesOhm = Array.from({ length: count }, (_, index) =>
    rounded(fromOhm * Math.exp(ratio * index)),
  );
  return { kind: 'spaced', resistancesOhm };
};
