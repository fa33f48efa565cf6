import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Mark } from '../../host/job/schema/gauge';
import {
  fractionFromPoint,
  fractionFromReading,
  heldBetweenStops,
  HIGHEST_FRACTION,
  LOWEST_FRACTION,
  minorFractions,
  pointAt,
  readingFromFraction,
} from '../../host/web/dial/dial-geometry';

/** Any dial: places that ascend, readings that run one way, scale even or not. */
const anyMarks = (): fc.Arbitrary<Mark[]> =>
  fc
    .tuple(
      fc.array(fc.double({ min: 0.05, max: 1, noNaN: true }), { minLength: 1, maxLength: 8 }),
      fc.boolean(),
      fc.array(fc.double({ min: 0.5, max: 50, noNaN: true }), { minLength: 8, maxLength: 8 }),
    )
    .map(([gaps, isFalling, steps]) => {
      const whole = gaps.reduce((sum, gap) => sum + gap, 0);
      let place = 0;
      let reading = 10;
      return [{ gap: 0, step: 0 }, ...gaps.map((gap, index) => ({ gap, step: steps[index] ?? 1 }))].map(
        ({ gap, step }) => {
          place += gap / whole;
          reading += isFalling ? -step : step;
          return { label: '', reading, angleFraction: place };
        },
      );
    });

describe('the drawn scale', () => {
  it('gives back the reading from the place where it drew it', () => {
    fc.assert(
      fc.property(anyMarks(), fc.double({ min: 0, max: 1, noNaN: true }), (marks, share) => {
        const readings = marks.map((mark) => mark.reading);
        const [low, high] = [Math.min(...readings), Math.max(...readings)];
        const reading = low + share * (high - low);
        const fraction = fractionFromReading(marks, reading);
        expect(fraction).toBeDefined();
        expect(readingFromFraction(marks, fraction ?? 0)).toBeCloseTo(reading, 6);
      }),
    );
  });

  it('puts every mark where the person put it', () => {
    fc.assert(
      fc.property(anyMarks(), (marks) => {
        for (const mark of marks)
          expect(fractionFromReading(marks, mark.reading)).toBeCloseTo(mark.angleFraction, 9);
      }),
    );
  });

  it('reads the same however the marks are ordered', () => {
    fc.assert(
      fc.property(anyMarks(), fc.double({ min: -0.06, max: 1.06, noNaN: true }), (marks, fraction) => {
        expect(readingFromFraction([...marks].reverse(), fraction)).toBe(
          readingFromFraction(marks, fraction),
        );
      }),
    );
  });

  it('finds the finger where the needle is, on narrow and wide arcs', () => {
    fc.assert(
      fc.property(
        fc.double({ min: LOWEST_FRACTION, max: HIGHEST_FRACTION, noNaN: true }),
        fc.integer({ min: 60, max: 300 }),
        fc.double({ min: 5, max: 120, noNaN: true }),
        (fraction, arcDegrees, radius) => {
          expect(fractionFromPoint(pointAt(fraction, arcDegrees, radius), arcDegrees)).toBeCloseTo(
            fraction,
            6,
          );
        },
      ),
    );
  });

  it('never takes the needle past its stops', () => {
    expect(heldBetweenStops(7)).toBe(HIGHEST_FRACTION);
    expect(heldBetweenStops(-7)).toBe(LOWEST_FRACTION);
    expect(heldBetweenStops(0.4)).toBe(0.4);
  });

  it('knows no reading with fewer than two marks', () => {
    const one = [{ label: 'E', reading: 0, angleFraction: 0 }];
    expect(readingFromFraction(one, 0.5)).toBeUndefined();
    expect(fractionFromReading(one, 0)).toBeUndefined();
  });

  it('divides each gap of an uneven scale into equal parts', () => {
    const marks = [
      { label: 'E', reading: 0, angleFraction: 0 },
      { label: 'F', reading: 100, angleFraction: 0.5 },
    ];
    expect(minorFractions(marks, 5).map((fraction) => fraction.toFixed(9))).toEqual([
      '0.100000000',
      '0.200000000',
      '0.300000000',
      '0.400000000',
    ]);
  });
});
