import { type SeriesName, seriesDigits } from './series';

/** No part is made outside these; a wider question is cut to them. */
export const LOWEST_PREFERRED_OHM = 1e-3;
export const HIGHEST_PREFERRED_OHM = 1e9;

/** The neighbours of a wanted resistance in a series. `nearest` is nearest by ratio, the measure in which a series is even. */
export type PreferredNeighbours = {
  readonly belowOhm: number;
  readonly aboveOhm: number;
  readonly nearestOhm: number;
  /** nearest / wanted - 1, percent. */
  readonly errorPercent: number;
};

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

/**
 * The preferred values next to a wanted resistance. A wanted value that is itself preferred is its own neighbour on
 * both sides. Source: IEC 60063:2015; nearest by ratio, |ln(part / wanted)| smallest, the lower one when equal.
 * Outside 0.001 ohm to 1 Gohm the answer is undefined: no such part is made.
 */
export function nearestPreferred(series: SeriesName, wantedOhm: number): PreferredNeighbours | undefined {
  if (!(wantedOhm >= LOWEST_PREFERRED_OHM && wantedOhm <= HIGHEST_PREFERRED_OHM)) return undefined;
  const decade = decadeOf(wantedOhm);
  const around = [decade - 1, decade, decade + 1].flatMap((each) => decadeValues(series, each));
  const belowOhm = around.filter((valueOhm) => valueOhm <= wantedOhm).at(-1)!;
  const aboveOhm = around.find((valueOhm) => valueOhm >= wantedOhm)!;
  const nearestOhm = wantedOhm * wantedOhm <= belowOhm * aboveOhm ? belowOhm : aboveOhm;
  return { belowOhm, aboveOhm, nearestOhm, errorPercent: (nearestOhm / wantedOhm - 1) * 100 };
}

/** True when a resistance is a value of the series. Source: IEC 60063:2015. */
export function isPreferred(series: SeriesName, resistanceOhm: number): boolean {
  return nearestPreferred(series, resistanceOhm)?.nearestOhm === resistanceOhm;
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
