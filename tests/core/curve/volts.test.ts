import { describe, expect, it } from 'vitest';
import { fitCurve, gaugeResponse, needleAt } from '../../../host/core/curve';
import type { GaugeCurve, GaugeReading } from '../../../host/core/curve';

/**
 * The world: Ohm's and Joule's laws. A heated bimetal of 58 ohm whose needle stands at 5 without current, and a moving
 * coil of 70 ohm that stands at -4; read to half units at 12 V on the way up and 14 V on the way down.
 */
const heat = (ohm: number, volt: number): number => 5 + 3500 * (volt / (58 + ohm)) ** 2;
const current = (ohm: number, volt: number): number => -4 + 600 * (volt / (70 + ohm));
const OHMS = [300, 200, 130, 80, 50, 30];
const swept = (
  law: (ohm: number, volt: number) => number,
  volts: readonly [number, number],
): GaugeReading[] =>
  [...OHMS.map((ohm) => [ohm, 0] as const), ...[...OHMS].reverse().map((ohm) => [ohm, 1] as const)].map(
    ([resistanceOhm, leg]) => ({
      resistanceOhm,
      leg: leg === 0 ? 'up' : 'down',
      supplyVolt: volts[leg],
      reading: Math.round(2 * law(resistanceOhm, volts[leg])) / 2,
    }),
  );
const curveOf = (readings: readonly GaugeReading[], supplyVolt?: number): GaugeCurve => {
  const curve = fitCurve(readings, supplyVolt === undefined ? {} : { supplyVolt });
  if (curve.kind === 'refused') throw new Error(curve.code);
  return curve;
};
const rmsPart = (curve: GaugeCurve, truth: (ohm: number) => number): number => {
  const ohms = Array.from({ length: 21 }, (_, k) => 30 * 10 ** (k / 20));
  const size = Math.hypot(...ohms.map((ohm) => needleAt(curve, ohm) - truth(ohm))) / Math.sqrt(ohms.length);
  return size / Math.abs(truth(30) - truth(300));
};

describe('noted volts', () => {
  it.each([
    ['heat', heat, 2, 5],
    ['current', current, 1, -4],
  ] as const)(
    'of two legs at 12 and 14 V are told as %s, and are no hysteresis',
    (_name, law, exponent, rest) => {
      const curve = curveOf(swept(law, [12, 14]), 13);
      expect(curve.supply).toMatchObject({ referenceVolt: 13, exponent });
      expect(Math.abs((curve.supply?.noCurrentReading ?? NaN) - rest)).toBeLessThan(4);
      expect(curve.supply?.step).toEqual({ upVolt: 12, downVolt: 14 });
      // A lag cannot be told from the volts here: none is claimed.
      expect(curve.hysteresis.kind).toBe('unknown');
      expect(curve.legs.pattern).toBe('not compared');
      expect(curve.warnings.map(({ code }) => code)).toContain('CURVE_SUPPLY_STEP');
      // The same readings taken at one voltage, by the same eye: what is lost to the volts is little.
      const steady = curveOf(swept(law, [13, 13]), 13);
      const truth = (ohm: number): number => law(ohm, 13);
      expect(rmsPart(curve, truth)).toBeLessThan(Math.max(1.3 * rmsPart(steady, truth), 0.004));
      const change = curve.supply?.change12To14.find(({ reading }) => reading > 60);
      const ratio = (14 / 13) ** exponent - (12 / 13) ** exponent;
      const expected = ((change?.reading ?? NaN) - rest) * ratio;
      expect(Math.abs((change?.change ?? NaN) - expected)).toBeLessThan(1.5);
    },
  );

  it('that the needle does not follow leave the curve alone', () => {
    const angle = (ohm: number): number => 150 * Math.atan2(ohm, ohm + 90);
    const curve = curveOf(swept(angle, [12, 14]));
    expect(curve.supply?.exponent).toBe(0);
    expect(curve.supply?.noCurrentReading).toBeUndefined();
  });

  it('shown with each reading as it was read, its residual at its own volts', () => {
    const readings = swept(heat, [12, 14]);
    const curve = curveOf(readings, 13);
    curve.points.forEach((point, i) => {
      expect(point.reading).toBe(readings[i]!.reading);
      expect(Math.abs(point.fitted - heat(point.resistanceOhm, point.supplyVolt!))).toBeLessThan(1.2);
    });
  });

  it('at one voltage, or not noted, say nothing of an exponent', () => {
    expect(curveOf(swept(heat, [13, 13])).supply).toBeUndefined();
    const unsaid = swept(heat, [13, 13]).map((one) => ({ ...one, supplyVolt: undefined }));
    expect(curveOf(unsaid).supply).toBeUndefined();
  });
});

describe('the needle at another feed', () => {
  // Heat in a bimetal goes with the square of the volts, current in a moving coil with the volts: Joule and Ohm.
  it.each([
    ['thermal', heat],
    ['moving-coil', current],
  ] as const)('of a %s gauge is foretold from a sweep at one voltage', (mechanism, law) => {
    const readings = swept(law, [12, 12]).map(({ supplyVolt: _, ...one }) => one);
    const curve = fitCurve(readings, { mechanism });
    if (curve.kind === 'refused') throw new Error(curve.code);
    const { readingAtFeed, reading } = gaugeResponse(curve);
    const span = law(30, 12) - law(300, 12);
    for (const ohm of [60, 120, 250]) {
      expect(readingAtFeed!(ohm, 1)).toBeCloseTo(reading(ohm), 9);
      expect(Math.abs(readingAtFeed!(ohm, 0.9) - law(ohm, 0.9 * 12)) / span).toBeLessThan(0.04);
    }
  });

  it('is not told for a gauge that does not follow its feed', () => {
    const curve = fitCurve(
      swept(heat, [12, 12]).map(({ supplyVolt: _, ...one }) => one),
      { mechanism: 'two-coil' },
    );
    expect(curve.kind === 'curve' && gaugeResponse(curve).readingAtFeed).toBeUndefined();
  });
});
