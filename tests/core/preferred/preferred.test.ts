import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  preferredValues,
  seriesDigits,
  type SeriesName,
  seriesNames,
  seriesTolerancePercent,
} from '../../../host/core/preferred';
import vector from '../../vectors/iec60063-e-series.json';

const anySeries = fc.constantFrom(...seriesNames);
/** The digits of a value as its series writes them: "47" of 0.47, "100" of 1 in E96. */
const digitsOf = (name: SeriesName, value: number): string =>
  value
    .toExponential(seriesDigits(name)[0]! >= 100 ? 2 : 1)
    .replace(/e.*$/, '')
    .replace('.', '');
const anyOhm = fc.double({ min: Math.log(1e-2), max: Math.log(1e8), noNaN: true }).map(Math.exp);

describe('preferred series (IEC 60063:2015, Tables 1 and 2)', () => {
  const published: Record<SeriesName, readonly number[]> = vector;

  it.each(seriesNames)('%s has the published digits', (name) => {
    expect(seriesDigits(name)).toEqual(published[name]);
  });

  it('has 3 to 192 values a decade', () => {
    expect(seriesNames.map((name) => seriesDigits(name).length)).toEqual([3, 6, 12, 24, 48, 96, 192]);
  });

  it('has the published tolerance from E6 to E192', () => {
    const { E6, E12, E24, E48, E96, E192 } = vector.nominal_tolerance_percent;
    expect(seriesTolerancePercent).toMatchObject({ E6, E12, E24, E48, E96, E192 });
  });

  it('keeps the 920 of E192 that the formula does not give', () => {
    expect(seriesDigits('E192')).toContain(920);
    expect(seriesDigits('E192')).not.toContain(919);
  });
});

describe('values over decades', () => {
  it('includes both ends and is exact in decimals', () => {
    expect(preferredValues('E6', 0.47, 3.3)).toEqual([0.47, 0.68, 1, 1.5, 2.2, 3.3]);
    expect(preferredValues('E24', 4.7e6, 5.1e6)).toEqual([4_700_000, 5_100_000]);
  });

  it('counts 97 values of E24 over four decades with both ends', () => {
    expect(preferredValues('E24', 1, 10_000)).toHaveLength(97);
  });

  it('is empty for an empty, negative or unknown range', () => {
    expect(preferredValues('E24', 20, 10)).toEqual([]);
    expect(preferredValues('E24', -5, -1)).toEqual([]);
    expect(preferredValues('E24', Number.NaN, 10)).toEqual([]);
  });

  it('ascends strictly and holds only preferred values', () => {
    fc.assert(
      fc.property(anySeries, anyOhm, fc.double({ min: 1, max: 50, noNaN: true }), (name, from, factor) => {
        const values = preferredValues(name, from, from * factor);
        expect(values.every((value, i) => i === 0 || value > values[i - 1]!)).toBe(true);
        const digits = seriesDigits(name).map(String);
        expect(values.filter((value) => !digits.includes(digitsOf(name, value)))).toEqual([]);
      }),
    );
  });

  it('repeats over the decades: ten times a preferred value is preferred', () => {
    for (const name of seriesNames) {
      const [ones, tens] = [preferredValues(name, 1, 9.99), preferredValues(name, 10, 99.9)];
      expect(tens).toHaveLength(ones.length);
      tens.forEach((value, i) => expect(value / ones[i]!).toBeCloseTo(10, 12));
    }
  });
});

describe('parts around 4,200 ohm, of a published problem (reduce 210 ohm to 200 with a shunt)', () => {
  it.each([
    ['E12', 3900, 4700],
    ['E24', 3900, 4300],
    ['E96', 4120, 4220],
  ] as const)('of %s are %d and %d ohm', (series, below, above) => {
    expect(preferredValues(series, below * 1.001, above * 0.999)).toEqual([]);
    expect(preferredValues(series, below, above)).toEqual([below, above]);
  });
});
