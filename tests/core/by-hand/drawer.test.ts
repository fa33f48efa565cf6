import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeable, onDecade, type DrawerPart } from '../../../host/core/by-hand';
import { nearestMade } from '../../../host/core/by-hand/drawer';
import { onGauge } from './circuit';

const one = (resistanceOhm: number, ratingWatt?: number): DrawerPart => ({
  resistanceOhm,
  count: 1,
  ...(ratingWatt === undefined ? {} : { ratingWatt }),
});
const anyPart = fc.record({
  resistanceOhm: fc.double({ min: 1, max: 5_000, noNaN: true }),
  count: fc.integer({ min: 1, max: 3 }),
});
const anything = { leastOhm: 0, isBearable: () => true };
const closestOf = (parts: readonly DrawerPart[], wantedOhm: number) =>
  nearestMade(makeable(parts), wantedOhm, anything);

describe('what the parts in a drawer make', () => {
  // Published: an owner's two measured parts, 148 and 2,175 ohm side by side, "about 138.5 ohm"; 280 ohm brought to 90
  // by 132.63 ohm (an answer in a physics forum); 210 ohm with 3.9 k across it, about 199.3 (an answer in a makers' forum).
  it.each([
    [148, 2_175, 138.57],
    [280, 132.6315, 90],
    [210, 3_900, 199.27],
  ])('%d and %d ohm side by side are %d ohm, as was published', (first, second, published) => {
    const both = makeable([one(first), one(second)]).find(({ joint }) => joint === 'parallel');
    expect(both?.resistanceOhm).toBeCloseTo(published, 2);
  });

  it('has the ohms that Kirchhoff gives it, whatever is joined', () => {
    fc.assert(
      fc.property(fc.array(anyPart, { minLength: 1, maxLength: 4 }), (parts) => {
        for (const made of makeable(parts)) {
          const ohms = made.pieces.map(({ resistanceOhm }) => resistanceOhm);
          const { wireVolt, amp } = onGauge(
            { volt: 10, gaugeOhm: 50 },
            ohms,
            made.joint === 'parallel' ? 'parallel' : 'series',
          );
          expect(wireVolt / amp / made.resistanceOhm).toBeCloseTo(1, 9);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('takes no more of a part than lie there', () => {
    fc.assert(
      fc.property(fc.array(anyPart, { minLength: 1, maxLength: 4 }), (parts) => {
        for (const { pieces } of makeable(parts))
          for (const { resistanceOhm } of pieces) {
            const there = parts.filter((part) => part.resistanceOhm === resistanceOhm);
            const used = pieces.filter((piece) => piece.resistanceOhm === resistanceOhm).length;
            expect(used).toBeLessThanOrEqual(there.reduce((sum, { count }) => sum + count, 0));
          }
      }),
    );
  });

  it('lists every choice once: three different parts make three, three pairs and one threesome, each two ways', () => {
    expect(makeable([one(10), one(22), one(47)])).toHaveLength(3 + 2 * 3 + 2 * 1);
    expect(makeable([{ resistanceOhm: 100, count: 3 }])).toHaveLength(1 + 2 + 2);
  });

  it('takes the fewest parts near what is wanted, not the nearest of many', () => {
    const made = closestOf([one(160), one(100), one(50)], 150);
    expect(made).toMatchObject({ joint: 'single', resistanceOhm: 160 });
  });

  it('joins parts where no single one is near', () => {
    expect(closestOf([one(100), one(47)], 150)).toMatchObject({ joint: 'series', resistanceOhm: 147 });
    expect(closestOf([{ resistanceOhm: 300, count: 2 }], 150)).toMatchObject({
      joint: 'parallel',
      resistanceOhm: 150,
    });
  });

  it('says that nothing is there rather than something far off', () => {
    expect(closestOf([one(10)], 150)).toBeUndefined();
    expect(closestOf([], 150)).toBeUndefined();
  });

  it('gives nothing below the floor, above the ceiling or unbearable', () => {
    const limits = fc.record({
      wanted: fc.double({ min: 1, max: 3_000, noNaN: true }),
      least: fc.double({ min: 0, max: 500, noNaN: true }),
      most: fc.double({ min: 0, max: 3_000, noNaN: true }),
    });
    fc.assert(
      fc.property(
        fc.array(anyPart, { minLength: 1, maxLength: 5 }),
        limits,
        (parts, { wanted, least, most }) => {
          const isBearable = ({ pieces }: { readonly pieces: readonly unknown[] }): boolean =>
            pieces.length < 3;
          const made = nearestMade(makeable(parts), wanted, { leastOhm: least, mostOhm: most, isBearable });
          if (made === undefined) return;
          expect(made.resistanceOhm).toBeGreaterThanOrEqual(least);
          expect(made.resistanceOhm).toBeLessThanOrEqual(most);
          expect(made.pieces.length).toBeLessThan(3);
        },
      ),
    );
  });
});

describe('a decade box', () => {
  const box = { leastOhm: 1, mostOhm: 9_999, ratingWatt: 0.5 };

  it('makes whole steps, carried by a resistor of its largest decade', () => {
    expect(onDecade(box, 147.4)).toEqual({
      resistanceOhm: 147,
      joint: 'decade',
      pieces: [{ resistanceOhm: 100, ratingWatt: 0.5 }],
    });
    expect(onDecade({ ...box, leastOhm: 0.1 }, 9.96)?.resistanceOhm).toBe(10);
    expect(onDecade(box, 1_000)?.pieces[0]?.resistanceOhm).toBe(1_000);
  });

  it('makes nothing outside of itself', () => {
    expect(onDecade(box, 0.3)).toBeUndefined();
    expect(onDecade(box, 12_000)).toBeUndefined();
  });
});
