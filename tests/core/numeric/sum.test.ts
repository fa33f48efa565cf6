import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compensatedSum, mean, sampleStandardDeviation } from '../../../host/core/numeric/sum';

describe('sums', () => {
  it('keeps what a running sum loses', () => {
    expect(compensatedSum([1, 1e100, 1, -1e100])).toBe(2);
    expect(compensatedSum(new Array<number>(10).fill(0.1))).toBe(1);
  });

  it('has a deviation that a shift of all values does not change', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 2, maxLength: 30 }),
        fc.integer({ min: -1e9, max: 1e9 }),
        (values, shift) => {
          const shifted = values.map((value) => value + shift);
          expect(sampleStandardDeviation(shifted)).toBeCloseTo(sampleStandardDeviation(values), 6);
        },
      ),
    );
  });

  it('is 0 for nothing', () => {
    expect(mean([])).toBe(0);
    expect(sampleStandardDeviation([5])).toBe(0);
  });
});
