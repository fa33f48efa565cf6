import { describe, expect, it } from 'vitest';
import { fitCurve, marksOf, readingAt, type GaugeCurve } from '../../../host/core/curve';
import { dialFromMarks } from '../../../host/core/dial';

/** A stabilised bimetal: deflection as the heat in its winding, (Rg / (Rg + r)) squared. Source: Ohm's and Joule's laws. */
const WINDING_OHM = 58;
const arcAt = (ohm: number): number => 3 * (WINDING_OHM / (WINDING_OHM + ohm)) ** 2;

/** Invented: a scale that crowds at its cold end, as a bimetal's does. */
const MARKS = [
  { label: 'C', reading: 40, angleFraction: 0.03 },
  { label: '60', reading: 60, angleFraction: 0.2 },
  { label: '80', reading: 80, angleFraction: 0.42 },
  { label: '100', reading: 100, angleFraction: 0.7 },
  { label: 'H', reading: 120, angleFraction: 1 },
] as const;
const dial = dialFromMarks(MARKS);
if (dial.kind === 'refused') throw new Error(dial.code);

/** Between two marks the scale is read as it is printed: straight. */
const readingOf = (arc: number): number => {
  const above = Math.max(
    1,
    MARKS.findIndex((mark) => mark.angleFraction >= arc),
  );
  const [low, high] = [MARKS[above - 1]!, MARKS[above]!];
  const share = (arc - low.angleFraction) / (high.angleFraction - low.angleFraction);
  return low.reading + share * (high.reading - low.reading);
};

const HIGHEST_OHM = 455.5;
const curveOf = (ohms: readonly number[]): GaugeCurve => {
  const readings = ohms.flatMap((resistanceOhm) =>
    (['up', 'down'] as const).map((leg) => ({
      resistanceOhm,
      leg,
      reading: readingOf(arcAt(resistanceOhm)),
    })),
  );
  const curve = fitCurve(readings, {
    dial,
    mechanism: 'thermal',
    quantity: 'temperature',
    unit: 'degC',
    scale: { lowest: 40, highest: 120 },
    marks: MARKS.map((mark) => mark.reading),
  });
  if (curve.kind === 'refused') throw new Error(curve.code);
  return curve;
};

describe('what a mark rests on', () => {
  const curve = curveOf([HIGHEST_OHM, 300, 200, 130, 85, 55, 43.5]);
  const noteAt = (reading: number) => marksOf(curve, [reading])[0];

  it('is judged by ohms: near on a crowded end of the dial may be far beyond the highest resistance that was tried', () => {
    // By Joule's law the needle stands on C at Rg (sqrt(3 / 0.03) - 1) = 522 ohm; 455.5 ohm are 0.9 % of the arc from it.
    const trueOhm = WINDING_OHM * (Math.sqrt(3 / 0.03) - 1);
    expect(arcAt(HIGHEST_OHM) - 0.03).toBeLessThan(0.01);
    const mark = noteAt(40);
    expect(mark?.resistanceOhm).toBeGreaterThan(1.05 * HIGHEST_OHM);
    expect(Math.abs((mark?.resistanceOhm ?? NaN) / trueOhm - 1)).toBeLessThan(0.1);
    expect(mark?.note).toBe('beyond');
    expect(curve.warnings.map((warning) => warning.code)).toContain('CURVE_EXTRAPOLATED');
  });

  it('is measured where a reading was given at those ohms, and between where readings stand on both sides', () => {
    const placeOf = (ohm: number) => {
      const found = readingAt(curve, ohm);
      if (found.kind === 'refused') throw new Error(found.code);
      return found.note;
    };
    for (const ohm of [HIGHEST_OHM, 300, 200, 130, 85, 55, 43.5]) expect(placeOf(ohm)).toBe('measured');
    for (const ohm of [380, 250, 160, 105, 68, 48]) expect(placeOf(ohm)).toBe('between');
    for (const ohm of [HIGHEST_OHM * 1.05, 43.5 / 1.05]) expect(placeOf(ohm)).toBe('beyond');
  });
});
