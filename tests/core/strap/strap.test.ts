import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../host/core/numeric/random';
import { honestEmpty } from '../../../host/core/strap/honest-empty';
import { litreAt, strapOf, type StrapStep } from '../../../host/core/strap/strap';
import { answered, refusalCode } from '../../support/answer';

/** Tanks of 50 l, litres over the height of the fuel (0 to 1): a box, a wedge, a saddle over a tunnel. Geometry, invented. */
const tanks = {
  box: (height: number) => 50 * height,
  wedge: (height: number) => 50 * height ** 2,
  saddle: (height: number) => 50 * (height < 0.4 ? 0.625 * height : 0.25 + (0.75 * (height - 0.4)) / 0.6),
} as const;

/** A float on a straight track: the needle is the height in percent, by bisection of the tank. */
const heightOf = (tank: (height: number) => number, litre: number): number => {
  let [low, high] = [0, 1];
  for (let step = 0; step < 40; step += 1) {
    const middle = (low + high) / 2;
    if (tank(middle) < litre) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
};

const UNUSABLE = 3;
/** What a person writes: each litre good to a tenth, the pump to its class, the needle to half a division of 2. */
const strapped = (tank: (height: number) => number, seed: number): StrapStep[] => {
  const random = randomSource(seed);
  const pump = 1 + 0.0025 * random.normal();
  const steps = Array.from({ length: 15 }, (_, index) => 1 + 3.5 * index);
  const read = (litre: number, lag: number): number =>
    100 * heightOf(tank, litre) + lag + 1.1547 * (random.uniform() - 0.5);
  return [
    ...steps.map((litre) => ({
      litre: litre * pump + 0.05 * random.normal(),
      needle: read(litre, -0.7),
      way: 'filling' as const,
    })),
    ...[...steps].reverse().map((litre) => ({
      litre: litre * pump + 0.05 * random.normal(),
      needle: read(litre, 0.7),
      way: 'driving' as const,
    })),
  ];
};
const question = {
  unusableLitre: UNUSABLE,
  needleUncertainty: 2 / Math.sqrt(3),
  litreUncertainty: 0.1,
  litrePart: 0.005,
};

describe('litres against the needle', () => {
  it.each(Object.entries(tanks))('of a tank shaped like a %s are known to less than a litre', (_, tank) => {
    const strap = answered(strapOf(strapped(tank, 5), question));
    for (const needle of [25, 50, 75]) {
      const at = litreAt(strap.filling, needle);
      // The needle stands where the height is; filling it lags by 0.7.
      expect(Math.abs((at?.litre ?? NaN) - tank((needle + 0.7) / 100))).toBeLessThan(1);
    }
    expect(strap.hysteresis).toBeGreaterThan(0.5);
    expect(strap.hysteresis).toBeLessThan(4);
  });

  it('never fall while fuel goes in, whatever the needle did', () => {
    const steps = [10, 20, 15, 30, 28].map((needle, index) => ({
      ...{ litre: 5 * index, needle, way: 'filling' as const },
    }));
    const { filling } = answered(strapOf(steps, question));
    // Least squares that never fall: 20 and 15 become their mean, 30 and 28 theirs; worked by hand.
    expect(filling.map(({ needle }) => needle)).toEqual([10, 17.5, 17.5, 29, 29]);
  });

  it('leave a dropout out and name it, and spread what did not close', () => {
    const steps = [0, 10, 20, 30, 40].map((litre) => ({
      ...{ litre, needle: litre === 20 ? 0 : litre, way: 'filling' as const, isDropout: litre === 20 },
    }));
    const strap = answered(strapOf(steps, { ...question, closingLitre: 2 }));
    expect(strap.dropouts).toHaveLength(1);
    expect(strap.filling.map(({ litre }) => litre)).toEqual([0, 9.5, 28.5, 38]);
  });

  it('are refused from too few steps, and from steps that turn back', () => {
    const step = (litre: number, way: StrapStep['way'] = 'filling') => ({ litre, needle: litre, way });
    expect(refusalCode(strapOf([step(1), step(2)], question))).toBe('STRAP_TOO_FEW');
    expect(refusalCode(strapOf([step(1), step(3), step(2), step(4)], question))).toBe('STRAP_STEP');
    expect(refusalCode(strapOf([step(1), step(NaN)], question))).toBe('STRAP_STEP');
    expect(
      refusalCode(
        strapOf(
          [1, 2, 3, 4].map((litre) => step(litre, 'driving')),
          question,
        ),
      ),
    ).toBe('STRAP_STEP');
  });
});

describe('an honest empty', () => {
  it.each(Object.entries(tanks))('has its reserve in nearly every tank shaped like a %s', (_, tank) => {
    let kept = 0;
    const cars = 200;
    for (let seed = 0; seed < cars; seed += 1) {
      const strap = answered(strapOf(strapped(tank, 900 + seed), question));
      const { needle } = answered(honestEmpty(strap, 5));
      // Driving down the needle lags the other way; the truth is the tank's own geometry.
      if (tank(Math.max(0, needle - 0.7) / 100) - UNUSABLE >= 5) kept += 1;
    }
    expect(kept / cars).toBeGreaterThanOrEqual(0.95);
  });

  it('counts no fuel that no pump reaches, and stands higher for a surer chance', () => {
    const strap = answered(strapOf(strapped(tanks.box, 7), question));
    const at = (chance: number) => answered(honestEmpty(strap, 5, chance)).needle;
    expect(at(0.975)).toBeGreaterThan(at(0.6));
    expect(at(0.975)).toBeGreaterThan(100 * ((5 + UNUSABLE) / 50));
  });

  it('is refused for a chance that is none, and where not even a full tank is enough', () => {
    const strap = answered(strapOf(strapped(tanks.box, 7), question));
    expect(refusalCode(honestEmpty(strap, 5, 1))).toBe('STRAP_CHANCE');
    expect(refusalCode(honestEmpty(strap, 60))).toBe('STRAP_NO_RESERVE');
  });
});
