import { describe, expect, it } from 'vitest';

import { readingStepOf, scatterBehind, sharedRounding } from '../../../host/core/curve/readings/reading-step';
import { randomSource } from '../../../host/core/numeric/random';

describe('reading step', () => {
  it.each([
    ['halves of tens', [40, 45, 55, 70, 95, 120], 5],
    ['quarters', [0.25, 0.5, 1.75, 2, 3.25], 0.25],
    ['a step that is no round number, printed to three decimals', [0, 1.667, 5, 8.333, 13.333, 15], 1.667],
    ['a scale that does not start at zero', [101, 103, 107, 113], 2],
    ['whole numbers far apart', [0, 13, 27, 39, 48], 1],
  ])('is found: %s', (_, readings, step) => expect(readingStepOf(readings)).toBeCloseTo(step, 2));

  it('is none for readings with no common step', () => {
    expect(readingStepOf([1.2345, 2.7182, 3.1415, 5.9932, 7.7121, 9.4447])).toBe(0);
  });

  it('is a fortieth of the span when three readings are too few to tell', () => {
    expect(readingStepOf([0, 35, 80])).toBe(2);
  });
});

describe('rounding shared by repeats', () => {
  it('is all of the rounding without scatter, and none once the scatter reaches half the step', () => {
    expect(sharedRounding(2, 0, 0)).toBeGreaterThan(0.97 * (4 / 12));
    expect(sharedRounding(2, 1, 0)).toBeLessThan(1e-4);
  });

  it('agrees with a simulated reader at every scatter, and so does the scatter found behind repeats', () => {
    const random = randomSource(7);
    for (const scatter of [0.1, 0.2, 0.35]) {
      let shared = 0;
      let within = 0;
      const trials = 20_000;
      for (let trial = 0; trial < trials; trial += 1) {
        const truth = random.uniform();
        const errors = [0, 1].map(() => Math.round(truth + scatter * random.normal()) - truth);
        shared += (errors[0]! * errors[1]!) / trials;
        within += (errors[0]! - errors[1]!) ** 2 / 2 / trials;
      }
      expect(sharedRounding(1, scatter, 0)).toBeCloseTo(shared, 2);
      expect(scatterBehind(1, within)).toBeCloseTo(scatter, 1);
    }
  });
});
