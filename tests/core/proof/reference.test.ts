import { describe, expect, it } from 'vitest';
import { shownByInfrared } from '../../../host/core/proof/infrared';
import { judgePairs, type Pair } from '../../../host/core/proof/judge';
import { lagOf, referenceUncertainty } from '../../../host/core/proof/reference';
import { answered, refusalCode } from '../../support/answer';

const hot = { quantity: 'temperature', unit: 'degC' } as const;

describe('an infrared thermometer set to 0.95, on 90 degC with 40 degC around', () => {
  // Source: Planck's law integrated over the whole spectrum by adding up, not by the fourth power of the code.
  const radiance = (celsius: number): number => {
    const step = 0.02e-6;
    let sum = 0;
    for (let metre = 0.5e-6; metre < 400e-6; metre += step)
      sum += step / (metre ** 5 * (Math.exp(0.014387769 / (metre * (celsius + 273.15))) - 1));
    return sum;
  };

  it.each([
    [0.05, 43.3],
    [0.2, 52.6],
    [0.8, 83.4],
    [0.95, 90],
  ])('shows at emissivity %f: %f', (emissivity, shown) => {
    expect(shownByInfrared(90, emissivity)).toBeCloseTo(shown, 1);
    const seen = emissivity * radiance(90) + (1 - emissivity) * radiance(40);
    expect(0.95 * radiance(shown) + 0.05 * radiance(40)).toBeCloseTo(seen, -Math.floor(Math.log10(seen)) + 2);
  });
});

describe('a reference', () => {
  it('has what is shared and what is of each pair, in the unit of the dial', () => {
    expect(referenceUncertainty({ ...hot, kind: 'flow-probe' })).toMatchObject({ shared: 2, each: 0.7 });
    const soak = referenceUncertainty({ quantity: 'temperature', unit: 'degF', kind: 'soak' });
    expect(answered(soak).shared).toBeCloseTo(1.8, 12);
    expect(referenceUncertainty({ ...hot, kind: 'scan-tool', shared: 1.2 })).toMatchObject({
      shared: 1.2,
      each: 0.6,
    });
  });

  it('of a pump is the class of the pump and the tenth of a litre, in the part of the tank that the dial shows', () => {
    const tank = { quantity: 'fuel', unit: '%', kind: 'pump', tankLitre: 50 } as const;
    const found = answered(referenceUncertainty(tank));
    expect(found.perValue).toBe(0.005);
    expect(found.each).toBeCloseTo(0.2, 12);
    expect(refusalCode(referenceUncertainty({ ...tank, tankLitre: undefined }))).toBe('REFERENCE_UNSAID');
  });

  it('of a master gauge is its class of its full scale (EN 837-1)', () => {
    const master = { quantity: 'pressure', unit: 'kPa', kind: 'master-gauge' } as const;
    expect(referenceUncertainty({ ...master, classPercent: 1.6, fullScale: 1000 })).toMatchObject({
      shared: 16,
    });
    expect(refusalCode(referenceUncertainty({ ...master, classPercent: 1.6 }))).toBe('REFERENCE_UNSAID');
  });

  it('is refused where it is a trap', () => {
    expect(refusalCode(referenceUncertainty({ ...hot, kind: 'infrared', emissivity: 0.3 }))).toBe(
      'REFERENCE_SHINY',
    );
    expect(refusalCode(referenceUncertainty({ ...hot, kind: 'infrared' }))).toBe('REFERENCE_UNSAID');
    expect(refusalCode(referenceUncertainty({ ...hot, kind: 'pump' }))).toBe('REFERENCE_QUANTITY');
    expect(refusalCode(referenceUncertainty({ ...hot, kind: 'other' }))).toBe('REFERENCE_UNSAID');
    expect(refusalCode(referenceUncertainty({ quantity: 'temperature', unit: 'parts', kind: 'soak' }))).toBe(
      'SENDER_UNIT',
    );
    expect(refusalCode(lagOf(hot, 1.1))).toBe('REFERENCE_CHANGES');
    expect(refusalCode(lagOf(hot, NaN))).toBe('REFERENCE_CHANGES');
  });

  it('that lags is off by its rate times its seconds: 2 a minute and 20 s are 0.7', () => {
    // A temperature that changes that fast is refused; oil or a tank may.
    expect(answered(lagOf({ quantity: 'pressure', unit: 'kPa' }, 2)).size).toBeCloseTo(0.7, 1);
    expect(answered(lagOf(hot, -1)).size).toBeCloseTo(1 / 3, 6);
  });
});

describe('a proof', () => {
  const scale = { quantity: 'temperature', lowest: 40, highest: 120 } as const;
  const pair = (value: number, rest: Partial<Pair> = {}): Pair => ({
    ...{ value, indicated: value, sharedUncertainty: 0.6, eachUncertainty: 0.3, readingUncertainty: 0.5 },
    ...{ leg: 'up', way: 'run', ...rest },
  });
  const whole = [
    pair(60, { second: 0 }),
    pair(85, { second: 60 }),
    pair(85, { second: 120, leg: 'down' }),
    pair(110, { second: 180, way: 'substituted' }),
  ];
  const judged = (pairs: readonly Pair[]) => answered(judgePairs(pairs, { scale, rule: 'guard' }));

  it('is whole with three places, the dangerous end by known ohms, one place both ways, at rest', () => {
    expect(judged(whole)).toMatchObject({ isProved: true, word: 'within', missing: [], from: 60, to: 110 });
  });

  it('is never whole by one pair, however good', () => {
    expect(judged([pair(85, { second: 0 })])).toMatchObject({
      isProved: false,
      word: 'within',
      missing: ['three-places', 'dangerous-end', 'both-ways'],
    });
  });

  it('wants a hot end that was substituted, not run', () => {
    expect(judged(whole.map((each) => ({ ...each, way: 'run' as const }))).missing).toEqual([
      'dangerous-end',
    ]);
  });

  it('wants half a minute between pairs, and to be told', () => {
    expect(judged(whole.map((each, index) => ({ ...each, second: index * 29 }))).missing).toEqual(['rest']);
    expect(judged(whole.map((each) => ({ ...each, second: undefined }))).missing).toEqual(['times']);
  });

  it('is outside by one pair, and cold is dangerous where it is hot', () => {
    const cold = judged(whole.map((each) => ({ ...each, indicated: each.value - 3 })));
    expect(cold.pairs.map(({ word }) => word)).toEqual(['within', 'within', 'within', 'outside']);
    expect(cold.word).toBe('outside');
  });

  it('is refused without pairs, without numbers and without an uncertainty', () => {
    const code = (pairs: readonly Pair[]) => refusalCode(judgePairs(pairs, { scale, rule: 'guard' }));
    expect(code([])).toBe('PROOF_NO_PAIRS');
    expect(code([pair(NaN)])).toBe('PROOF_PAIR');
    expect(code([pair(60, { indicated: Infinity })])).toBe('PROOF_PAIR');
    expect(code([pair(60, { sharedUncertainty: 0, eachUncertainty: 0 })])).toBe('PROOF_PAIR');
  });
});
