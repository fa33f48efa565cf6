import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  copperFactor,
  equivalentOhm,
  inCircuitSenderOhm,
  stabiliserFor,
  twoCoilOffsetOhm,
  twoTerminalOffsetOhm,
} from '../../../host/core/circuit';

/** Anything a number can be, the awkward values often: 0 V, 0 ohm, negatives, no number at all. */
const anyNumber = fc.oneof(
  { weight: 2, arbitrary: fc.constantFrom(0, -0, 1, -1, 12, -12, NaN, Infinity, -Infinity, 5e-324, 1e308) },
  { weight: 1, arbitrary: fc.double({ min: -1000, max: 1000, noNaN: true }) },
  { weight: 1, arbitrary: fc.double() },
);
const anyMechanism = fc.constantFrom(
  ...(['thermal', 'two-coil', 'cross-coil', 'moving-coil', 'electronic', 'unknown'] as const),
);

/** Every number of an answer, named; a refusal has none. */
const notFinite = (answer: object): string[] =>
  Object.entries(answer).flatMap(([name, value]: [string, unknown]) =>
    typeof value === 'number' && !Number.isFinite(value) ? [`${name} ${value}`] : [],
  );

describe('whatever is put in', () => {
  it('a stabiliser is finite or refused', () => {
    fc.assert(
      fc.property(anyNumber, anyNumber, (effectiveVolt, batteryVolt) => {
        const output = stabiliserFor(effectiveVolt, batteryVolt);
        expect(notFinite(output)).toEqual([]);
        if (effectiveVolt <= 0 || batteryVolt <= 0) expect(output.kind).toBe('refused');
      }),
    );
  });

  it('a lifted ground is worth a finite resistance or is refused', () => {
    const threeOhm = fc.tuple(anyNumber, anyNumber, anyNumber);
    fc.assert(
      fc.property(anyNumber, anyNumber, threeOhm, (offsetVolt, supplyVolt, [first, second, third]) => {
        const series = { supplyVolt, gaugeOhm: first, senderOhm: second };
        const coils = { supplyVolt, limitingOhm: first, operatingOhm: second, senderOhm: third };
        const found = [twoTerminalOffsetOhm(offsetVolt, series), twoCoilOffsetOhm(offsetVolt, coils)];
        expect(found.flatMap(notFinite)).toEqual([]);
        if (supplyVolt <= 0) expect(found.map(({ kind }) => kind)).toEqual(['refused', 'refused']);
      }),
    );
  });

  it('a sender in circuit has a finite resistance of 0 ohm or more, or is refused', () => {
    fc.assert(
      fc.property(anyNumber, anyNumber, anyNumber, (studVolt, supplyVolt, gaugeOhm) => {
        const found = inCircuitSenderOhm(studVolt, supplyVolt, gaugeOhm);
        expect(notFinite(found)).toEqual([]);
        expect(found.kind === 'refused' || found.ohm >= 0).toBe(true);
      }),
    );
  });

  it('an equivalent resistance is finite and not negative, or not told', () => {
    fc.assert(
      fc.property(
        anyMechanism,
        fc.record({ supplyRatio: anyNumber, riseKelvin: anyNumber }),
        fc.record({ gaugeOhm: anyNumber, isStabilised: fc.boolean() }),
        anyNumber,
        (mechanism, surroundings, feed, seenOhm) => {
          const ohm = equivalentOhm(mechanism, seenOhm, surroundings, feed) ?? 0;
          expect(Number.isFinite(ohm) && ohm >= 0).toBe(true);
        },
      ),
      { numRuns: 500 },
    );
  });

  it('and tells something for what a dash can be', () => {
    expect(equivalentOhm('two-coil', 0, { supplyRatio: 1, riseKelvin: 40 }, { isStabilised: false })).toBe(0);
    expect(twoTerminalOffsetOhm(0, { supplyVolt: 12, gaugeOhm: 58, senderOhm: 0 })).toMatchObject({ ohm: 0 });
    expect(
      twoCoilOffsetOhm(0, { supplyVolt: 12, limitingOhm: 90, operatingOhm: 90, senderOhm: 0 }),
    ).toMatchObject({ ohm: 0 });
    expect(inCircuitSenderOhm(0, 12, 58)).toMatchObject({ ohm: 0 });
    expect(copperFactor(0)).toBe(1);
  });
});
