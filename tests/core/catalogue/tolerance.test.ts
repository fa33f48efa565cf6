import { describe, expect, it } from 'vitest';
import { oneSidedToleranceFactor, toleranceFactor } from '../../../host/core/catalogue/tolerance';
import { toleranceInterval } from '../../../host/core/catalogue/tolerance-interval';
import { chiSquaredTail } from '../../../host/core/numeric/chi-squared-tail';
import { randomSource } from '../../../host/core/numeric/random';

describe('two-sided tolerance factors', () => {
  // Source: Berthouex and Brown, Statistics for Environmental Engineers (2002), table 21.1, 95 % of parts with 95 % confidence.
  it.each([
    [5, 5.08, 5.077],
    [10, 3.39, 3.393],
    [20, 2.76, 2.76],
    [30, 2.55, 2.555],
  ])('of %i specimens is %f (recomputed %f)', (count, printed, recomputed) => {
    const factor = toleranceFactor(count, 0.95, 0.95);
    expect(Math.abs(factor - printed)).toBeLessThan(0.0051);
    expect(factor).toBeCloseTo(recomputed, 3);
  });

  it('of 43 specimens, 90 % of parts, 99 % confidence lies at the approximation 2.2173 to its 0.3 %', () => {
    // Source: NIST/SEMATECH e-Handbook 7.2.6.3, worked example with Howe's approximation.
    const factor = toleranceFactor(43, 0.9, 0.99);
    expect(Math.abs(factor / 2.2173 - 1)).toBeLessThan(0.003);
    // The same example to one side: 97.07 + 1.8752 x 0.0268. Its closing line multiplies by 2.68: not ours.
    const values = Array.from({ length: 43 }, (_, i) => 97.07 + 0.0268 * Math.sqrt(2) * Math.sin(i));
    const { from, to } = toleranceInterval(values) ?? { from: 0, to: 0 };
    expect(to - from).toBeLessThan(1);
  });

  it('is not offered for fewer than ten', () => {
    expect(toleranceInterval([1, 2, 3, 4, 5, 6, 7, 8, 9])).toBeUndefined();
  });

  it('holds 95 % of a population in 95 % of shops', () => {
    const random = randomSource(18);
    const [shops, count] = [4_000, 12];
    const factor = toleranceFactor(count, 0.95, 0.95);
    let held = 0;
    for (let shop = 0; shop < shops; shop += 1) {
      const values = Array.from({ length: count }, () => random.normal());
      const mean = values.reduce((sum, each) => sum + each, 0) / count;
      const deviation = Math.sqrt(values.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (count - 1));
      // Source: Abramowitz and Stegun 26.2.17 for the part of a normal population between two limits.
      if (phi(mean + factor * deviation) - phi(mean - factor * deviation) >= 0.95) held += 1;
    }
    expect(held / shops).toBeGreaterThan(0.935);
    expect(held / shops).toBeLessThan(0.965);
  });
});

function phi(z: number): number {
  if (z < 0) return 1 - phi(-z);
  const t = 1 / (1 + 0.2316419 * z);
  const polynomial =
    t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return 1 - (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * polynomial;
}

describe('one-sided tolerance factors', () => {
  it('of 43 specimens, 90 % of parts, 99 % confidence is 1.8740, and lies at the approximation 1.8752', () => {
    // Source: NIST/SEMATECH e-Handbook 7.2.6.3: by non-central t, and Natrella's approximation.
    const factor = oneSidedToleranceFactor(43, 0.9, 0.99);
    expect(factor).toBeCloseTo(1.874, 4);
    expect(Math.abs(factor / 1.8752 - 1)).toBeLessThan(0.001);
  });

  // Source: quantiles of non-central t by another program (SciPy 1.17, nct.ppf), over the root of n.
  it.each([
    [5, 4.20268],
    [10, 2.91096],
    [20, 2.396],
    [30, 2.21984],
    [100, 1.92654],
  ])('of %i specimens, 95 % of parts, 95 %% confidence is %f', (count, published) => {
    expect(oneSidedToleranceFactor(count, 0.95, 0.95)).toBeCloseTo(published, 4);
  });

  it('hold the part on their side in as many shops as they say', () => {
    const random = randomSource(73);
    const [shops, count] = [4_000, 12];
    const factor = oneSidedToleranceFactor(count, 0.95, 0.95);
    let held = 0;
    for (let shop = 0; shop < shops; shop += 1) {
      const values = Array.from({ length: count }, () => random.normal());
      const mean = values.reduce((sum, each) => sum + each, 0) / count;
      const deviation = Math.sqrt(values.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (count - 1));
      if (phi(mean + factor * deviation) >= 0.95) held += 1;
    }
    expect(held / shops).toBeGreaterThan(0.935);
    expect(held / shops).toBeLessThan(0.965);
  });

  it('reach less far to one side than to both, and no further for more specimens', () => {
    const values = Array.from({ length: 12 }, (_, i) => 50 + 2 * Math.sin(5 * i));
    const found = toleranceInterval(values);
    expect(found?.atLeast).toBeGreaterThan(found?.from ?? 0);
    expect(found?.atMost).toBeLessThan(found?.to ?? 0);
  });
});

describe('the tail of chi-squared', () => {
  // Source: Abramowitz and Stegun, table 26.8: percentage points.
  it.each([
    [1, 3.84146, 0.05],
    [1, 6.6349, 0.01],
    [4, 9.48773, 0.05],
    [10, 18.307, 0.05],
    [10, 3.9403, 0.95],
    [30, 50.8922, 0.01],
    [100, 124.342, 0.05],
  ])('%i degrees of freedom at %f leaves %f', (degrees, x, tail) => {
    expect(chiSquaredTail(x, degrees)).toBeCloseTo(tail, 5);
  });

  it('is 1 at 0', () => {
    expect(chiSquaredTail(0, 5)).toBe(1);
  });
});
