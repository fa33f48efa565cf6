import { describe, expect, it } from 'vitest';
import { lawGradient, lawOhm, lawSlope, type SenderLaw } from '../../../host/core/sender/law';

/** A law, and the same law from its coefficients in the order they are reported. Coefficients invented. */
type Case = readonly [string, readonly number[], (coefficients: readonly number[]) => SenderLaw];

const cases: readonly Case[] = [
  [
    'steinhart-hart',
    [1.4e-3, 2.37e-4, 9.9e-8],
    ([a, b, c]) => ({ name: 'steinhart-hart', a: a!, b: b!, c: c!, branchLnOhm: 6 }),
  ],
  ['beta', [1000, 3900], ([r, b]) => ({ name: 'beta', resistance25Ohm: r!, betaKelvin: b! })],
  [
    'exponential',
    [0.01, 4000, 300],
    ([b1, b2, b3]) => ({ name: 'exponential', b1Ohm: b1!, b2Celsius: b2!, b3Celsius: b3! }),
  ],
  ['linear', [240, -2], (coefficients) => ({ name: 'linear', coefficients })],
  ['polynomial', [240, -2, 0.004, -1e-5], (coefficients) => ({ name: 'polynomial', coefficients })],
];

describe.each(cases)('the law %s', (_, coefficients, law) => {
  it.each([10, 60, 110])('knows how its resistance follows each coefficient at %d', (argument) => {
    const gradient = lawGradient(law(coefficients), argument);
    expect(gradient).toHaveLength(coefficients.length);
    coefficients.forEach((value, index) => {
      const step = 1e-5 * Math.abs(value);
      const moved = (by: number): number => {
        const changed = coefficients.map((each, at) => (at === index ? value + by : each));
        return lawOhm(law(changed), argument);
      };
      expect(gradient[index]! / ((moved(step) - moved(-step)) / (2 * step))).toBeCloseTo(1, 6);
    });
  });

  it('falls as its resistance does', () => {
    const drop = lawOhm(law(coefficients), 60.5) - lawOhm(law(coefficients), 59.5);
    expect(drop).toBeLessThan(0);
    expect(lawSlope(law(coefficients), 60) / drop).toBeCloseTo(1, 2);
  });
});
