import { describe, expect, it } from 'vitest';
import { gaugeColumns, ohmAxis, type Columns } from '../../../host/core/catalogue/columns';
import { curvesApart } from '../../../host/core/catalogue/two-curves';
import { randomSource, type RandomSource } from '../../../host/core/numeric/random';
import { answered } from '../../support/answer';
import { isDeep } from '../../support/deep';
import { anyMaker, specimenOf, type Maker, type Part } from '../../support/catalogue/gauge-world';

/** What a person does to a whole sweep, and to each look; what a hand-held meter does to all ohms, and to each. */
const PARALLAX_PART = 0.002;
const LOOK_PART = 0.003;
const METER_SHARE = 0.002;
const OHM_SHARE = 0.001;

const READINGS = 9;

/** A gauge on a bench, read once up its scale; `change`: what became of the needle since. */
function swept(part: Part, maker: Maker, random: RandomSource, change = (place: number) => place): Columns {
  const [low, high] = [Math.min(maker.lowOhm, maker.highOhm), Math.max(maker.lowOhm, maker.highOhm)];
  const [parallax, meter] = [PARALLAX_PART * random.normal(), METER_SHARE * random.normal()];
  const readings = Array.from({ length: READINGS }, (_, i) => {
    const ohm = low + ((high - low) * (i + 0.1)) / (READINGS - 0.8);
    const place = change(part.placeAt(ohm)) + parallax + LOOK_PART * random.normal();
    return {
      resistanceOhm: ohm * (1 + meter + OHM_SHARE * random.normal()),
      reading: 100 * place,
    };
  });
  const marks = [0, 50, 100].map((reading) => ({
    label: `${reading}`,
    reading,
    angleFraction: reading / 100,
  }));
  return answered(
    gaugeColumns({
      ...{ quantity: 'fuel', unit: '%', marks, readings },
      ohmsShared: { relative: METER_SHARE, absoluteOhm: 0 },
    }),
  );
}

const task = { kind: 'gauge', axis: ohmAxis, unit: '%' } as const;

describe('two curves of one part', () => {
  it('agree where nothing happened to it between them', { timeout: 600_000 }, () => {
    const random = randomSource(2_601);
    const pairs = isDeep ? 150 : 12;
    let alarms = 0;
    for (let pair = 0; pair < pairs; pair += 1) {
      const maker = anyMaker(random);
      const part = specimenOf(maker, random, 0.02);
      if (curvesApart(swept(part, maker, random), swept(part, maker, random), task) !== undefined)
        alarms += 1;
    }
    expect(alarms).toBeLessThanOrEqual(0.04 * pairs);
  });

  it('disagree where the spring has gone weak, by as much as it has', { timeout: 600_000 }, () => {
    const random = randomSource(2_602);
    const pairs = isDeep ? 60 : 5;
    let found = 0;
    for (let pair = 0; pair < pairs; pair += 1) {
      const maker = anyMaker(random);
      const part = specimenOf(maker, random, 0.02);
      const weak = (place: number): number => place * 1.06;
      const apart = curvesApart(swept(part, maker, random), swept(part, maker, random, weak), task);
      if (apart === undefined) continue;
      found += 1;
      const truth = 100 * 0.06 * part.placeAt(apart.argument);
      expect(Math.abs(apart.other - apart.one - truth)).toBeLessThan(apart.explained);
      expect(Math.abs(apart.other - apart.one)).toBeGreaterThan(apart.explained);
    }
    expect(found).toBeGreaterThanOrEqual(0.9 * pairs);
  });
});
