import { describe, expect, it } from 'vitest';
import { fitCurve, type GaugeReading } from '../../host/core/curve';
import { curveOptionsOf } from '../../host/job/state/curve-options';
import { doubtfulSetting, type DoubtfulSetting } from '../../host/job/state/doubtful-setting';
import type { Gauge } from '../../host/job/schema/gauge';

/** Six printed marks, 0 to 100, evenly spaced. */
const MARKS = [0, 20, 40, 60, 80, 100].map((reading) => ({
  label: String(reading),
  reading,
  angleFraction: reading / 100,
}));
const gauge: Gauge = {
  quantity: 'other',
  mechanism: 'thermal',
  unit: '%',
  marks: MARKS,
  divisionReading: 2,
};

/**
 * The world is the heater's physics, theta = c / (Rg + r)^2 with Rg = 58 ohm (heat goes with the square of the current),
 * read to a whole unit by an eye that errs by up to one: common practice, no source.
 */
const OHMS = [500, 290, 170, 100, 60, 35, 20];
const heat = (ohm: number): number => 1 / (58 + ohm) ** 2;
const shows = (ohm: number): number => (100 * (heat(ohm) - heat(500))) / (heat(20) - heat(500));
const EYE = [0, 1, 0, -1, 0, 1, 0, 0, 1, 0, 1, -1, 0];
const swept = (slip: (index: number) => number = () => 0): GaugeReading[] => {
  const ups = OHMS.map((ohm) => ({ ohm, leg: 'up' as const }));
  const downs = [...OHMS].reverse().map((ohm) => ({ ohm, leg: 'down' as const }));
  return [...ups, ...downs].map(({ ohm, leg }, index) => ({
    resistanceOhm: ohm,
    leg,
    reading:
      Math.min(100, Math.max(0, Math.round(shows(ohm)) + (EYE[index % EYE.length] ?? 0))) + slip(index),
  }));
};
const doubtOf = (readings: readonly GaugeReading[]): DoubtfulSetting | undefined => {
  const curve = fitCurve(readings, curveOptionsOf(gauge));
  if (curve.kind !== 'curve') throw new Error(curve.code);
  return doubtfulSetting(curve, gauge.marks);
};

describe('one misread setting', () => {
  it.each([
    ['69 typed for 99 at one end', 7, -30, 20],
    ['6 written for 3 at the other', 0, 6, 500],
    ['8 too much in the middle', 3, 8, 100],
  ])('is named: %s', (_what, index, by, resistanceOhm) => {
    const doubt = doubtOf(swept((each) => (each === index ? by : 0)));
    expect(doubt?.resistanceOhm).toBe(resistanceOhm);
  });

  it('leaves a range that is good, and the mark beside it out of that range', () => {
    const { good } = doubtOf(swept((each) => (each === 0 ? 6 : 0))) ?? {};
    expect(good?.from).toBeGreaterThanOrEqual(20);
    expect(good?.to).toBeGreaterThanOrEqual(80);
    expect(good?.expandedUncertainty).toBeGreaterThan(0);
  });

  it('is not made of a needle that plays alike everywhere, nor of a good sweep', () => {
    expect(doubtOf(swept())).toBeUndefined();
    // 3 up, 3 down at every setting between the stops: that is play.
    const playing = swept((index) => (index < OHMS.length ? -3 : 3)).map((each) => ({
      ...each,
      reading: Math.min(100, Math.max(0, each.reading)),
    }));
    expect(doubtOf(playing)).toBeUndefined();
  });
});
