import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { monotoneRoot } from '../../../host/core/numeric/monotone-root';

describe('root of a monotone function', () => {
  it('finds the argument of a rising and of a falling cubic to the last digits', () => {
    fc.assert(
      fc.property(fc.double({ min: -9, max: 9, noNaN: true }), fc.constantFrom(1, -1), (x, sign) => {
        const f = (at: number): number => sign * (at ** 3 + at);
        const found = monotoneRoot(f, { from: -10, to: 10, target: f(x) })!;
        expect(Math.abs(found - x)).toBeLessThan(1e-13 * Math.max(1, Math.abs(x)) + 1e-14);
      }),
    );
  });

  it('finds a jump', () => {
    const found = monotoneRoot((x) => (x < 1 / 3 ? 0 : 1), { from: 0, to: 1, target: 0.5 })!;
    expect(found).toBeCloseTo(1 / 3, 12);
  });

  it('takes an end that hits, and has no answer outside', () => {
    expect(monotoneRoot((x) => x, { from: 0, to: 1, target: 1 })).toBe(1);
    expect(monotoneRoot((x) => x, { from: 0, to: 1, target: 2 })).toBeUndefined();
    expect(monotoneRoot(() => Number.NaN, { from: 0, to: 1, target: 2 })).toBeUndefined();
  });
});
