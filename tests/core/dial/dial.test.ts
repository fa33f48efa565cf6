import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

import { angleFractionAt, dialFromMarks, readingForAngle, scaleEnds } from '../../../host/core/dial';
import type { DialMark } from '../../../host/core/dial';

function dialOf(marks: readonly DialMark[]) {
  const dial = dialFromMarks(Object.freeze(marks));
  if (dial.kind === 'refused') throw new Error(dial.code);
  return dial;
}

const uneven = dialOf([
  { label: 'H', reading: 120, angleFraction: 1 },
  { label: 'C', reading: 40, angleFraction: 0 },
  { label: 'N', reading: 85, angleFraction: 0.5 },
  { label: '', reading: 100, angleFraction: 0.6 },
]);

/** Marks spread evenly over the sweep, first to last. */
const evenMarks = (readings: readonly number[]): DialMark[] =>
  readings.map((reading, i) => ({
    label: String(reading),
    reading,
    angleFraction: readings.length < 2 ? 0 : i / (readings.length - 1),
  }));

describe('dial', () => {
  it('points at each mark for its reading and reads each mark at its angle', () => {
    for (const { reading, angleFraction } of uneven.marks) {
      expect(angleFractionAt(uneven, reading)).toBeCloseTo(angleFraction, 12);
      expect(readingForAngle(uneven, angleFraction)).toBeCloseTo(reading, 9);
    }
  });

  it('is a straight line on an evenly divided scale, also beyond its ends', () => {
    const even = dialOf(evenMarks([0, 25, 50, 75, 100]));
    for (const reading of [-10, 0, 13, 62.5, 100, 104])
      expect(angleFractionAt(even, reading)).toBeCloseTo(reading / 100, 12);
    expect(readingForAngle(even, 1.04)).toBeCloseTo(104, 9);
  });

  it('takes a scale whose readings fall with the angle', () => {
    const falling = dialOf(evenMarks([260, 180, 100]));
    expect(angleFractionAt(falling, 220)).toBeCloseTo(0.25, 12);
    expect(readingForAngle(falling, 0.75)).toBeCloseTo(140, 9);
    expect(scaleEnds(falling)).toEqual({ lowest: 100, highest: 260 });
  });

  it('gives back the reading that put the needle there, and never turns back', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 40, max: 120, noNaN: true }),
        fc.double({ min: 40, max: 120, noNaN: true }),
        (one, other) => {
          expect(readingForAngle(uneven, angleFractionAt(uneven, one))).toBeCloseTo(one, 8);
          if (one < other)
            expect(angleFractionAt(uneven, one)).toBeLessThanOrEqual(angleFractionAt(uneven, other));
        },
      ),
    );
  });

  it.each([
    ['DIAL_TOO_FEW', evenMarks([50])],
    ['DIAL_BAD_NUMBER', [...evenMarks([0, 50]), { label: 'x', reading: NaN, angleFraction: 0.2 }]],
    ['DIAL_BAD_NUMBER', [...evenMarks([0, 50]), { label: 'x', reading: 20, angleFraction: 1.2 }]],
    ['DIAL_SAME_PLACE', [...evenMarks([0, 50]), { label: 'x', reading: 60, angleFraction: 1 }]],
    ['DIAL_NOT_MONOTONE', evenMarks([0, 60, 50])],
  ] as const)('refuses with %s', (code, marks) => {
    expect(dialFromMarks(marks)).toMatchObject({ kind: 'refused', code });
  });
});
