import { describe, expect, it } from 'vitest';
import { neighbourOhms, type BesideNeighbours } from '../../../host/core/cluster';
import { fitCurve, marksOf, type GaugeReading } from '../../../host/core/curve';
import { dialFromMarks } from '../../../host/core/dial';
import { BOX_OHMS } from '../../../host/core/ohmmeter';
import { randomSource } from '../../../host/core/numeric/random';
import { isDeep, someOf } from '../../support/deep';

const VOLT = 10;
const HEATER_OHM = 58;
const [MOST_OHM, LEAST_OHM] = [240, 20];
const REST_OHM = Math.sqrt(MOST_OHM * LEAST_OHM);
const SETTINGS = 12;
/** An eye at a dial without fine divisions, part of the arc. Common practice, no source. */
const EYE_PART = 0.01;
const MARKS = [10, 30, 50, 70, 90];
const marks = [0, 25, 50, 75, 100].map((reading) => ({
  label: `${reading}`,
  reading,
  angleFraction: reading / 100,
}));

/** Currents of gauges side by side behind what they have in common, A. Source: Kirchhoff. */
const currentsOf = (ohms: readonly number[], commonOhm: number): readonly number[] => {
  const siemens = ohms.reduce((sum, ohm) => sum + 1 / (HEATER_OHM + ohm), 0);
  const bus = VOLT / (1 + commonOhm * siemens);
  return ohms.map((ohm) => bus / (HEATER_OHM + ohm));
};

/** A bimetal bends with the heat, I squared; printed so that the ends are right with nothing in common. */
const readingOf = (amp: number): number => {
  const [low = 0, high = 0] = [MOST_OHM, LEAST_OHM].map((ohm) => (VOLT / (HEATER_OHM + ohm)) ** 2);
  return (100 * (amp ** 2 - low)) / (high - low);
};

/** The ohms of a mark with the neighbours at rest, by halving. */
const trueOhm = (reading: number, commonOhm: number): number => {
  let [below, above] = [1, 2_000];
  for (let count = 0; count < 60; count += 1) {
    const middle = (below + above) / 2;
    const [amp = 0] = currentsOf([middle, REST_OHM, REST_OHM, REST_OHM], commonOhm);
    if (readingOf(amp) > reading) below = middle;
    else above = middle;
  }
  return (below + above) / 2;
};

type Read = GaugeReading & BesideNeighbours;

/** All four go along their arcs together, none quite as far as the others; the first is read. */
const sweepOf = (commonOhm: number, seed: number, tested?: number): Read[] => {
  const random = randomSource(seed);
  const settingAt = (at: number): number =>
    MOST_OHM * (LEAST_OHM / MOST_OHM) ** (Math.min(SETTINGS - 1, Math.max(0, at)) / (SETTINGS - 1));
  return (['up', 'down'] as const).flatMap((leg) =>
    Array.from({ length: SETTINGS }, (_, step) => {
      const at = leg === 'up' ? step : SETTINGS - 1 - step;
      const ohms = [
        settingAt(at),
        ...[1, 2, 3].map(() => settingAt(at + Math.round(4 * random.uniform() - 2))),
      ];
      const [own = 0, ...others] = currentsOf(ohms, commonOhm);
      return {
        resistanceOhm: ohms[0]!,
        reading: readingOf(own) + 100 * EYE_PART * random.normal(),
        leg,
        currentMilliamp: 1_000 * own,
        neighbours: others.map((amp, index) => ({
          resistanceOhm: ohms[index + 1]!,
          milliamp: 1_000 * amp,
          ...(tested === undefined ? {} : { commonOhm: tested }),
        })),
      };
    }),
  );
};

const options = () => {
  const dial = dialFromMarks(marks);
  if ('code' in dial) throw new Error(dial.code);
  return { dial, mechanism: 'thermal', scale: { lowest: 0, highest: 100 } } as const;
};

const WORLDS = isDeep ? 40 : 6;

/** How many of the intervals hold the true ohms, and how wide they are in the middle, ohm. */
const tried = (commonOhm: number, how: { readonly tested?: number; readonly isForgotten?: boolean }) => {
  let [held, wide] = [0, 0];
  for (let seed = 1; seed <= WORLDS; seed += 1) {
    const readings = sweepOf(commonOhm, seed, how.tested);
    const beside = how.isForgotten === true ? undefined : neighbourOhms('thermal', readings);
    const { relative, absoluteOhm } = beside ?? { relative: 0, absoluteOhm: 0 };
    const curve = fitCurve(readings, {
      ...options(),
      resistanceUncertainty: {
        relative: Math.hypot(BOX_OHMS.relative, relative),
        absoluteOhm: Math.hypot(BOX_OHMS.absoluteOhm, absoluteOhm),
      },
    });
    if (curve.kind === 'refused') throw new Error(curve.code);
    for (const { reading, resistanceOhm, expandedUncertaintyOhm } of marksOf(curve, MARKS)) {
      if (Math.abs(resistanceOhm - trueOhm(reading, commonOhm)) <= expandedUncertaintyOhm) held += 1;
      if (reading === 50) wide += expandedUncertaintyOhm / WORLDS;
    }
  }
  return { part: held / (WORLDS * MARKS.length), wide };
};

describe('a gauge that was read while its neighbours moved', () => {
  it.each(someOf([0, 0.25, 0.5, 1], 2))(
    'tells its ohms no better than they are known, with %s ohm in common: tested or not',
    (commonOhm) => {
      const untested = tried(commonOhm, {});
      const tested = tried(commonOhm, { tested: commonOhm + 0.02 });
      expect(untested.part).toBeGreaterThan(0.93);
      expect(tested.part).toBeGreaterThan(0.93);
      // What a test is worth.
      if (commonOhm < 0.5) expect(tested.wide).toBeLessThan(0.6 * untested.wide);
    },
  );

  it('would not, were they forgotten: this world does disturb its gauges', () => {
    expect(tried(1, { isForgotten: true }).part).toBeLessThan(0.8);
  });

  it('leaves nothing unknown where they stood still, or where a ratio is shown', () => {
    const readings = sweepOf(1, 1);
    const [first] = readings;
    const still = readings.map((each) => ({ ...each, neighbours: first!.neighbours }));
    expect(neighbourOhms('thermal', still)).toBeUndefined();
    expect(neighbourOhms('two-coil', readings)).toBeUndefined();
    expect(neighbourOhms('unknown', readings)).toEqual(neighbourOhms('thermal', readings));
  });

  it('is reckoned with a gauge like itself where a neighbour’s current is not known', () => {
    const readings = sweepOf(0, 1);
    const known = neighbourOhms('thermal', readings);
    const unknown = neighbourOhms(
      'thermal',
      readings.map((each) => ({
        ...each,
        neighbours: each.neighbours?.map(({ resistanceOhm }) => ({ resistanceOhm })),
      })),
    );
    expect(unknown?.absoluteOhm).toBeCloseTo(known?.absoluteOhm ?? NaN, 6);
  });
});
