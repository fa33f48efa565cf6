import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chooseRating, ratingForPlace, ratingLadder } from '../../../host/core/preferred';
import vector from '../../vectors/resistor-power-rating.json';

/** A fifth of what is left of a rating is kept back. Common practice, no source. */
const MARGIN_FRACTION = 0.8;
/** What is left of the smallest film part, by the choice made for next to no power. */
const leftOfSmallest = (ambientCelsius: number): number => {
  const choice = chooseRating(1e-9, ambientCelsius);
  return choice?.ratingWatt === ratingLadder[0]?.ratingWatt ? choice!.deratedWatt / choice!.ratingWatt : 0;
};

describe('derating of film resistors (makers specifications in the form of IEC 60115-1)', () => {
  it('gives the published point: 0.35 at 125 degC', () => {
    const { ambient_degC, allowed_fraction } = vector.derating_check_point;
    expect(leftOfSmallest(ambient_degC)).toBeCloseTo(allowed_fraction, 2);
  });

  it('follows the table of fractions', () => {
    const { ambient_degC, fraction } = vector.derated_fraction;
    ambient_degC.forEach((ambient, i) => expect(leftOfSmallest(ambient)).toBeCloseTo(fraction[i]!, 4));
  });

  it('knows the knee and the end of the published family', () => {
    const { full_rating_up_to_degC, zero_power_at_degC } = vector.metal_film_family;
    expect(ratingLadder[0]?.family).toEqual({
      fullUpToCelsius: full_rating_up_to_degC,
      zeroAtCelsius: zero_power_at_degC,
    });
  });

  it('holds every published rating in its ladder', () => {
    const ratings = ratingLadder.map(({ ratingWatt }) => ratingWatt);
    expect(ratings).toEqual([...ratings].sort((one, other) => one - other));
    vector.metal_film_family.rated_power_W.forEach((rating) => expect(ratings).toContain(rating));
  });
});

/** Full up to the knee, a straight line to nothing. */
const left = (
  ambientCelsius: number,
  { fullUpToCelsius, zeroAtCelsius }: { readonly fullUpToCelsius: number; readonly zeroAtCelsius: number },
): number => Math.min(1, (zeroAtCelsius - ambientCelsius) / (zeroAtCelsius - fullUpToCelsius));

describe('choice of a rating', () => {
  it('takes the smallest that carries the power with a margin of a fifth', () => {
    expect(chooseRating(0.1, 40)?.ratingWatt).toBe(0.125);
    expect(chooseRating(0.11, 40)?.ratingWatt).toBe(0.25);
  });

  it('gives a half-watt film part 0.14 W in the engine bay (worked example of the trade; common practice)', () => {
    expect(ratingForPlace(0.14, 'engine-bay')?.ratingWatt).toBe(0.5);
    expect(ratingForPlace(0.15, 'engine-bay')?.ratingWatt).toBe(1);
  });

  it('never overloads, and never takes a larger part than needed', () => {
    let looked = 0;
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 20, noNaN: true }),
        fc.double({ min: -20, max: 150, noNaN: true }),
        (powerWatt, ambientCelsius) => {
          const choice = chooseRating(powerWatt, ambientCelsius);
          if (choice === undefined) return;
          looked += 1;
          expect(choice.loadFraction).toBeLessThanOrEqual(MARGIN_FRACTION);
          const smaller = ratingLadder.filter(({ ratingWatt }) => ratingWatt < choice.ratingWatt);
          for (const { ratingWatt, family } of smaller) {
            expect(powerWatt).toBeGreaterThan(MARGIN_FRACTION * ratingWatt * left(ambientCelsius, family));
          }
        },
      ),
    );
    expect(looked).toBeGreaterThan(20);
  });

  it('has no answer for a power no part carries, or none at all', () => {
    expect(chooseRating(1000, 25)).toBeUndefined();
    expect(chooseRating(0.1, 300)).toBeUndefined();
    expect(chooseRating(Number.NaN, 25)).toBeUndefined();
  });
});
