import { describe, expect, it } from 'vitest';
import { senderOhmAt } from '../../../host/core/sender';
import { answered } from '../../support/answer';
import { fitted } from './arbitraries';
import material from '../../vectors/thermistor-ntc-ratio-table.json';
import meyer from '../../vectors/nist-strd-mgh10.json';

/** The published curve of a thermistor material (Amphenol Thermometrics, type 1), four coefficients, good to 0.03 %. */
function ohmOf(celsius: number): number {
  const { A, B, C, D } = material.resistance_fit;
  const kelvin = celsius + 273.15;
  return 1000 * Math.exp(A + B / kelvin + C / kelvin ** 2 + D / kelvin ** 3);
}
const exactPoints = (celsius: readonly number[]) =>
  celsius.map((value) => ({ value, resistanceOhm: ohmOf(value), valueUncertainty: 1e-5 }));
const everywhere = Array.from({ length: 36 }, (_, i) => -40 + 5 * i);

describe('what a thermistor law leaves out', () => {
  it.each([
    ['steinhart-hart', [0, 50, 100]],
    ['steinhart-hart', [20, 60, 100]],
    ['steinhart-hart', [50, 85, 125]],
    ['steinhart-hart', [5, 25, 45]],
    ['exponential', [0, 50, 100]],
    ['exponential', [20, 60, 100]],
    ['beta', [20, 100]],
    ['beta', [40, 90]],
  ] as const)(
    'is covered for %s through exact points at %s degC, between and beyond them',
    (model, celsius) => {
      const sender = fitted(exactPoints(celsius), { unit: 'degC', model });
      let largestShare = 0;
      for (const value of everywhere) {
        if (value < sender.usableFrom || value > sender.usableTo) continue;
        const found = answered(senderOhmAt(sender, value));
        const error = Math.abs(found.resistanceOhm - ohmOf(value));
        // Twelve millikelvin are no error worth an interval: where the remainder crosses 0 it must not be divided by.
        if (error < 0.012 * Math.abs(ohmOf(value + 0.5) - ohmOf(value - 0.5))) continue;
        const share = error / found.expandedUncertaintyOhm;
        expect(share, `${value} degC`).toBeLessThan(1.15);
        largestShare = Math.max(largestShare, share);
      }
      // Not covered by being vague: somewhere a good part of the interval is needed.
      expect(largestShare).toBeGreaterThan(0.2);
    },
  );

  it('covers the difference between two laws that both fit NIST MGH10 where neither was measured', () => {
    const points = meyer.x.map((value, i) => ({ value, resistanceOhm: meyer.y[i]! }));
    const [one, other] = (['steinhart-hart', 'exponential'] as const).map((model) =>
      answered(senderOhmAt(fitted(points, { unit: 'degC', model }), 25)),
    );
    const gap = Math.abs(one!.resistanceOhm - other!.resistanceOhm);
    expect(gap).toBeGreaterThan(100);
    expect(gap).toBeLessThan(Math.hypot(one!.expandedUncertaintyOhm, other!.expandedUncertaintyOhm));
  });

  it('is nothing at the points themselves', () => {
    const sender = fitted(exactPoints([0, 50, 100]), { unit: 'degC', model: 'steinhart-hart' });
    const found = answered(senderOhmAt(sender, 100));
    expect(found.standardUncertaintyOhm / found.resistanceOhm).toBeLessThan(1e-6);
  });
});
