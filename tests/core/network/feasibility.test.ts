import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { forbiddenBy, seenOhm, type Pair } from '../../../host/core/network';
import { anyNetwork, anyOhm } from './arbitraries';

/** Two sender resistances, the higher first, with any two wanted ones. */
const anyDemand = (): fc.Arbitrary<readonly [Pair, Pair]> =>
  fc
    .tuple(anyOhm(), anyOhm(), anyOhm(), anyOhm())
    .filter(([one, other]) => one !== other)
    .map(([one, other, wantedHigh, wantedLow]) => [
      { senderOhm: Math.max(one, other), wantedOhm: wantedHigh },
      { senderOhm: Math.min(one, other), wantedOhm: wantedLow },
    ]);

describe('what the theorems forbid', () => {
  it('is nothing that a network does, to within a millionth of its span', () => {
    fc.assert(
      fc.property(anyDemand(), anyNetwork(), ([high, low], network) => {
        const [most, least] = [seenOhm(network, high.senderOhm), seenOhm(network, low.senderOhm)];
        // Closer than this the difference is rounding, and says nothing.
        fc.pre(most > least * (1 + 1e-6));
        const wantedOhm = least + (most - least) * (1 - 1e-6);
        expect(forbiddenBy({ ...high, wantedOhm }, { ...low, wantedOhm: least })).toBeUndefined();
      }),
    );
  });

  it('is a ratio above that of the sender wherever both spans are exceeded', () => {
    let looked = 0;
    fc.assert(
      fc.property(anyDemand(), ([high, low]) => {
        if (forbiddenBy(high, low) !== 'RATIO') return;
        looked += 1;
        expect(high.wantedOhm / low.wantedOhm).toBeGreaterThan(high.senderOhm / low.senderOhm);
      }),
      { numRuns: 5000 },
    );
    expect(looked).toBeGreaterThan(20);
  });

  it('is told by the first law broken: sense, ohms, siemens, both', () => {
    const demand = (wantedHigh: number, wantedLow: number) =>
      forbiddenBy({ senderOhm: 100, wantedOhm: wantedHigh }, { senderOhm: 25, wantedOhm: wantedLow });
    expect(demand(30, 60)).toBe('SENSE');
    expect(demand(160, 80)).toBe('SPAN_OHM');
    expect(demand(20, 5)).toBe('SPAN_SIEMENS');
    expect(demand(120, 20)).toBe('RATIO');
    expect(demand(60, 30)).toBeUndefined();
    expect(demand(100, 25)).toBeUndefined();
    expect(demand(50, 50)).toBeUndefined();
  });

  it('is not told by rounding: the two ratios of these pairs are one floating point number', () => {
    const high = { senderOhm: 1, wantedOhm: 1 };
    expect(
      forbiddenBy(high, { senderOhm: 0.9999999999999999, wantedOhm: 0.9999999999999998 }),
    ).toBeUndefined();
  });
});
