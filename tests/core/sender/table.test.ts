import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitSender, senderOhmAt, senderValueAt } from '../../../host/core/sender';
import { answered, refusalCode, refusalMessage } from '../../support/answer';
import { fitted, pointsFrom } from './arbitraries';
import platinum from '../../vectors/iec60751-pt100.json';
import material from '../../vectors/thermistor-ntc-ratio-table.json';

const everyNth = <T>(list: readonly T[], step: number): T[] => list.filter((_, i) => i % step === 0);

describe('platinum thermometer (IEC 60751:2008, Pt100)', () => {
  const table = fitted(pointsFrom(platinum.table_t_degC, platinum.table_R_ohm), {
    unit: 'degC',
    model: 'table',
  });

  it('is followed between the entries of its table within the rounding of the entries', () => {
    platinum.full_precision.t_degC.forEach((celsius, i) => {
      // Entries are rounded to 0.005 ohm; the curve between them adds as much again at most.
      const { resistanceOhm } = answered(senderOhmAt(table, celsius));
      expect(Math.abs(resistanceOhm - platinum.full_precision.R_ohm[i]!)).toBeLessThan(0.01);
    });
  });

  it('is inverted within 0.025 K', () => {
    platinum.full_precision.inverse_R_ohm.forEach((ohm, i) => {
      const { value } = answered(senderValueAt(table, ohm));
      expect(Math.abs(value - platinum.full_precision.inverse_t_degC[i]!)).toBeLessThan(0.025);
    });
  });

  it('is a quadratic above 0 degC with the coefficients of the standard, and no thermistor', () => {
    const hot = platinum.full_precision.t_degC
      .map((t, i) => [t, platinum.full_precision.R_ohm[i]!] as const)
      .filter(([t]) => t >= 0);
    const sender = fitted(
      pointsFrom(
        hot.map(([t]) => t),
        hot.map(([, ohm]) => ohm),
      ),
    );
    expect(sender.model).toBe('polynomial');
    const [c0, c1, c2] = sender.coefficients.map(({ value }) => value);
    expect(c0! / platinum.R0_ohm).toBeCloseTo(1, 7);
    expect(c1! / (platinum.R0_ohm * platinum.A_per_degC)).toBeCloseTo(1, 6);
    expect(c2! / (platinum.R0_ohm * platinum.B_per_degC2)).toBeCloseTo(1, 4);
    expect(sender.beta2585Kelvin).toBeNull();
    expect(sender.pairwiseBetas).toEqual([]);
    expect(sender.warnings.map(({ code }) => code)).toContain('SENDER_RISES_WITH_TEMPERATURE');
  });
});

describe('table in (1/T, ln R) of a material curve (Amphenol Thermometrics, material type 1)', () => {
  const ohms = material.ratio_R_over_R25.map((ratio) => 1000 * ratio);

  it.each([
    [20, 4, 0.002],
    [40, 8, 0.008],
  ])('thinned to every %s K is right between its knots within its own uncertainty', (_, step, share) => {
    const table = fitted(pointsFrom(everyNth(material.t_degC, step), everyNth(ohms, step)), {
      unit: 'degC',
      model: 'table',
    });
    material.t_degC.forEach((celsius, i) => {
      if (celsius > table.knownTo) return;
      const found = answered(senderOhmAt(table, celsius));
      const error = Math.abs(found.resistanceOhm / ohms[i]! - 1);
      expect(error, `${celsius} degC`).toBeLessThan(share);
      expect(Math.abs(found.resistanceOhm - ohms[i]!)).toBeLessThan(found.expandedUncertaintyOhm);
    });
  });

  it('follows the Beta of its outermost pair beyond the ends', () => {
    const table = fitted(pointsFrom([20, 60, 100], [900, 190, 55]), { unit: 'degC', model: 'table' });
    const beta = Math.log(190 / 55) / (1 / 333.15 - 1 / 373.15);
    const { resistanceOhm, isExtrapolated } = answered(senderOhmAt(table, 120));
    expect(resistanceOhm / (55 * Math.exp(beta * (1 / 393.15 - 1 / 373.15)))).toBeCloseTo(1, 10);
    expect(isExtrapolated).toBe(true);
  });
});

describe('any table', () => {
  const anySteps = fc.array(
    fc.tuple(fc.double({ min: 1, max: 40, noNaN: true }), fc.double({ min: 0.5, max: 80, noNaN: true })),
    {
      minLength: 2,
      maxLength: 12,
    },
  );
  const anyTable = fc.tuple(anySteps, fc.boolean()).map(([steps, isFalling]) => {
    const values = [0];
    const ohms = [5];
    for (const [dx, dy] of steps) {
      values.push(values.at(-1)! + dx);
      ohms.push(ohms.at(-1)! + dy);
    }
    return pointsFrom(values, isFalling ? [...ohms].reverse() : ohms);
  });

  it('goes through its points, stays between them, and is monotone', () => {
    fc.assert(
      fc.property(anyTable, (points) => {
        const sender = fitted(points, { unit: 'kPa', model: 'table' });
        const direction = Math.sign(points[1]!.resistanceOhm - points[0]!.resistanceOhm);
        for (const { value, resistanceOhm } of points)
          expect(answered(senderOhmAt(sender, value)).resistanceOhm).toBeCloseTo(resistanceOhm, 9);
        const span = sender.knownTo - sender.knownFrom;
        const ohms = Array.from(
          { length: 200 },
          (_, i) => answered(senderOhmAt(sender, sender.knownFrom + (span * i) / 199.0001)).resistanceOhm,
        );
        expect(ohms.every((ohm, i) => i === 0 || direction * (ohm - ohms[i - 1]!) >= -1e-9)).toBe(true);
      }),
    );
  });

  it('averages repeats', () => {
    const sender = fitted(pointsFrom([0, 50, 50, 100], [10, 49, 51, 90]), { unit: '%', model: 'table' });
    expect(answered(senderOhmAt(sender, 50)).resistanceOhm).toBeCloseTo(50, 10);
  });

  it('refuses a resistance that turns back and names where', () => {
    const result = fitSender(pointsFrom([0, 25, 50, 75, 100], [240, 190, 203, 60, 33]), {
      unit: '%',
      model: 'table',
    });
    expect(refusalCode(result)).toBe('SENDER_NOT_MONOTONE');
    expect(refusalMessage(result)).toContain('203 ohm at 50');
  });

  it('bounds the value on a flat stretch instead of inventing one', () => {
    const sender = fitted(pointsFrom([0, 20, 40, 100], [90, 90, 60, 5]), { unit: '%', model: 'table' });
    expect(sender.warnings.map(({ code }) => code)).toContain('SENDER_FLAT_STRETCH');
    const found = answered(senderValueAt(sender, 90));
    expect(found.value).toBe(10);
    expect(found.standardUncertainty).toBeCloseTo(10 / Math.sqrt(3), 10);
  });
});

describe('the inverse of a thermistor table', () => {
  it('takes every resistance of the published material curve, from kilohms to megohms (Amphenol reference guide)', () => {
    for (const atZeroPower of [1000, 2252, 10_000, 100_000]) {
      const ohms = material.ratio_R_over_R25.map((ratio) => ratio * atZeroPower);
      const table = fitted(pointsFrom(material.t_degC, ohms), { unit: 'degC', model: 'table' });
      material.t_degC.forEach((celsius, index) =>
        expect(answered(senderValueAt(table, ohms[index]!)).value).toBeCloseTo(celsius, 6),
      );
    }
  });

  it('answers at its own knots for any table that falls', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 3, maxLength: 30 }),
        fc.integer({ min: 1000, max: 999_999 }),
        (falls, first) => {
          let ohm = first;
          const ohms = falls.map(
            (permille) => (ohm = Math.max(1, Math.round(ohm * (1 - permille / 1000) - 1))),
          );
          const distinct = [first, ...ohms].filter(
            (each, index, all) => index === 0 || each < all[index - 1]!,
          );
          if (distinct.length < 3) return;
          const degC = distinct.map((_, index) => index * 5);
          const table = fitted(pointsFrom(degC, distinct), { unit: 'degC', model: 'table' });
          distinct.forEach((each, index) =>
            expect(answered(senderValueAt(table, each)).value).toBeCloseTo(degC[index]!, 6),
          );
        },
      ),
    );
  });
});
