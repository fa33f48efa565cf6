import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { settleAfter } from '../../host/bench/sweep/settle-time';
import { person } from '../../host/core/dial';

const sweep = { fromOhm: 500, toOhm: 40, settleMs: 60_000 };

describe('the wait after a small move', () => {
  it('is the whole wait after an open output and over the whole scale', () => {
    expect(settleAfter(sweep, { fromOhm: undefined, toOhm: 100 })).toBe(60_000);
    expect(settleAfter(sweep, { fromOhm: 500, toOhm: 40 })).toBe(60_000);
  });

  it('leaves no more of the move than the whole wait leaves of the whole scale', () => {
    const ohm = fc.double({ min: 40, max: 500, noNaN: true });
    // The slowest needle for which a whole wait is just enough.
    const tauMs = 60_000 / Math.log(1 / person.parallaxPart);
    fc.assert(
      fc.property(ohm, ohm, (fromOhm, toOhm) => {
        const way = 2 * Math.abs(Math.log(toOhm / fromOhm) / Math.log(500 / 40));
        const left = way * Math.exp(-settleAfter(sweep, { fromOhm, toOhm }) / tauMs);
        expect(left).toBeLessThanOrEqual(2 * person.parallaxPart + 1e-12);
      }),
    );
  });

  it('never is shorter than a third, and a needle that was not moved still gets it', () => {
    expect(settleAfter(sweep, { fromOhm: 100, toOhm: 100 })).toBe(20_000);
    expect(settleAfter(sweep, { fromOhm: 100, toOhm: 100.1 })).toBe(20_000);
  });
});
