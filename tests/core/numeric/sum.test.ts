import { describe, expect, it } from 'vitest';
import { compensatedSum, mean } from '../../../host/core/numeric/sum';

describe('sums', () => {
  it('keeps what a running sum loses', () => {
    expect(compensatedSum([1, 1e100, 1, -1e100])).toBe(2);
    expect(compensatedSum(new Array<number>(10).fill(0.1))).toBe(1);
  });

  it('is 0 for nothing', () => {
    expect(mean([])).toBe(0);
  });
});
