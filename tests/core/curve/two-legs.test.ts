import { describe, expect, it } from 'vitest';
import { fitCurve, marksOf, needleAt, readingAt } from '../../../host/core/curve';
import type { GaugeCurve, GaugeReading } from '../../../host/core/curve';
import { plain } from '../../../host/words/notation';
import { saidRemark } from '../../../host/words/remark';

/**
 * The world: a heated bimetal of 58 ohm, theta = c / (Rg + R)^2 (Ohm's and Joule's laws), read by an eye that rounds to
 * half units and lags by 0.4 (common practice, no source). Nothing of it comes from the fit.
 */
const OHMS = [500, 290, 170, 100, 60, 35, 20];
const heat = (ohm: number): number => 1 / (58 + ohm) ** 2;
const truth = (ohm: number): number => (100 * (heat(ohm) - heat(500))) / (heat(20) - heat(500));
const look = (value: number): number => Math.round(2 * value) / 2;
const LAG = 0.4;
type World = { readonly shift?: (index: number, leg: 'up' | 'down') => number };
const swept = ({ shift = () => 0 }: World = {}): GaugeReading[] =>
  [
    ...OHMS.map((ohm) => [ohm, 'up'] as const),
    ...[...OHMS].reverse().map((ohm) => [ohm, 'down'] as const),
  ].map(([resistanceOhm, leg], index) => ({
    resistanceOhm,
    leg,
    reading: look(truth(resistanceOhm) + (leg === 'up' ? -LAG : LAG) + shift(index, leg)),
  }));
const curveOf = (readings: readonly GaugeReading[]): GaugeCurve => {
  const curve = fitCurve(readings);
  if (curve.kind === 'refused') throw new Error(curve.code);
  return curve;
};
const rms = (curve: GaugeCurve): number => {
  const ohms = Array.from({ length: 31 }, (_, k) => 20 * 25 ** (k / 30));
  return Math.hypot(...ohms.map((ohm) => needleAt(curve, ohm) - truth(ohm))) / Math.sqrt(ohms.length);
};
const clean = curveOf(swept());

describe('one slip in a sweep of two legs', () => {
  it('is none where there was none', () => {
    expect(clean.legs).toMatchObject({ pattern: 'alike', again: [], pairs: 7 });
  });

  const planted = Array.from({ length: 14 }, (_, place) => [-20, 8].map((by) => [place, by] as const));
  it.each(planted.flat())('at place %d by %d is named, and moves the curve next to nothing', (place, by) => {
    const curve = curveOf(swept({ shift: (index) => (index === place ? by : 0) }));
    const wrong = swept()[place]!.resistanceOhm;
    expect(curve.legs.again.map((one) => one.resistanceOhm)).toEqual([wrong]);
    const here = curve.points.filter((point) => point.resistanceOhm === wrong);
    expect(here.filter((point) => point.weight > 0.5)).toHaveLength(1);
    expect(rms(curve)).toBeLessThan(1.5 * Math.max(rms(clean), 0.3));
  });

  // 69 typed for 99 at one end: mark 0 once became 500.7 ohm give or take 731.
  it('leaves the marks where they were', () => {
    const readings = swept({ shift: (index) => (index === 7 ? -30 : 0) });
    const [mark] = marksOf(curveOf(readings), [1]);
    const [honest] = marksOf(clean, [1]);
    expect(mark!.resistanceOhm / honest!.resistanceOhm).toBeCloseTo(1, 1);
    expect(mark!.expandedUncertaintyOhm).toBeLessThan(2 * honest!.expandedUncertaintyOhm);
  });

  it('asks for the reading in words, and says between which readings the curve is good', () => {
    const curve = curveOf(swept({ shift: (index) => (index === 7 ? -30 : 0) }));
    expect(curve.warnings.map((one) => saidRemark(one, plain)).join(' ')).toContain('Read 20 ohm again.');
    expect(curve.legs.good).toEqual({ fromReading: -0.5, toReading: 70 });
    expect(curve.hysteresis.kind === 'measured' && curve.hysteresis.percentOfSpan).toBeLessThan(3);
  });
});

describe('a sticky needle', () => {
  // Legs 5 to 25 % of the span apart, as friction makes them: the same everywhere.
  it.each([10, 16, 25])(
    'of %d between its legs has a curve of their middle, and an interval that holds both',
    (apart) => {
      const sticky = (_: number, leg: 'up' | 'down'): number => (leg === 'up' ? -apart / 2 : apart / 2);
      const curve = curveOf(swept({ shift: sticky }));
      expect(curve.legs).toMatchObject({ pattern: 'sticky', again: [] });
      expect(curve.legs.difference).toBeCloseTo(apart + 2 * LAG, 0);
      for (const ohm of [40, 80, 240]) {
        const found = readingAt(curve, ohm);
        if (found.kind === 'refused') throw new Error(found.code);
        expect(Math.abs(found.reading - truth(ohm))).toBeLessThan(1);
        expect(found.expandedUncertainty).toBeGreaterThan(apart / 2);
        expect(found.expandedUncertainty).toBeLessThan(apart);
      }
      expect(curve.warnings.map(({ code }) => code)).toContain('CURVE_STICKY');
    },
  );

  it('is not refused for neither rising nor falling, also where the legs visited other settings', () => {
    const sticky = swept({ shift: (_, leg) => (leg === 'up' ? -15 : 15) });
    expect(fitCurve(sticky).kind).toBe('curve');
    const apart = sticky.map((one) => ({
      ...one,
      resistanceOhm: one.leg === 'down' ? one.resistanceOhm * 1.05 : one.resistanceOhm,
    }));
    expect(fitCurve(apart).kind).toBe('curve');
  });

  it('with a slip in it is still a sticky needle with one setting to read again', () => {
    const curve = curveOf(swept({ shift: (i, leg) => (leg === 'up' ? -8 : 8) + (i === 3 ? 30 : 0) }));
    expect(curve.legs.pattern).toBe('sticky');
    expect(curve.legs.again.map((one) => one.resistanceOhm)).toEqual([100]);
  });
});

describe('a gauge that was still warming', () => {
  it('is told from one that sticks: what follows at once agrees, what follows later does not', () => {
    const curve = curveOf(swept({ shift: (index) => 0.7 * index }));
    expect(curve.legs.pattern).toBe('warming');
    expect(curve.warnings.map(({ code }) => code)).toContain('CURVE_WARMING');
    for (const ohm of OHMS) {
      const found = readingAt(curve, ohm);
      if (found.kind === 'refused') throw new Error(found.code);
      expect(found.expandedUncertainty).toBeGreaterThan(0.7 * 6.5);
    }
  });
});
