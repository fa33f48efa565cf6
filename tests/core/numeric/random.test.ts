import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../host/core/numeric/random';
import { normalCdf } from '../../../host/core/numeric/normal';
import { studentTCdf } from '../../../host/core/numeric/student-t';

const drawn = (count: number, next: () => number): number[] => Array.from({ length: count }, next);

/** Largest gap between drawn and true distribution, times sqrt(n). Source: Kolmogorov; 1.95 is the 99.9 % point. */
function kolmogorov(values: number[], cdf: (x: number) => number): number {
  const sorted = values.sort((one, other) => one - other);
  const gaps = sorted.map((value, i) => {
    const p = cdf(value);
    return Math.max(p - i / sorted.length, (i + 1) / sorted.length - p);
  });
  return Math.max(...gaps) * Math.sqrt(sorted.length);
}
const LIMIT = 1.95;

describe('seeded random numbers', () => {
  it('repeats itself for the same seed', () => {
    expect(drawn(20, randomSource(7).uniform)).toEqual(drawn(20, randomSource(7).uniform));
  });

  it('differs from the first number on when the seed differs by one', () => {
    const firsts = Array.from({ length: 1000 }, (_, seed) => randomSource(seed).uniform());
    expect(new Set(firsts).size).toBe(1000);
    expect(kolmogorov(firsts, (x) => x)).toBeLessThan(LIMIT);
  });

  it('takes seeds beyond 32 bits apart', () => {
    expect(randomSource(2 ** 40).uniform()).not.toBe(randomSource(0).uniform());
  });

  it('never gives 0 or 1', () => {
    const values = drawn(100_000, randomSource(3).uniform);
    expect(Math.min(...values)).toBeGreaterThan(0);
    expect(Math.max(...values)).toBeLessThan(1);
  });

  it('is uniform, normal and Student t where it says so', () => {
    const random = randomSource(11);
    expect(kolmogorov(drawn(50_000, random.uniform), (x) => x)).toBeLessThan(LIMIT);
    expect(kolmogorov(drawn(50_000, random.normal), normalCdf)).toBeLessThan(LIMIT);
    for (const degrees of [0.7, 3, 30]) {
      const values = drawn(50_000, () => random.studentT(degrees));
      expect(kolmogorov(values, (x) => studentTCdf(x, degrees))).toBeLessThan(LIMIT);
    }
    expect(
      kolmogorov(
        drawn(50_000, () => random.studentT(Infinity)),
        normalCdf,
      ),
    ).toBeLessThan(LIMIT);
  });

  it('has no memory from one number to the next', () => {
    const values = drawn(50_000, randomSource(5).normal);
    const products = values.slice(1).map((value, i) => value * values[i]!);
    const correlation = products.reduce((sum, each) => sum + each, 0) / products.length;
    expect(Math.abs(correlation) * Math.sqrt(products.length)).toBeLessThan(4);
  });
});
