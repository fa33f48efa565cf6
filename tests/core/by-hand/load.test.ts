import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bearsPotentiometer,
  fixedResistorFor,
  handFeeds,
  isBearable,
  makeable,
  MOST_CURRENT_SHARE,
  onDecade,
  partsThatBear,
  pieceLoads,
  potentiometerLoad,
} from '../../../host/core/by-hand';
import { feedAmp, largestAmp } from '../../../host/core/by-hand/load';
import { onGauge } from './circuit';

const anyFeed = fc.record({
  volt: fc.double({ min: 1, max: 16, noNaN: true }),
  gaugeOhm: fc.double({ min: 5, max: 500, noNaN: true }),
});
const anyOhms = fc.array(fc.double({ min: 1, max: 2_000, noNaN: true }), { minLength: 1, maxLength: 3 });

describe('what a part carries', () => {
  // Published in an owners' thread: a heater of 12.22 ohm on 5 V carries 0.225 A at 10 ohm and 59 mA at 73 ohm.
  it.each([
    [10, 225],
    [73, 59],
  ])('behind a 5 V heater at %d ohm is %d mA, as was published', (ohm, milliamp) => {
    expect(Math.round(1_000 * feedAmp({ volt: 5, gaugeOhm: 12.22 }, ohm))).toBe(milliamp);
  });

  // 280 ohm on a gauge of 0 to 90: 132.6 ohm across 12 V is "about 1 W" in the forum that published it.
  it('is about 1 W in 132.6 ohm across 12 V, as was published', () => {
    const [made] = makeable([{ resistanceOhm: 132.6315, ratingWatt: 5, count: 1 }]);
    const [load] = pieceLoads(made!, [{ volt: 12, gaugeOhm: 1e-9 }]);
    expect(load?.watt).toBeCloseTo(1.086, 3);
  });

  // The largest current of a 5 W track: 100 ohm 224 mA, 250 ohm 141, 500 ohm 100, 1 kohm 71. Source: arithmetic.
  it.each([
    [100, 224],
    [250, 141],
    [500, 100],
    [1_000, 71],
  ])('is at most, on the 5 W track of %d ohm, %d mA', (wholeOhm, milliamp) => {
    expect(Math.round(1_000 * largestAmp(5, wholeOhm))).toBe(milliamp);
  });

  it('is for every piece what Kirchhoff says, the worst of the circuits', () => {
    fc.assert(
      fc.property(anyFeed, anyFeed, anyOhms, (feed, other, ohms) => {
        const parts = ohms.map((resistanceOhm) => ({ resistanceOhm, ratingWatt: 1, count: 1 }));
        for (const made of makeable(parts)) {
          const pieces = made.pieces.map(({ resistanceOhm }) => resistanceOhm);
          const joint = made.joint === 'parallel' ? 'parallel' : 'series';
          const worlds = [feed, other].map((each) => onGauge(each, pieces, joint).watts);
          pieceLoads(made, [feed, other]).forEach(({ watt }, at) => {
            const most = Math.max(...worlds.map((watts) => watts[at]!));
            expect(watt / most).toBeCloseTo(1, 6);
          });
        }
      }),
      { numRuns: 60 },
    );
  });

  it('is refused above 70 % of its largest current: just inside and just outside', () => {
    const feed = { volt: 10, gaugeOhm: 100 };
    const part = (ratingWatt: number) => makeable([{ resistanceOhm: 100, ratingWatt, count: 1 }])[0]!;
    // 50 mA flow. 0.7 of the largest current is 50 mA where the part is rated (0.05 / 0.7)^2 x 100 ohm = 0.5102 W.
    expect(isBearable(part(0.511), [feed])).toBe(true);
    expect(isBearable(part(0.509), [feed])).toBe(false);
  });

  it('is refused where it is no number', () => {
    const [made] = makeable([{ resistanceOhm: 100, ratingWatt: 1, count: 1 }]);
    expect(isBearable(made!, [{ volt: NaN, gaugeOhm: 50 }])).toBe(false);
  });

  it('is a quarter watt where nothing is printed on it', () => {
    const [made] = makeable([{ resistanceOhm: 100, count: 1 }]);
    expect(pieceLoads(made!, [{ volt: 10, gaugeOhm: 100 }])[0]?.ratingWatt).toBe(0.25);
  });

  it('of a decade box is that of one resistor of the largest decade in use', () => {
    const made = onDecade({ leastOhm: 1, mostOhm: 9_999, ratingWatt: 0.5 }, 150)!;
    const [load] = pieceLoads(made, [{ volt: 10, gaugeOhm: 50 }]);
    expect(load?.amp).toBeCloseTo(0.05, 9);
    // 0.5 W in a resistor of 100 ohm: 70.7 mA at most.
    expect(load?.share).toBeCloseTo(0.05 / 0.070_710_678, 6);
  });
});

describe('parts that bear it', () => {
  it('are two of 220 ohm 1 W side by side where a quarter watt of 100 ohm would get 0.9 W', () => {
    // 14.4 V behind 50 ohm, the low end of what coils measure (common practice): 0.92 W in 100 ohm.
    const feeds = handFeeds({ mechanism: 'two-coil' });
    const [quarter] = makeable([{ resistanceOhm: 100, ratingWatt: 0.25, count: 1 }]);
    expect(pieceLoads(quarter!, feeds)[0]?.watt).toBeCloseTo(0.92, 2);
    expect(isBearable(quarter!, feeds)).toBe(false);
    expect(partsThatBear(100, feeds)).toEqual({ resistanceOhm: 220, ratingWatt: 1, count: 2 });
  });

  it('bear it in any circuit, by Kirchhoff, to half their watts', () => {
    const wanted = fc.double({ min: 5, max: 1_000, noNaN: true });
    fc.assert(
      fc.property(wanted, anyFeed, (ohm, feed) => {
        const found = partsThatBear(ohm, [feed]);
        if (found === undefined) return;
        const { watts } = onGauge(
          feed,
          Array.from({ length: found.count }, () => found.resistanceOhm),
          'parallel',
        );
        for (const watt of watts) expect(watt).toBeLessThanOrEqual(0.4901 * found.ratingWatt);
        expect(Math.abs(Math.log(found.resistanceOhm / found.count / ohm))).toBeLessThan(0.15);
      }),
    );
  });
});

describe('a potentiometer', () => {
  const anyTrack = fc.record({
    wholeOhm: fc.constantFrom(100, 250, 500, 1_000, 5_000),
    ratingWatt: fc.constantFrom(0.5, 1, 2, 5, 25),
  });

  it('carries through what is left of its track what the fixed resistor alone lets through, at every place', () => {
    fc.assert(
      fc.property(
        anyTrack,
        anyFeed,
        fc.double({ min: 1, max: 200, noNaN: true }),
        (track, feed, seriesOhm) => {
          const load = potentiometerLoad({ ...track, seriesOhm, seriesWatt: 5 }, [feed]);
          for (const part of [1, 0.5, 0.1, 0.01]) {
            const left = Math.max(1e-6, part * track.wholeOhm);
            const { amp } = onGauge(feed, [left, seriesOhm], 'series');
            expect(amp).toBeLessThanOrEqual(load.amp * (1 + 1e-9));
          }
          expect(load.trackLargestAmp ** 2 * track.wholeOhm).toBeCloseTo(track.ratingWatt, 9);
        },
      ),
    );
  });

  it('gets a fixed resistor that is never below the floor and keeps both within 70 %', () => {
    fc.assert(
      fc.property(
        anyTrack,
        anyFeed,
        fc.double({ min: 1, max: 100, noNaN: true }),
        (track, feed, leastOhm) => {
          const fixed = fixedResistorFor(track, [feed], leastOhm);
          if (fixed === undefined) return;
          expect(fixed.seriesOhm).toBeGreaterThanOrEqual(leastOhm);
          const { amp, watts } = onGauge(feed, [1e-6, fixed.seriesOhm], 'series');
          expect(amp).toBeLessThanOrEqual(
            MOST_CURRENT_SHARE * Math.sqrt(track.ratingWatt / track.wholeOhm) * (1 + 1e-6),
          );
          expect(watts[1]!).toBeLessThanOrEqual(0.4901 * fixed.seriesWatt);
        },
      ),
    );
  });

  it('of half a watt and 1 kohm is refused behind a coil until the fixed resistor is large', () => {
    const track = { wholeOhm: 1_000, ratingWatt: 0.5 };
    const feeds = handFeeds({ mechanism: 'cross-coil' });
    // 22.4 mA at most, 15.7 mA allowed: 14.4 V / 15.7 mA - 50 ohm = 870 ohm.
    expect(bearsPotentiometer(potentiometerLoad({ ...track, seriesOhm: 33, seriesWatt: 5 }, feeds))).toBe(
      false,
    );
    expect(fixedResistorFor(track, feeds, 33)?.seriesOhm).toBe(1_000);
  });
});

describe('the circuits a gauge may have', () => {
  it('are the measured one where volts and ohms were measured', () => {
    expect(handFeeds({ mechanism: 'thermal', feedVolt: 9.8, gaugeOhm: 60 })).toEqual([
      { volt: 9.8, gaugeOhm: 60 },
    ]);
  });

  it('are all that there are for a gauge of unknown kind', () => {
    const unknown = handFeeds({ mechanism: 'unknown' });
    for (const mechanism of ['thermal', 'two-coil'] as const)
      for (const feed of handFeeds({ mechanism })) expect(unknown).toContainEqual(feed);
  });
});
