import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  contactBits,
  elements,
  ladderMilliohm,
  limits,
  loadedMilliohm,
} from '../../firmware-ts/board/reference-design';
import {
  guaranteedGapMilliohm,
  largestGapMilliohm,
  largestRadix,
  reachableMilliohm,
  totalMilliohm,
} from '../../hardware-notes/calculations/ladder';
import { randomSource } from '../../host/core/numeric/random';
import series from '../vectors/iec60063-e-series.json';

const nominal = elements.map((element) => element.nominalMilliohm);
const tolerance = 0.01;

/** E96 chain of exact powers of two, the naive choice; 14 elements from 1 ohm. */
const powersOfTwo = [
  1_000, 2_000, 4_020, 8_060, 15_800, 31_600, 63_400, 127_000, 255_000, 511_000, 1_020_000, 2_050_000,
  4_120_000, 8_250_000,
];

const withinTolerance = (seed: number): number[] => {
  const random = randomSource(seed);
  return nominal.map((value) => value * (1 + tolerance * (2 * random.uniform() - 1)));
};

const corner = (highIndex: number): number[] =>
  nominal.map(
    (value, index) => value * (index === highIndex ? 1 + tolerance : index < highIndex ? 1 - tolerance : 1),
  );

describe('the ladder', () => {
  it('is made of 13 or 14 E96 values', () => {
    expect(elements.length).toBeGreaterThanOrEqual(13);
    expect(elements.length).toBeLessThanOrEqual(14);
    for (const milliohm of nominal) {
      const decade = 10 ** Math.floor(Math.log10(milliohm));
      expect(series.E96).toContain(Math.round((milliohm / decade) * 100));
    }
  });

  it('never grows by more than 1.9 from one element to the next', () => {
    expect(largestRadix()).toBeLessThanOrEqual(1.9);
  });

  it('reaches past 5 kilohm with every part at its low corner, and past what the box promises', () => {
    expect(totalMilliohm * (1 - tolerance)).toBeGreaterThan(5_000_000);
    expect(totalMilliohm * (1 - tolerance)).toBeGreaterThan(limits.resistanceMaxMilliohm);
  });
});

describe('the gap between neighbouring settings', () => {
  it('stays within the guaranteed step in each worst corner of 1 % parts', () => {
    const guaranteed = guaranteedGapMilliohm(100 * tolerance);
    const gaps = nominal.map((_, index) => largestGapMilliohm(corner(index)));
    expect(gaps).toHaveLength(14);
    expect(Math.max(...gaps)).toBeLessThanOrEqual(guaranteed + 1e-6);
    expect(guaranteed).toBeLessThanOrEqual(1_020);
  });

  it('stays within it for 150 random sets of 1 % parts', () => {
    const guaranteed = guaranteedGapMilliohm(100 * tolerance);
    for (let seed = 1; seed <= 150; seed += 1) {
      expect(largestGapMilliohm(withinTolerance(seed)), `seed ${seed}`).toBeLessThanOrEqual(
        guaranteed + 1e-6,
      );
    }
  });

  it('would be tens of ohms for exact powers of two with the same parts, which is why they are not used', () => {
    const gaps = powersOfTwo.map((_, high) =>
      largestGapMilliohm(
        powersOfTwo.map((value, index) => value * (index === high ? 1.01 : index < high ? 0.99 : 1)),
      ),
    );
    expect(Math.max(...gaps)).toBeGreaterThan(50_000);
  });

  it('lets every wanted value be met within half a step from nominal parts', () => {
    const sums = reachableMilliohm(nominal);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: totalMilliohm }), (wanted) => {
        const nearest = sums.reduce(
          (best, sum) => (Math.abs(sum - wanted) < Math.abs(best - wanted) ? sum : best),
          0,
        );
        expect(Math.abs(nearest - wanted)).toBeLessThanOrEqual(guaranteedGapMilliohm(0) / 2 + 1);
      }),
      { numRuns: 60 },
    );
  });
});

describe('a contact mask', () => {
  const anyMask = fc.integer({ min: 0, max: contactBits.allMask });

  it('leaves in the path exactly the elements whose bits are clear', () => {
    expect(ladderMilliohm(contactBits.elementsMask)).toBe(0);
    expect(ladderMilliohm(0)).toBe(totalMilliohm);
    fc.assert(
      fc.property(anyMask, (mask) => {
        expect(ladderMilliohm(mask) + ladderMilliohm(~mask)).toBeCloseTo(totalMilliohm, 6);
      }),
    );
  });

  it('never falls below the lower of two settings at the open-first step between them', () => {
    fc.assert(
      fc.property(anyMask, anyMask, (from, to) => {
        const between = ladderMilliohm(from & to);
        expect(between).toBeGreaterThanOrEqual(Math.max(ladderMilliohm(from), ladderMilliohm(to)));
      }),
    );
  });

  it('sums a measured table when one is given', () => {
    const table = withinTolerance(7);
    const open = 1 << 3;
    expect(ladderMilliohm(contactBits.elementsMask & ~open, table)).toBe(table[3]);
  });
});

describe('the load of the sense divider', () => {
  it('is a parallel resistor, and all that is left when the output is open', () => {
    expect(loadedMilliohm(Infinity)).toBe(11e9);
    expect(loadedMilliohm(11e9)).toBeCloseTo(5.5e9, 0);
    expect(loadedMilliohm(0)).toBe(0);
  });

  it('lowers a setting by less than 0.1 % over the whole range', () => {
    expect(1 - loadedMilliohm(limits.resistanceMaxMilliohm) / limits.resistanceMaxMilliohm).toBeLessThan(
      0.001,
    );
  });
});
