import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  isPreferred,
  nearestPreferred,
  preferredValues,
  seriesDigits,
  type SeriesName,
  seriesNames,
  seriesTolerancePercent,
} from '../../../host/core/preferred';
import vector from '../../vectors/iec60063-e-series.json';

const anySeries = fc.constantFrom(...seriesNames);
const anyOhm = fc.double({ min: Math.log(1e-2), max: Math.log(1e8), noNaN: true }).map(Math.exp);
const ratio = (one: number, other: number): number => Math.abs(Math.log(one / other));

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
        expect(values.every((value) => isPreferred(name, value))).toBe(true);
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

describe('nearest preferred value', () => {
  it('is nearest by ratio, not by difference', () => {
    // Between 10 and 15 the geometric middle is 12.247, the arithmetic one 12.5.
    expect(nearestPreferred('E6', 12.24)?.nearestOhm).toBe(10);
    expect(nearestPreferred('E6', 12.26)?.nearestOhm).toBe(15);
  });

  it('finds the published snap of 4,200 ohm: 4.3 k in E24 between 3.9 k and 4.7 k of E12, 4.22 k in E96', () => {
    // The stock values of a published worked problem (reduce 210 ohm to 200 with a shunt); common practice.
    expect(nearestPreferred('E12', 4200)).toMatchObject({ belowOhm: 3900, aboveOhm: 4700 });
    expect(nearestPreferred('E24', 4200)?.nearestOhm).toBe(4300);
    expect(nearestPreferred('E96', 4200)?.nearestOhm).toBe(4220);
  });

  it('never lies further off than half the largest step of the series', () => {
    fc.assert(
      fc.property(anySeries, anyOhm, (name, wanted) => {
        const found = nearestPreferred(name, wanted)!;
        expect(found.belowOhm).toBeLessThanOrEqual(wanted);
        expect(found.aboveOhm).toBeGreaterThanOrEqual(wanted);
        const other = found.nearestOhm === found.belowOhm ? found.aboveOhm : found.belowOhm;
        expect(ratio(found.nearestOhm, wanted)).toBeLessThanOrEqual(ratio(other, wanted) + 1e-12);
      }),
    );
  });

  it('is a value itself when asked for one', () => {
    expect(nearestPreferred('E24', 47)).toEqual({
      belowOhm: 47,
      aboveOhm: 47,
      nearestOhm: 47,
      errorPercent: 0,
    });
    expect(nearestPreferred('E24', 1000)?.errorPercent).toBe(0);
  });

  it.each([0, -1, Number.NaN, Infinity, 1e12])('has no answer for %s ohm', (wanted) => {
    expect(nearestPreferred('E24', wanted)).toBeUndefined();
  });
});
