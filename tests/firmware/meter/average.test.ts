import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Average } from '../../../firmware-ts/meter/average';

const averageOf = (values: readonly number[]): Average => {
  const average = new Average();
  for (const value of values) average.push(value);
  return average;
};

const anyValues = fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 2, maxLength: 50 });

describe('the running mean', () => {
  it('is the mean of what was pushed, with the spread over the root of the count as its uncertainty', () => {
    // By hand: mean 5, squared deviations 32 in all, variance 32/7, by 8 values.
    const average = averageOf([2, 4, 4, 4, 5, 5, 7, 9]);
    expect(average.mean).toBe(5);
    expect(average.uncertainty).toBeCloseTo(Math.sqrt(32 / 7 / 8), 12);
  });

  it('moves with a constant added to every value, and keeps its uncertainty', () => {
    fc.assert(
      fc.property(anyValues, fc.double({ min: -1e6, max: 1e6, noNaN: true }), (values, shift) => {
        const [plain, shifted] = [averageOf(values), averageOf(values.map((value) => value + shift))];
        const tolerance = 1e-9 + 64 * Number.EPSILON * (Math.abs(shift) + 1e3);
        expect(Math.abs(shifted.mean - plain.mean - shift)).toBeLessThan(tolerance);
        // The square root of a rounded variance: its error is that of the variance's root near nothing.
        expect(Math.abs(shifted.uncertainty - plain.uncertainty)).toBeLessThan(10 * tolerance);
      }),
    );
  });

  it('does not depend on the order', () => {
    fc.assert(
      fc.property(anyValues, (values) => {
        const [there, back] = [averageOf(values), averageOf([...values].reverse())];
        expect(Math.abs(there.mean - back.mean)).toBeLessThan(1e-9);
        expect(Math.abs(there.uncertainty - back.uncertainty)).toBeLessThan(1e-9);
      }),
    );
  });

  it('knows nothing from one value: the uncertainty is the value itself', () => {
    expect(averageOf([-3]).uncertainty).toBe(3);
  });

  it('begins anew when told', () => {
    const average = averageOf([100, 200]);
    average.restart();
    expect([average.count, average.mean, average.uncertainty]).toEqual([0, 0, 0]);
    average.push(7);
    average.push(7);
    expect([average.count, average.mean, average.uncertainty]).toEqual([2, 7, 0]);
  });
});
