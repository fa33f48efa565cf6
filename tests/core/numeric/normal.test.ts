import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalCdf, normalQuantile } from '../../../host/core/numeric/normal';

describe('normal distribution', () => {
  it('has the printed quantiles (JCGM 100:2008, Table G.1; more digits from memory)', () => {
    expect(normalQuantile(0.975)).toBeCloseTo(1.959963984540054, 12);
    expect(normalQuantile(0.95)).toBeCloseTo(1.6448536269514722, 12);
    expect(normalQuantile(0.995)).toBeCloseTo(2.5758293035489004, 12);
    expect(normalQuantile(0.5)).toBe(0);
  });

  it('keeps its digits far out in the lower tail', () => {
    // Source: erfc tables, Phi(-10) = 7.619853024160527e-24 (from memory).
    expect(normalCdf(-10) / 7.619853024160527e-24).toBeCloseTo(1, 10);
  });

  it('has quantile and distribution as inverses of each other', () => {
    fc.assert(
      fc.property(fc.double({ min: -30, max: 5, noNaN: true }), (z) => {
        expect(Math.abs(normalQuantile(normalCdf(z)) - z)).toBeLessThan(1e-8);
      }),
    );
  });

  it('is finite at 0 and 1', () => {
    expect(normalQuantile(0)).toBeLessThan(-37);
    expect(Number.isFinite(normalQuantile(1))).toBe(true);
  });
});
