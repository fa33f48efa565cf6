import { describe, expect, it } from 'vitest';
import { fitCurve, type GaugeCurve, type GaugeReading } from '../../host/core/curve';
import { isWhereItMatters } from '../../host/core/proof/limits';
import type { Gauge } from '../../host/job/schema/gauge';
import { curveOptionsOf } from '../../host/job/state/curve-options';
import { curveKnownWords } from '../../host/words/answer';
import { knownTo } from '../../host/words/curve-facts';
import { plain } from '../../host/words/notation';

const MARKS = [40, 60, 80, 100, 120].map((reading) => ({
  label: String(reading),
  reading,
  angleFraction: (reading - 40) / 80,
}));
const gaugeOf = (quantity: Gauge['quantity']): Gauge => ({
  quantity,
  mechanism: 'thermal',
  unit: 'degC',
  marks: MARKS,
  divisionReading: 2,
});

/** The heater's physics, theta = c / (Rg + r)^2 with Rg = 58 ohm: heat goes with the square of the current. */
const OHMS = [500, 330, 220, 150, 100, 60, 35, 20];
const heat = (ohm: number): number => 1 / (58 + ohm) ** 2;
const shows = (ohm: number): number => 40 + (80 * (heat(ohm) - heat(500))) / (heat(20) - heat(500));

/** `times`: how much worse the marks below 80 are known than they were found to be. */
const curveOf = (gauge: Gauge, times: number): GaugeCurve => {
  const readings: GaugeReading[] = OHMS.map((resistanceOhm, index) => ({
    resistanceOhm,
    reading: Math.round(shows(resistanceOhm)) + (index % 3 === 1 ? 0.4 : -0.2),
    leg: 'up',
  }));
  const curve = fitCurve(readings, curveOptionsOf(gauge));
  if (curve.kind !== 'curve') throw new Error(curve.code);
  const marks = curve.marks.map((mark) => ({
    ...mark,
    budget: mark.budget.map((line) => ({
      ...line,
      readingUncertainty: (mark.reading < 80 ? times : 1) * line.readingUncertainty,
    })),
  }));
  return { ...curve, marks };
};

describe('how well a curve is known', () => {
  it('is said of the half with the dangerous end, and the end known much worse beside it', () => {
    const gauge = gaugeOf('temperature');
    const known = knownTo(curveOf(gauge, 9), gauge);
    expect(known?.range?.from).toBe(80);
    expect(known?.range?.to).toBe(120);
    expect(known?.worst?.at).toBeLessThan(80);
    expect(known?.worst?.size).toBeGreaterThan(1.5 * (known?.size ?? NaN));
    expect(curveKnownWords({ known, flatSpots: 0 }, gauge.unit, plain)).toMatch(
      /^Curve known to \+?-?\S+ degC from 80 to 120 degC, \S+ degC at \d+ degC\. /,
    );
  });

  it('is one figure where no end is much worse, and the worst where neither end is dangerous', () => {
    const gauge = gaugeOf('temperature');
    const even = knownTo(curveOf(gauge, 1), gauge);
    expect(even?.range).toBeUndefined();
    expect(even?.size).toBeGreaterThan(0);
    const other = gaugeOf('other');
    const worst = knownTo(curveOf(other, 9), other);
    expect(worst?.range).toBeUndefined();
    expect(worst?.size).toBeCloseTo(knownTo(curveOf(gauge, 9), gauge)?.worst?.size ?? NaN, 6);
  });

  it.each([
    ['temperature', [false, true, true]],
    ['fuel', [true, true, false]],
    ['pressure', [true, true, false]],
    ['other', [true, true, true]],
  ] as const)('matters in a %s gauge at the low end, the middle, the high end: %j', (quantity, expected) => {
    const scale = { quantity, lowest: 0, highest: 4 };
    expect([0, 2, 4].map((value) => isWhereItMatters(scale, value))).toEqual(expected);
  });
});
