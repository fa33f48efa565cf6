import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitSender, senderOhmAt, senderResponse, senderValueAt } from '../../../host/core/sender';
import { quantityOfUnit, unitChange } from '../../../host/core/units';
import { answered, refusalCode } from '../../support/answer';
import { fitted, pointsFrom } from './arbitraries';

describe('level and pressure senders', () => {
  it('take a straight line through two points: 10 to 180 ohm over 0 to 5 bar (common practice, no source)', () => {
    const sender = fitted(pointsFrom([0, 5], [10, 180]), { unit: 'bar' });
    expect(sender).toMatchObject({
      model: 'linear',
      quantity: 'pressure',
      risesWithValue: true,
      beta2585Kelvin: null,
    });
    expect(answered(senderOhmAt(sender, 2.5)).resistanceOhm).toBeCloseTo(95, 10);
    expect(answered(senderValueAt(sender, 95)).value).toBeCloseTo(2.5, 10);
  });

  it('refuse the published arithmetic that 75 ohm on a 240-33 gauge is 64 %: a straight sender says 79.7 %', () => {
    // A published error, kept as a negative test: (207 - 75) / 207 = 64 % forgets that the scale ends at 33 ohm.
    const sender = fitted(pointsFrom([0, 100], [240, 33]), { unit: '%' });
    const percent = answered(senderValueAt(sender, 75)).value;
    expect(percent).toBeCloseTo(79.7, 1);
    expect(Math.abs(percent - 64)).toBeGreaterThan(15);
  });

  it('question no point of nominal ohms, written to four figures or whole', () => {
    // 240-33 over 0 to 100 %, common practice, no source: a straight line to the last digit.
    for (const ohms of [
      [240, 188.25, 136.5, 84.75, 33],
      [240, 188.3, 136.5, 84.75, 33],
    ]) {
      const sender = fitted(pointsFrom([0, 25, 50, 75, 100], ohms), { unit: '%' });
      expect(sender.warnings.map(({ code }) => code)).not.toContain('SENDER_POINT_QUESTIONED');
    }
  });

  it('keep a line when the points lie on one, and bend to them when they do not', () => {
    expect(fitted(pointsFrom([0, 25, 50, 75, 100], [10, 42.6, 95.3, 137, 180]), { unit: '%' }).model).toBe(
      'table',
    );
    expect(fitted(pointsFrom([0, 25, 50, 75, 100], [10, 52.6, 95.3, 137, 180]), { unit: '%' }).model).toBe(
      'linear',
    );
    const curved = fitted(pointsFrom([0, 25, 50, 75, 100], [240, 190, 103, 60, 33]), { unit: '%' });
    expect(curved.model).toBe('table');
    expect(curved.reason).toMatchObject({ why: 'fits', rejected: [{ model: 'linear' }] });
  });

  it('fit a quadratic exactly through three points, a cubic through four', () => {
    const cubic = (v: number): number => 5 + 2 * v + 0.03 * v ** 2 + 1e-4 * v ** 3;
    const values = [0, 30, 60, 100];
    const sender = fitted(pointsFrom(values, values.map(cubic)), {
      unit: '%',
      model: 'polynomial',
      degree: 3,
    });
    [5, 2, 0.03, 1e-4].forEach((c, i) => expect(sender.coefficients[i]!.value / c).toBeCloseTo(1, 6));
  });

  it('refuse a polynomial that turns back between its points', () => {
    const points = pointsFrom([0, 50, 100], [10, 100, 60]);
    expect(refusalCode(fitSender(points, { unit: '%', model: 'polynomial' }))).toBe('SENDER_NOT_MONOTONE');
    expect(refusalCode(fitSender(points, { unit: '%', model: 'polynomial', degree: 7 }))).toBe(
      'SENDER_MODEL',
    );
  });

  it('refuse a line that goes below 0 ohm between its points', () => {
    const points = pointsFrom([0, 50, 100], [90, 20, 0]);
    expect(refusalCode(fitSender(points, { unit: '%', model: 'linear' }))).toBe('SENDER_NEGATIVE');
  });

  it('allow 0 ohm at an end', () => {
    const sender = fitted(pointsFrom([0, 100], [0, 90]), { unit: '%' });
    expect(answered(senderValueAt(sender, 0)).value).toBeCloseTo(0, 9);
    expect(answered(senderResponse(sender)).relativeUncertainty(0)).toBe(1);
  });

  it('weigh errors of both axes: an uncertain value counts through the slope', () => {
    const exact = { valueUncertainty: 0.01, resistanceUncertaintyOhm: 0.1 };
    const points = [
      { value: 0, resistanceOhm: 0, ...exact },
      { value: 50, resistanceOhm: 55, valueUncertainty: 10, resistanceUncertaintyOhm: 0.1 },
      { value: 100, resistanceOhm: 100, ...exact },
    ];
    const sender = fitted(points, { unit: '%', model: 'linear' });
    expect(answered(senderOhmAt(sender, 50)).resistanceOhm).toBeCloseTo(50, 2);
  });
});

describe('units', () => {
  it('turn into each other and back', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(['psi', 'kPa'], ['bar', 'kPa'], ['psi', 'bar'], ['degF', 'degC']),
        fc.double({ min: -100, max: 1000, noNaN: true }),
        ([from, to], value) => {
          const there = answered(unitChange(from, to));
          const back = answered(unitChange(to, from));
          const turned = back.factor * (there.factor * value + there.offset) + back.offset;
          expect(Math.abs(turned - value)).toBeLessThan(1e-9);
        },
      ),
    );
  });

  it('have the factors of NIST SP 811, Appendix B', () => {
    expect(answered(unitChange('psi', 'kPa')).factor).toBeCloseTo(6.894757, 6);
    expect(answered(unitChange('bar', 'kPa')).factor).toBe(100);
    expect(answered(unitChange('degF', 'degC'))).toMatchObject({ factor: 5 / 9, offset: -160 / 9 });
  });

  it('are refused across quantities and for words nobody knows', () => {
    expect(refusalCode(unitChange('degC', 'bar'))).toBe('SENDER_UNIT');
    expect(refusalCode(unitChange('fathom', 'bar'))).toBe('SENDER_UNIT');
    expect(answered(unitChange('fathom', 'fathom')).factor).toBe(1);
    expect(quantityOfUnit('fathom')).toBe('other');
  });

  it('let a response speak another unit than the sender', () => {
    const sender = fitted(pointsFrom([0, 100], [10, 180]), { unit: 'psi' });
    const response = answered(senderResponse(sender, { unit: 'bar' }));
    expect(response.unit).toBe('bar');
    expect(response.knownTo).toBeCloseTo(6.894757, 5);
    expect(response.ohm(response.knownTo)).toBeCloseTo(180, 8);
    expect(response.value(95)).toBeCloseTo(3.4473786, 6);
    expect(refusalCode(senderResponse(sender, { unit: 'degC' }))).toBe('SENDER_UNIT');
  });
});
