import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { backOffOhm, type Approach } from '../../host/bench/sweep/approach';
import { rampDown } from '../../host/bench/box/ramp-down';

const ohm = fc.double({ min: 10, max: 400, noNaN: true });
const anyApproach: fc.Arbitrary<Approach> = fc.record({
  leg: fc.constantFrom('up' as const, 'down' as const),
  aimOhm: ohm,
  presentOhm: fc.option(ohm, { nil: undefined }),
  cameFromOhm: fc.option(ohm, { nil: undefined }),
  risesWithResistance: fc.boolean(),
  backRatio: fc.constant(1.5),
  lowestOhm: fc.constant(5),
  highestOhm: fc.constant(800),
});

describe('the way to a point', () => {
  it('always ends with a move in the direction of its leg', () => {
    fc.assert(
      fc.property(anyApproach, (approach) => {
        const before = backOffOhm(approach) ?? approach.presentOhm ?? Infinity;
        const isRisingOhm = approach.aimOhm > before;
        expect(isRisingOhm === approach.risesWithResistance ? 'up' : 'down').toBe(approach.leg);
      }),
    );
  });

  it('goes back before a point that the box makes already: a repeat without moving is no repeat', () => {
    const made = {
      aimOhm: 74.83,
      presentOhm: 74.826,
      cameFromOhm: 90,
      backRatio: 1.5,
      lowestOhm: 5,
      highestOhm: 800,
    };
    expect(backOffOhm({ ...made, leg: 'down', risesWithResistance: true })).toBeCloseTo(112.2, 1);
    expect(backOffOhm({ ...made, leg: 'up', risesWithResistance: true })).toBeCloseTo(49.9, 1);
  });

  it('goes straight on when the needle was moving that way already, however short the way', () => {
    const onward = {
      leg: 'up',
      aimOhm: 60,
      presentOhm: 62,
      risesWithResistance: false,
      backRatio: 1.5,
    } as const;
    const limits = { lowestOhm: 5, highestOhm: 800 };
    expect(backOffOhm({ ...onward, ...limits, cameFromOhm: 80 })).toBeUndefined();
    expect(backOffOhm({ ...onward, ...limits, cameFromOhm: 50 })).toBeCloseTo(90, 6);
  });

  it('never goes back past the limits of the sweep', () => {
    fc.assert(
      fc.property(anyApproach, (approach) => {
        const back = backOffOhm({ ...approach, lowestOhm: 10, highestOhm: 400 });
        if (back !== undefined) expect(back >= 10 && back <= 400).toBe(true);
      }),
    );
  });

  it('goes down in steps that the box allows, ends at the aim, and goes at once where it may', () => {
    fc.assert(
      fc.property(fc.option(ohm, { nil: undefined }), ohm, (presentOhm, aimOhm) => {
        const path = rampDown(presentOhm, aimOhm, 0.5);
        expect(path.at(-1)).toBe(aimOhm);
        let before = presentOhm ?? 4_000;
        for (const next of path) {
          expect(next).toBeGreaterThanOrEqual(Math.min(before * 0.5, aimOhm));
          before = next;
        }
        expect(rampDown(presentOhm, aimOhm, 0)).toEqual([aimOhm]);
      }),
    );
  });
});
