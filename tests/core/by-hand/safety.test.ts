import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fromList,
  handSettings,
  hasReachedFullScale,
  isBearable,
  leastHandOhm,
  makeable,
  nextDown,
  UNKNOWN_START_OHM,
  type DrawerPart,
} from '../../../host/core/by-hand';

const anyPart = fc.record({
  resistanceOhm: fc.double({ min: 0.1, max: 5_000, noNaN: true }),
  ratingWatt: fc.constantFrom(0.125, 0.25, 0.5, 1, 2, 5),
  count: fc.integer({ min: 1, max: 2 }),
});
const anyDrawer = fc.array(anyPart, { minLength: 1, maxLength: 7 });
const mechanisms = ['thermal', 'two-coil', 'cross-coil', 'moving-coil', 'electronic', 'unknown'] as const;
const anyGauge = fc.record({
  mechanism: fc.constantFrom(...mechanisms),
  family: fc.constantFrom(
    { lowEndOhm: 73, highEndOhm: 10 },
    { lowEndOhm: 240, highEndOhm: 33 },
    { lowEndOhm: 0, highEndOhm: 90 },
    { lowEndOhm: 700, highEndOhm: 22 },
    { lowEndOhm: 110, highEndOhm: 3 },
    undefined,
  ),
});
const feed = { volt: 14.4, gaugeOhm: 50 };

describe('nothing is put on by hand', () => {
  it('below the least ohms of the family, whatever lies in the drawer', () => {
    fc.assert(
      fc.property(anyGauge, anyDrawer, (gauge, drawer: DrawerPart[]) => {
        const leastOhm = leastHandOhm(gauge);
        const { lowEndOhm, highEndOhm } = gauge.family ?? { lowEndOhm: 1_000, highEndOhm: 10 };
        const allowed = { leastOhm, isBearable: () => true };
        const ends = { fromOhm: Math.max(1, lowEndOhm), toOhm: Math.max(1, highEndOhm), count: 6 };
        for (const { resistanceOhm } of handSettings(fromList(makeable(drawer)), ends, allowed)) {
          expect(resistanceOhm).toBeGreaterThanOrEqual(leastOhm);
          if (gauge.family !== undefined)
            expect(resistanceOhm).toBeGreaterThanOrEqual(Math.min(lowEndOhm, highEndOhm));
        }
      }),
    );
  });

  it('that would carry more than half of its watts, reckoned apart', () => {
    fc.assert(
      fc.property(anyDrawer, (drawer: DrawerPart[]) => {
        const allowed = {
          leastOhm: 1,
          isBearable: (made: Parameters<typeof isBearable>[0]) => isBearable(made, [feed]),
        };
        const ends = { fromOhm: 700, toOhm: 10, count: 6 };
        for (const { resistanceOhm, joint, pieces } of handSettings(
          fromList(makeable(drawer)),
          ends,
          allowed,
        )) {
          const wireVolt = (feed.volt * resistanceOhm) / (feed.gaugeOhm + resistanceOhm);
          for (const piece of pieces) {
            const volt = joint === 'parallel' ? wireVolt : (wireVolt * piece.resistanceOhm) / resistanceOhm;
            expect(volt ** 2 / piece.resistanceOhm).toBeLessThanOrEqual(0.4901 * (piece.ratingWatt ?? 0.25));
          }
        }
      }),
    );
  });

  it('less than half of what was on before, where nobody knows the family, down to the floor', () => {
    fc.assert(
      fc.property(
        anyDrawer,
        fc.double({ min: 8, max: 5_000, noNaN: true }),
        (drawer: DrawerPart[], startOhm) => {
          const makes = fromList(makeable(drawer));
          const allowed = { leastOhm: leastHandOhm({ mechanism: 'unknown' }), isBearable: () => true };
          let lastOhm = startOhm;
          for (let step = 0; step < 40; step += 1) {
            const made = nextDown(makes, lastOhm, allowed);
            if (made === undefined) return;
            expect(made.resistanceOhm).toBeGreaterThanOrEqual(lastOhm / 2);
            expect(made.resistanceOhm).toBeLessThan(lastOhm);
            expect(made.resistanceOhm).toBeGreaterThanOrEqual(8);
            lastOhm = made.resistanceOhm;
          }
          expect(lastOhm).toBeLessThan(startOhm / 5);
        },
      ),
    );
  });
});

describe('the floor', () => {
  // Published family ends, ohm: 73 to 10, 240 to 33, 8 to 73 (lists of senders in circulation; common practice).
  it.each([
    ['thermal', { lowEndOhm: 73, highEndOhm: 10 }, 10],
    ['thermal', { lowEndOhm: 0, highEndOhm: 90 }, 8],
    ['two-coil', { lowEndOhm: 240, highEndOhm: 33 }, 33],
    ['two-coil', { lowEndOhm: 0, highEndOhm: 90 }, 1],
    ['unknown', { lowEndOhm: 700, highEndOhm: 22 }, 22],
    ['cross-coil', undefined, 8],
  ] as const)('of a %s gauge of %o is %d ohm', (mechanism, family, leastOhm) => {
    expect(leastHandOhm({ mechanism, family })).toBe(leastOhm);
  });

  it('is far below where an unknown family begins', () => {
    expect(UNKNOWN_START_OHM).toBeGreaterThanOrEqual(1_000);
  });
});

describe('the first full-scale reading', () => {
  const scale = { lowest: 40, highest: 120 };
  const read = (...values: number[]) => values.map((reading) => ({ reading }));

  it('is the needle at the other end of the dial, or on its stop', () => {
    expect(hasReachedFullScale(read(40, 60, 90), scale)).toBe(false);
    expect(hasReachedFullScale(read(40, 60, 119), scale)).toBe(true);
    expect(hasReachedFullScale([{ reading: 42 }, { reading: 100, atStop: 'high' }], scale)).toBe(true);
  });

  it('is the low end where an open wire stands high', () => {
    expect(hasReachedFullScale(read(120, 70), scale)).toBe(false);
    expect(hasReachedFullScale(read(120, 70, 41), scale)).toBe(true);
  });

  it('is not the end at which the needle began', () => {
    expect(
      hasReachedFullScale(
        [
          { reading: 40, atStop: 'low' },
          { reading: 40, atStop: 'low' },
        ],
        scale,
      ),
    ).toBe(false);
    expect(hasReachedFullScale([], scale)).toBe(false);
  });
});
