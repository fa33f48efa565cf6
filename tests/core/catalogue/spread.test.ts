import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  chanceTauAbove,
  meanAt,
  nextBelow,
  nextInterval,
  pooledTau,
  spreadOf,
  tauQuantile,
  type Specimen,
} from '../../../host/core/catalogue/spread';
import { vaccineTrials } from '../../support/catalogue/published';

const specimens = (values: readonly number[], uncertainties: readonly number[]): Specimen[] =>
  values.map((value, i) => ({ value, uncertainty: uncertainties[i]! }));

/** Source: Rubin, J. Educ. Stat. 6 (1981) 377-401, table 1: coaching in eight schools. */
const schools = specimens([28, 8, -3, 7, -1, 1, 18, 12], [15, 10, 16, 11, 9, 11, 10, 18]);

/** Mean yield of six batches of dyestuff, five of each. Source: Davies and Goldsmith, Statistical Methods in Research and Production (1972), table 6.2. */
const BATCH_MEANS = [1505, 1528, 1564, 1498, 1600, 1470];
const WITHIN_VARIANCE = 2451.25;
const batches = BATCH_MEANS.map((value) => ({ value, uncertainty: Math.sqrt(WITHIN_VARIANCE / 5) }));

describe('published values', () => {
  it('eight schools: Q 4.707, common effect 7.686 (4.072), nothing between them (Rubin 1981)', () => {
    const { mean, variance, misfit } = meanAt(schools, 0);
    expect(misfit).toBeCloseTo(4.707, 3);
    expect(mean).toBeCloseTo(7.686, 3);
    expect(Math.sqrt(variance)).toBeCloseTo(4.072, 3);
    expect(pooledTau([schools])).toBeLessThan(1e-6);
  });

  it('13 trials of a vaccine: REML tau squared 0.3132, mean -0.7145 (0.1798), 95 % of trials -1.867 to 0.438', () => {
    const tau = pooledTau([vaccineTrials]);
    const { mean, variance } = meanAt(vaccineTrials, tau);
    expect(tau ** 2).toBeCloseTo(0.3132, 3);
    expect(mean).toBeCloseTo(-0.7145, 3);
    expect(Math.sqrt(variance)).toBeCloseTo(0.1798, 3);
    const half = 1.959964 * Math.sqrt(tau ** 2 + variance);
    expect([mean - half, mean + half].map((each) => Number(each.toFixed(2)))).toEqual([-1.87, 0.44]);
  });

  it('dyestuff: mean 1527.5 (19.383), variance between batches 1764.05 (Davies and Goldsmith)', () => {
    const tau = pooledTau([batches]);
    const { mean, variance } = meanAt(batches, tau);
    expect(mean).toBeCloseTo(1527.5, 6);
    expect(tau ** 2).toBeCloseTo(1764.05, 2);
    expect(Math.sqrt(variance)).toBeCloseTo(19.383, 3);
  });
});

const anySpecimens = fc.array(
  fc.record({
    value: fc.double({ min: 0, max: 1, noNaN: true }),
    uncertainty: fc.double({ min: 1e-4, max: 0.05, noNaN: true }),
  }),
  { minLength: 1, maxLength: 12 },
);

describe('what specimens say of the next', () => {
  it('does not mind a shift, a stretch or the order', () => {
    fc.assert(
      fc.property(anySpecimens, fc.double({ min: -5, max: 5, noNaN: true }), (given, shift) => {
        const plain = nextInterval(spreadOf(given, 0.02), 0.95);
        const moved = given.map((one) => ({ ...one, value: one.value + shift })).reverse();
        const other = nextInterval(spreadOf(moved, 0.02), 0.95);
        expect(other.from - shift).toBeCloseTo(plain.from, 6);
        expect(other.to - shift).toBeCloseTo(plain.to, 6);
        const large = given.map(({ value, uncertainty }) => ({
          value: 100 * value,
          uncertainty: 100 * uncertainty,
        }));
        expect(nextInterval(spreadOf(large, 2), 0.95).to / 100).toBeCloseTo(plain.to, 6);
      }),
      { numRuns: 40 },
    );
  });

  it('leaves 2.5 % on either side', () => {
    const spread = spreadOf(schools, 5);
    const { from, to, middle } = nextInterval(spread, 0.95);
    expect([from, middle, to].map((each) => nextBelow(spread, each))).toEqual([
      expect.closeTo(0.025, 8),
      expect.closeTo(0.5, 8),
      expect.closeTo(0.975, 8),
    ]);
  });

  it('of one specimen knows of the spread what was known before: half a Cauchy', () => {
    const spread = spreadOf([{ value: 0.4, uncertainty: 0.01 }], 0.02);
    expect(tauQuantile(spread, 0.5)).toBeCloseTo(0.02, 3);
    // Source: the distribution function of a half-Cauchy, 2/pi atan(tau/scale).
    expect(chanceTauAbove(spread, 0.06)).toBeCloseTo(1 - (2 / Math.PI) * Math.atan(3), 2);
  });

  it('of forty specimens finds the spread they were made with', () => {
    const spread = spreadOf(
      Array.from({ length: 40 }, (_, i) => ({
        value: 0.5 + 0.03 * Math.sqrt(2) * Math.sin(i * 2.4),
        uncertainty: 0.004,
      })),
      0.02,
    );
    expect(tauQuantile(spread, 0.5)).toBeGreaterThan(0.026);
    expect(tauQuantile(spread, 0.5)).toBeLessThan(0.034);
  });
});
