import { type SeriesName, seriesDigits } from './series';

/** No part is made outside these; a wider question is cut to them. */
const LOWEST_PREFERRED_OHM = 1e-3;
const HIGHEST_PREFERRED_OHM = 1e9;

/**
 * Every value of a series between two resistances, both included, ascending; empty when the range is empty or not
 * finite. Values are exact decimals (0.47, never 0.47000000000000003).
 * Source: IEC 60063:2015, Tables 1 and 2, repeated over the decades.
 */
export function preferredValues(series: SeriesName, fromOhm: number, toOhm: number): number[] {
  const low = Math.max(fromOhm, LOWEST_PREFERRED_OHM);
  const high = Math.min(toOhm, HIGHEST_PREFERRED_OHM);
  if (!(low <= high)) return [];
  const values: number[] = [];
  for (let decade = decadeOf(low); decade <= decadeOf(high); decade += 1) {
    for (const valueOhm of decadeValues(series, decade)) {
      if (valueOhm >= low && valueOhm <= high) values.push(valueOhm);
    }
  }
  return values;
}

function decadeValues(series: SeriesName, decade: number): number[] {
  const digits = seriesDigits(series);
  const exponent = decade - (digits[0] === 10 ? 1 : 2);
  // Dividing by an exact power of ten rounds once; multiplying by 0.01 would round twice.
  const scale = 10 ** Math.abs(exponent);
  return digits.map((digit) => (exponent >= 0 ? digit * scale : digit / scale));
}

function decadeOf(resistanceOhm: number): number {
  const guess = Math.floor(Math.log10(resistanceOhm));
  // The logarithm of 1000 may come out a hair below 3.
  return powerOfTen(guess + 1) <= resistanceOhm ? guess + 1 : guess;
}

const powerOfTen = (exponent: number): number => (exponent >= 0 ? 10 ** exponent : 1 / 10 ** -exponent);
