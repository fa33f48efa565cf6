import { describe, expect, it } from 'vitest';
import { figuresOf, settingsOf } from '../../engine/accuracy';

describe('a box that has calibrated itself', () => {
  it('makes what is asked and states what is true, within the two figures, and its uncertainty covers the rest', () => {
    // Boxes with parts, contacts, gains and references of their own; the bench prints the same for many more.
    const figures = figuresOf([11, 12, 13, 14].flatMap((seed) => settingsOf(seed, 60)));
    expect(figures.madeAgainstAskedP99).toBeLessThanOrEqual(1);
    expect(figures.statedAgainstTrueWorst).toBeLessThanOrEqual(1);
    expect(figures.coveredFraction).toBeGreaterThanOrEqual(0.95);
    expect(figures.measuredWorstFraction).toBeLessThan(0.02);
  });
});
