import { describe, expect, it } from 'vitest';
import { bankOf } from '../../../host/core/catalogue/bank';
import { ohmAxis } from '../../../host/core/catalogue/columns';
import { identifyModel } from '../../../host/core/catalogue/identify-model';
import { randomSource } from '../../../host/core/numeric/random';
import { answered, refusalCode } from '../../support/answer';
import {
  anyMaker,
  measured,
  readBy,
  specimenOf,
  threeOhms,
  worldOf,
} from '../../support/catalogue/gauge-world';
import { askMany, falseClearShare, firstShare, rightBetween } from '../../support/catalogue/questions';

const options = { unit: '%', nonePrior: 0.5, leastOhm: 2 };
const gauges = { kind: 'gauge' as const, axis: ohmAxis, usual: 0.02 };

describe('which model an unknown gauge is', () => {
  // Two thousand questions each, and a thousand models: npm run bench.
  it.each([
    [12, 150],
    [100, 100],
  ])('of %i models is right and says how sure it is, in %i questions', (models, questions) => {
    const { three, four } = askMany(models, questions, 20);
    expect(firstShare(four)).toBeGreaterThan(0.85);
    expect(falseClearShare(three)).toBeLessThanOrEqual(0.05);
    expect(falseClearShare(four)).toBeLessThanOrEqual(0.04);
    const { said, right } = rightBetween([...three, ...four], 0.75, 0.95);
    expect(said).toBeGreaterThan(30);
    expect(right).toBeGreaterThan(0.75);
  });

  it('is ranked as if every model were reckoned in full', () => {
    const random = randomSource(6);
    const { makers, candidates } = worldOf(400, random, 0.02);
    // What was left out early in the one order would be missing in the other.
    const banks = [candidates, [...candidates].reverse()].map((each) => bankOf(each, gauges));
    for (let question = 0; question < 60; question += 1) {
      const maker = makers[Math.floor(random.uniform() * makers.length)]!;
      const part = specimenOf(maker, random, 0.02);
      const points = threeOhms(maker, random).map((ohm) => readBy(part, ohm, random));
      const [there, back] = banks.map((bank) =>
        answered(identifyModel(points, bank, options)).ranking.map(({ ids, share }) => ({
          ids: [...ids].sort(),
          share: share.toFixed(9),
        })),
      );
      expect(there).toEqual(back);
    }
  });

  it('is told the model, not the specimen: forty like ones share no share', () => {
    const random = randomSource(3);
    const [maker, other] = [anyMaker(random), anyMaker(random)];
    const specimens = Array.from({ length: 40 }, () =>
      measured(specimenOf(maker, random, 0.02), maker, random),
    );
    const bank = bankOf(
      [
        { id: 'many', specimens },
        { id: 'one', specimens: [measured(specimenOf(other, random, 0.02), other, random)] },
      ],
      gauges,
    );
    const part = specimenOf(maker, random, 0.02);
    const points = threeOhms(maker, random).map((ohm) => readBy(part, ohm, random));
    const { ranking, noneShare } = answered(identifyModel(points, bank, options));
    expect(ranking[0]?.ids).toEqual(['many']);
    expect(ranking[0]?.share ?? 0).toBeGreaterThan(0.6);
    expect(ranking.reduce((sum, { share }) => sum + share, noneShare)).toBeCloseTo(1, 9);
  });

  it('takes two models that differ nowhere for one', () => {
    const random = randomSource(4);
    const maker = anyMaker(random);
    const bank = bankOf(
      ['first', 'second'].map((id) => ({
        id,
        specimens: [measured(specimenOf(maker, random, 0.005), maker, random)],
      })),
      gauges,
    );
    const part = specimenOf(maker, random, 0.005);
    const points = threeOhms(maker, random).map((ohm) => readBy(part, ohm, random));
    const { ranking } = answered(identifyModel(points, bank, options));
    expect(ranking).toHaveLength(1);
    expect([...(ranking[0]?.ids ?? [])].sort()).toEqual(['first', 'second']);
  });

  it('never advises less than the lowest resistance', () => {
    const random = randomSource(5);
    const makers = Array.from({ length: 6 }, () => anyMaker(random));
    const bank = bankOf(
      makers.map((maker, i) => ({
        id: String(i),
        specimens: [measured(specimenOf(maker, random, 0.02), maker, random)],
      })),
      gauges,
    );
    for (const maker of makers) {
      const [ohm = 30] = threeOhms(maker, random);
      const point = readBy(specimenOf(maker, random, 0.02), ohm, random);
      const { next } = answered(identifyModel([point], bank, { ...options, leastOhm: 25 }));
      expect(next === undefined || next.argument >= 24.9).toBe(true);
    }
  });

  it('refuses what is no reading, and an empty catalogue', () => {
    const bank = bankOf([], gauges);
    expect(refusalCode(identifyModel([], bank, options))).toBe('IDENTIFY_NO_POINTS');
    expect(refusalCode(identifyModel([{ resistanceOhm: 40, value: NaN }], bank, options))).toBe(
      'IDENTIFY_POINT',
    );
    expect(refusalCode(identifyModel([{ resistanceOhm: 40, value: 5 }], bank, options))).toBe(
      'IDENTIFY_NO_CURVES',
    );
  });
});
