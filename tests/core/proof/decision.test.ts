import { describe, expect, it } from 'vitest';
import {
  conformanceProbability,
  limitFault,
  narrowestProvable,
  pairWord,
} from '../../../host/core/proof/decision';
import { isInDangerQuarter, usualLimits } from '../../../host/core/proof/limits';
import { normalCdf, normalQuantile } from '../../../host/core/numeric/normal';
import { refusalCode } from '../../support/answer';

const sides = (size: number) => ({ lower: -size, upper: size });
const U = (standard: number): number => 2 * standard;

// Source of the published figures: JCGM 106:2012. They are from memory, and recomputed by the definitions: the text was
// not reachable.
describe('the probability that the true value lies inside, by JCGM 106', () => {
  it('Table 1: one-sided probabilities and their z', () => {
    const rows = [
      [0.8, 0.84],
      [0.9, 1.28],
      [0.95, 1.64],
      [0.99, 2.33],
      [0.999, 3.09],
    ] as const;
    for (const [probability, z] of rows) expect(normalQuantile(probability)).toBeCloseTo(z, 2);
  });

  it('the breakdown of a diode: -5.47 V with u 0.05 V against at most -5.40 V is 0.919', () => {
    const found = conformanceProbability(
      { error: -5.47, expandedUncertainty: U(0.05) },
      { lower: -1e9, upper: -5.4 },
    );
    expect(found).toBeCloseTo(0.919, 3);
  });

  it('a speed of 106.6 with u 2 % is above 100 with 99.9 %', () => {
    const found = conformanceProbability(
      { error: 106.6, expandedUncertainty: U(0.02 * 106.6) },
      { lower: 0, upper: 100 },
    );
    expect(1 - found).toBeCloseTo(0.999, 4);
  });

  it('resistors of 1500 ohm +-0.2, u0 0.12, um 0.04, taken at +-0.18: 0.904 fit, 0.0099 consumer, 0.069 producer', () => {
    const limits = sides(0.2);
    expect(conformanceProbability({ error: 0, expandedUncertainty: U(0.12) }, limits)).toBeCloseTo(0.904, 3);
    // The measured error of a part, and the true one when it is known: two normal distributions, JCGM 106 (from memory).
    const measured = Math.hypot(0.12, 0.04);
    const shrink = 0.12 ** 2 / measured ** 2;
    const left = (0.12 * 0.04) / measured;
    const step = 0.0005;
    let [consumer, producer] = [0, 0];
    for (let error = -0.8; error <= 0.8; error += step) {
      const weight = normalCdf((error + step / 2) / measured) - normalCdf((error - step / 2) / measured);
      const fits = conformanceProbability({ error: shrink * error, expandedUncertainty: U(left) }, limits);
      if (Math.abs(error) <= 0.18) consumer += weight * (1 - fits);
      else producer += weight * fits;
    }
    expect(consumer).toBeCloseTo(0.0099, 3);
    expect(producer).toBeCloseTo(0.069, 2);
  });
});

// Source: ILAC-G8:09/2019, 4.2.3 and Table 1.
describe('the four words of a guard band as wide as U, by ILAC-G8', () => {
  const word = (error: number) => pairWord({ error, expandedUncertainty: 3 }, sides(4), 'guard');

  it('change at 1, 4 and 7 for a limit of 4 and U of 3, on both sides', () => {
    for (const side of [1, -1]) {
      expect([1, 1.01, 4, 4.01, 7, 7.01].map((size) => word(side * size))).toEqual([
        'within',
        'within-not-proved',
        'within-not-proved',
        'outside-not-proved',
        'outside-not-proved',
        'outside',
      ]);
    }
  });

  it.each([
    [0, 0.5],
    [0.83, 0.049],
    [1, 0.023],
  ])('a needle truly at the limit is passed by a guard of %f U with chance %f', (guard, chance) => {
    // Passed when the error seen lies a guard inside: the true error at the limit, spread U/2.
    expect(normalCdf(-guard * 2)).toBeCloseTo(chance, 2);
    expect(
      1 - conformanceProbability({ error: 4 - guard * 3, expandedUncertainty: 3 }, { lower: -1e9, upper: 4 }),
    ).toBeCloseTo(chance, 2);
  });

  it('of a lopsided limit each side is its own', () => {
    const limits = { lower: -2, upper: 4 };
    const result = (error: number) => ({ error, expandedUncertainty: 1 });
    expect([-1, -1.1, -2.1, -3.1, 3, 3.1].map((error) => pairWord(result(error), limits, 'guard'))).toEqual([
      'within',
      'within-not-proved',
      'outside-not-proved',
      'outside',
      'within',
      'within-not-proved',
    ]);
  });

  it('simple acceptance knows two words, and a probability of 0.95 lies between the two', () => {
    const at = (error: number, rule: 'simple' | 'probability') =>
      pairWord({ error, expandedUncertainty: 3 }, sides(4), rule);
    expect([3.99, 4.01].map((error) => at(error, 'simple'))).toEqual(['within', 'outside']);
    // 1.645 standard uncertainties of 1.5 inside the limit.
    expect([1.5, 1.56, 6.4, 6.5].map((error) => at(error, 'probability'))).toEqual([
      'within',
      'within-not-proved',
      'outside-not-proved',
      'outside',
    ]);
  });

  it('nothing that is not a number is ever within', () => {
    for (const rule of ['guard', 'simple', 'probability'] as const)
      for (const [error, expandedUncertainty] of [
        [NaN, 1],
        [0, NaN],
      ] as const)
        if (rule !== 'simple' || Number.isNaN(error))
          expect(pairWord({ error, expandedUncertainty }, sides(4), rule)).not.toBe('within');
  });

  it('nothing tighter can be proved than what a needle without error would prove', () => {
    for (const rule of ['guard', 'probability'] as const) {
      const least = narrowestProvable(3, rule);
      const at = (size: number) => pairWord({ error: 0, expandedUncertainty: 3 }, sides(size), rule);
      expect(at(least * 1.001)).toBe('within');
      expect(at(least * 0.999)).not.toBe('within');
    }
    expect(narrowestProvable(3, 'simple')).toBe(0);
  });
});

describe('the limits where nobody chose others', () => {
  const hot = { quantity: 'temperature', lowest: 40, highest: 120 } as const;

  it('are half as wide to the cold side in the hot quarter', () => {
    expect(usualLimits(hot, true)).toEqual({ lower: -2, upper: 4 });
    expect(usualLimits(hot, false)).toEqual({ lower: -4, upper: 4 });
    expect([99.9, 100, 120].map((value) => isInDangerQuarter(hot, value))).toEqual([false, true, true]);
  });

  it('and to the full side near empty', () => {
    const tank = { quantity: 'fuel', lowest: 0, highest: 100 } as const;
    expect(usualLimits(tank, true)).toEqual({ lower: -5, upper: 2.5 });
    expect([0, 25, 26].map((value) => isInDangerQuarter(tank, value))).toEqual([true, true, false]);
  });

  it('a limit with nothing inside is refused', () => {
    expect(refusalCode(limitFault({ lower: 2, upper: 4 }, 'degC') ?? {})).toBe('PROOF_LIMIT');
    expect(refusalCode(limitFault({ lower: 0, upper: 0 }, 'degC') ?? {})).toBe('PROOF_LIMIT');
    expect(limitFault({ lower: -2, upper: 4 }, 'degC')).toBeUndefined();
  });
});
