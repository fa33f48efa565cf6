import { describe, expect, it } from 'vitest';

import { fitCurve, marksOf, needleAt, ohmAt, readingAt } from '../../../host/core/curve';
import type { CurveOptions, GaugeCurve, GaugeReading, Mechanism } from '../../../host/core/curve';
import { dialFromMarks, person, readingForAngle } from '../../../host/core/dial';

function fitted(readings: readonly GaugeReading[], options: CurveOptions): GaugeCurve {
  const curve = fitCurve(readings, options);
  if (curve.kind === 'refused') throw new Error(curve.code);
  return curve;
}

function predictionAt(curve: GaugeCurve, ohm: number) {
  const answer = readingAt(curve, ohm);
  if (answer.kind === 'refused') throw new Error(answer.code);
  return answer;
}

describe('a curve fitted on the arc of its dial', () => {
  // A dial as a moving coil has it: the scale is five times as wide at one end as at the other.
  const dial = dialFromMarks([
    { label: '0', reading: 0, angleFraction: 0 },
    { label: '1', reading: 100, angleFraction: 0.34 },
    { label: '2', reading: 200, angleFraction: 0.56 },
    { label: '4', reading: 400, angleFraction: 0.83 },
    { label: '6', reading: 600, angleFraction: 1 },
  ]);
  if ('code' in dial) throw new Error(dial.code);
  const arcAt = (ohm: number): number => 1.7 - (1.75 * ohm) / (ohm + 60);
  const ohms = [25, 35, 48, 66, 90, 120, 150];
  const readings = ohms.flatMap((resistanceOhm) =>
    (['up', 'down'] as const).map((leg) => ({
      resistanceOhm,
      leg,
      reading: readingForAngle(dial, arcAt(resistanceOhm)),
    })),
  );
  const curve = fitted(readings, { dial, readingStep: 1 });

  it('is the law of the mechanism, whatever is printed under the needle', () => {
    expect(curve.law.name).toBe('ratio');
    for (let ohm = 25; ohm < 150; ohm += 5)
      expect(needleAt(curve, ohm)).toBeCloseTo(readingForAngle(dial, arcAt(ohm)), 4);
  });

  it('answers in dial units: points, marks, and the way back', () => {
    curve.points.forEach((point, i) => {
      expect(point.reading).toBe(readings[i]!.reading);
      expect(Math.abs(point.residual)).toBeLessThan(1e-4);
    });
    const [mark] = marksOf(curve, [200]);
    expect(arcAt(mark!.resistanceOhm)).toBeCloseTo(0.56, 6);
    const back = ohmAt(curve, 200);
    expect(back.kind === 'one' && back.resistanceOhm).toBeCloseTo(mark!.resistanceOhm, 6);
  });

  it('states more where the scale is crowded than where it is wide', () => {
    const stated = [500, 170].map((reading) => {
      const at = ohmAt(curve, reading);
      const predicted = at.kind === 'one' ? readingAt(curve, at.resistanceOhm) : undefined;
      if (predicted?.kind !== 'prediction') throw new Error('not reached');
      return predicted.expandedUncertainty;
    });
    expect(stated[0]! / stated[1]!).toBeGreaterThan(1.5);
  });

  it('never states less than the parallax of a person, however often the readings are repeated', () => {
    const often = fitted([...readings, ...readings, ...readings, ...readings], { dial, readingStep: 0 });
    const { expandedUncertainty } = predictionAt(often, 66);
    const slope = readingForAngle(dial, arcAt(66) + 0.001) - readingForAngle(dial, arcAt(66) - 0.001);
    expect(expandedUncertainty).toBeGreaterThan(1.9 * person.parallaxPart * (slope / 0.002));
  });

  it('survives JSON', () => {
    const copy: unknown = JSON.parse(JSON.stringify(curve));
    expect(copy).toEqual(JSON.parse(JSON.stringify(curve)));
    expect(curve.model.dial?.marks).toHaveLength(5);
  });
});

describe('between the settings of a needle that a program moves', () => {
  const resting = (ohm: number): number => {
    const along = Math.log(ohm / 20);
    return along < 1 ? 40 * along : along < 1.8 ? 40 : 40 + 40 * (along - 1.8);
  };
  const readings = [20, 40, 60, 110, 200, 400].flatMap((resistanceOhm) =>
    (['up', 'down'] as const).map((leg) => ({
      resistanceOhm,
      leg,
      reading: Math.round(resting(resistanceOhm)),
    })),
  );

  it('the interval holds a rest that no setting showed', () => {
    const curve = fitted(readings, { mechanism: 'electronic' });
    for (let ohm = 21; ohm < 400; ohm *= 1.03) {
      const { reading, expandedUncertainty } = predictionAt(curve, ohm);
      expect(Math.abs(reading - resting(ohm)), `${ohm} ohm`).toBeLessThan(expandedUncertainty);
    }
  });

  it('a mechanism that somebody named is taken at its law, until the readings contradict every law', () => {
    const isBetween = (one: readonly GaugeReading[], mechanism: Mechanism): boolean =>
      predictionAt(fitted(one, { mechanism }), 150).budget.some(
        ({ source }) => source === 'between settings',
      );
    const smooth = readings.map((one) => ({
      ...one,
      reading: Math.round(100 * (one.resistanceOhm / (one.resistanceOhm + 130))),
    }));
    expect(isBetween(smooth, 'moving-coil')).toBe(false);
    expect(isBetween(smooth, 'electronic')).toBe(true);
    expect(isBetween(readings, 'moving-coil')).toBe(true);
  });

  it('says so when the mechanism is not known and the settings are few', () => {
    const codes = (options: CurveOptions) => fitted(readings, options).warnings.map(({ code }) => code);
    expect(codes({})).toContain('CURVE_REST_UNSEEN');
    expect(codes({ mechanism: 'electronic' })).not.toContain('CURVE_REST_UNSEEN');
  });
});
