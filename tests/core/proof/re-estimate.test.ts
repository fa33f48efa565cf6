import { describe, expect, it } from 'vitest';
import { driftOf } from '../../../host/core/proof/drift';
import { inSoak, isDeep } from '../../support/deep';
import { falselyAccepted, proofCars, reTrimCars } from '../../support/proof-cars';

// Small and generous: the study itself, and its figures beside the goals, stands in the bench.
describe('backwards from pairs to the sender', () => {
  it('holds the truth in its region, and knows the hot end the better for more places', () => {
    const cars = isDeep ? 60 : 30;
    const one = proofCars(cars, 1, 41);
    const four = proofCars(cars, 4, 42);
    for (const { region, heldAt105 } of [one, four]) {
      expect(region).toBeGreaterThan(0.85);
      expect(heldAt105).toBeGreaterThan(0.85);
    }
    expect(four.uncertaintyAt105).toBeLessThan(one.uncertaintyAt105);
  });

  inSoak('offers other resistors to some, and seldom makes it worse', () => {
    const { offered, worse, medianBefore, medianAfter } = reTrimCars(60, 43);
    expect(offered).toBeGreaterThan(0.05);
    expect(offered).toBeLessThan(0.7);
    expect(worse).toBeLessThan(0.2);
    expect(medianAfter).toBeLessThan(medianBefore);
  });

  it('a guard band passes far fewer needles that are outside than simple acceptance', () => {
    // By the area of a normal distribution beyond the limit, true errors evenly spread: 15.0 % and 1.3 %; derived here.
    expect(falselyAccepted('simple', 40_000, 44)).toBeCloseTo(0.15, 1);
    expect(falselyAccepted('guard', 40_000, 44)).toBeLessThan(0.025);
  });
});

describe('a season later', () => {
  const then = { then: 1, thenUncertainty: 1.5, nowUncertainty: 2 };

  it('the needle is as left up to both uncertainties together, and has moved beyond', () => {
    expect(driftOf([{ ...then, now: 3.5 }]).hasMoved).toBe(false);
    expect(driftOf([{ ...then, now: 3.51 }]).hasMoved).toBe(true);
    expect(
      driftOf([
        { ...then, now: 1 },
        { ...then, now: -5 },
      ]).hasMoved,
    ).toBe(true);
  });

  it('what is not a number has moved', () => {
    expect(driftOf([{ ...then, now: NaN }]).hasMoved).toBe(true);
  });
});
