import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fitSender,
  senderOhmAt,
  senderResponse,
  senderValueAt,
  type FittedSender,
} from '../../../host/core/sender';
import { answered, refusalCode, refusalMessage } from '../../support/answer';
import { anyBath, anyThermistor, fitted, noisy, pointsFrom, thermistorOhm } from './arbitraries';
import meyer from '../../vectors/nist-strd-mgh10.json';
import line from '../../vectors/nist-strd-norris.json';

const laws = ['steinhart-hart', 'beta', 'exponential', 'table'] as const;
const codes = (sender: FittedSender): string[] => sender.warnings.map(({ code }) => code);

describe('exponential with offset (NIST StRD, MGH10: the dataset on which fitters fail)', () => {
  const sender = fitted(pointsFrom(meyer.x, meyer.y), { unit: 'degC', model: 'exponential' });

  it('reaches the certified parameters to nine digits without being told where to start', () => {
    meyer.certified_parameters.forEach((certified, i) =>
      expect(Math.abs(sender.coefficients[i]!.value / certified - 1)).toBeLessThan(1e-9),
    );
  });

  it('reaches the certified standard deviations, sum of squares and residual deviation', () => {
    meyer.certified_parameter_standard_deviations.forEach((certified, i) =>
      expect(Math.abs(sender.coefficients[i]!.standardUncertainty! / certified - 1)).toBeLessThan(1e-7),
    );
    expect(sender.residualSumOfSquares / meyer.certified_residual_sum_of_squares).toBeCloseTo(1, 9);
    expect(sender.residualStandardDeviation! / meyer.certified_residual_standard_deviation).toBeCloseTo(1, 9);
    expect(sender.degreesOfFreedom).toBe(meyer.degrees_of_freedom);
    expect(sender.residualUnit).toBe('ohm');
  });

  it('is exact through three points', () => {
    const law = (t: number): number => 0.0056 * Math.exp(6181 / (t + 345));
    const exact = fitted(pointsFrom([50, 90, 125], [50, 90, 125].map(law)), {
      unit: 'degC',
      model: 'exponential',
    });
    expect(exact.coefficients[0]!.value / 0.0056).toBeCloseTo(1, 8);
    expect(exact.coefficients[1]!.value / 6181).toBeCloseTo(1, 9);
    expect(exact.coefficients[2]!.value / 345).toBeCloseTo(1, 9);
  });

  it('is refused when its pole falls between the points', () => {
    const pole = 60;
    const points = pointsFrom(
      [0, 50, 100],
      [0, 50, 100].map((t) => Math.exp(2 + 10 / (t - pole))),
    );
    const result = fitSender(points, { unit: 'degC', model: 'exponential' });
    expect(refusalCode(result)).toBe('SENDER_UNDETERMINED');
    expect(refusalMessage(result)).toContain('pole');
  });
});

describe('straight line (NIST StRD, Norris: calibration of ozone monitors, 36 points)', () => {
  it('reaches the certified intercept, slope and standard deviations', () => {
    // Norris has negative responses; a shift of all of them leaves the slope and both deviations as they are.
    const shift = 10;
    const sender = fitted(
      pointsFrom(
        line.x,
        line.y.map((y) => y + shift),
      ),
      { unit: 'other', model: 'linear' },
    );
    const [intercept, slope] = sender.coefficients;
    expect(intercept!.value - shift).toBeCloseTo(line.certified_b0, 9);
    expect(slope!.value / line.certified_b1).toBeCloseTo(1, 12);
    expect(intercept!.standardUncertainty! / line.certified_sd_b0).toBeCloseTo(1, 9);
    expect(slope!.standardUncertainty! / line.certified_sd_b1).toBeCloseTo(1, 9);
  });
});

describe('any law', () => {
  it('goes from value to resistance and back', () => {
    let looked = 0;
    fc.assert(
      fc.property(
        anyThermistor,
        anyBath,
        fc.constantFrom(...laws),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (thermistor, baths, model, share) => {
          const result = fitSender(
            pointsFrom(
              baths,
              baths.map((t) => thermistorOhm(thermistor, t)),
            ),
            { unit: 'degC', model },
          );
          if (result.kind === 'refused') return;
          looked += 1;
          const value = result.usableFrom + share * (result.usableTo - result.usableFrom);
          const { resistanceOhm } = answered(senderOhmAt(result, value));
          const back = answered(senderValueAt(result, resistanceOhm)).value;
          expect(Math.abs(back - value)).toBeLessThan(1e-6);
        },
      ),
    );
    expect(looked).toBeGreaterThan(20);
  });

  it('falls everywhere for a thermistor, within points and beyond', () => {
    let looked = 0;
    fc.assert(
      fc.property(anyThermistor, anyBath, fc.constantFrom(...laws), (thermistor, baths, model) => {
        const result = fitSender(
          pointsFrom(
            baths,
            baths.map((t) => thermistorOhm(thermistor, t)),
          ),
          { unit: 'degC', model },
        );
        if (result.kind === 'refused') return;
        looked += 1;
        const response = answered(senderResponse(result));
        const ohms = Array.from({ length: 101 }, (_, i) =>
          response.ohm(result.usableFrom + ((result.usableTo - result.usableFrom) * i) / 100),
        );
        expect(ohms.every((ohm, i) => i === 0 || ohm < ohms[i - 1]!)).toBe(true);
      }),
    );
    expect(looked).toBeGreaterThan(20);
  });

  it('does not mind the order of the points, nor a point given twice', () => {
    let looked = 0;
    fc.assert(
      fc.property(
        anyThermistor,
        anyBath,
        fc.constantFrom('steinhart-hart', 'beta', 'exponential'),
        (thermistor, baths, model) => {
          const points = noisy(
            pointsFrom(
              baths,
              baths.map((t) => thermistorOhm(thermistor, t)),
            ),
            1,
            { kelvin: 0.2, share: 0.002 },
          );
          const [one, reversed] = [points, [...points].reverse()].map((each) =>
            fitSender(each, { unit: 'degC', model }),
          );
          const twice = fitSender([...points, ...points], { unit: 'degC', model });
          if (one!.kind === 'refused' || reversed!.kind === 'refused' || twice.kind === 'refused') return;
          looked += 1;
          const at = (baths[0]! + baths.at(-1)!) / 2;
          const ohm = answered(senderOhmAt(one!, at));
          expect(answered(senderOhmAt(reversed!, at)).resistanceOhm / ohm.resistanceOhm).toBeCloseTo(1, 8);
          const double = answered(senderOhmAt(twice, at));
          expect(double.resistanceOhm / ohm.resistanceOhm).toBeCloseTo(1, 8);
        },
      ),
    );
    expect(looked).toBeGreaterThan(20);
  });

  it('halves its variance when every point is measured twice with given uncertainties', () => {
    const baths = [10, 40, 70, 100];
    const points = baths.map((value) => ({
      value,
      resistanceOhm: thermistorOhm({ resistance25Ohm: 900, betaKelvin: 3900, bend: 0 }, value),
      valueUncertainty: 0.3,
      resistanceUncertaintyOhm: 0.5,
    }));
    const [once, twice] = [points, [...points, ...points]].map((each) =>
      answered(senderOhmAt(fitted(each, { unit: 'degC', model: 'steinhart-hart' }), 60)),
    );
    // The millikelvin that the law itself leaves out does not shrink with more points.
    expect((twice!.standardUncertaintyOhm * Math.SQRT2) / once!.standardUncertaintyOhm).toBeCloseTo(1, 3);
  });

  it('survives JSON', () => {
    for (const model of laws) {
      const sender = fitted(pointsFrom([10, 40, 70, 100], [2000, 560, 195, 80]), { unit: 'degC', model });
      const back: unknown = JSON.parse(JSON.stringify(sender));
      expect(back).toEqual(sender);
    }
  });

  it('is never infinite and never NaN, whatever a network asks of it', () => {
    const senders = [
      ...laws.map((model) =>
        fitted(pointsFrom([10, 40, 70, 100], [2000, 560, 195, 80]), { unit: 'degC', model }),
      ),
      fitted(pointsFrom([0, 50, 100], [90, 45, 0]), { unit: '%' }),
      fitted(pointsFrom([0, 50, 100], [240, 103, 33]), { unit: '%' }),
      fitted(pointsFrom([0, 2, 5], [10, 80, 180]), { unit: 'bar' }),
    ];
    for (const sender of senders) {
      const response = answered(senderResponse(sender, { tolerancePercent: 10 }));
      for (const at of [-1e9, -300, 0, 1, 50, 100, 1e9, Infinity, -Infinity, Number.NaN]) {
        expect(Number.isFinite(response.ohm(at))).toBe(true);
        expect(response.ohm(at)).toBeGreaterThanOrEqual(0);
        expect(Number.isFinite(response.value(at))).toBe(true);
        expect(Number.isFinite(response.relativeUncertainty(at))).toBe(true);
      }
    }
  });
});

describe('uncertainty', () => {
  it('comes from the points when they carry one, from the residuals when they do not, and is assumed with none left over', () => {
    const points = pointsFrom([10, 40, 70, 100], [2000, 560, 195, 80]);
    const uncertain = points.map((point) => ({ ...point, valueUncertainty: 0.5 }));
    expect(fitted(uncertain).uncertaintyBasis).toBe('given');
    expect(fitted(points).uncertaintyBasis).toBe('residuals');
    const exact = fitted(points.slice(0, 3));
    expect(exact.uncertaintyBasis).toBe('assumed');
    expect(codes(exact)).toContain('SENDER_UNCERTAINTY_ASSUMED');
    expect(answered(senderOhmAt(exact, 40)).standardUncertaintyOhm).toBeGreaterThan(0);
  });

  it('grows beyond the points and says that it is an extrapolation', () => {
    const sender = fitted(pointsFrom([20, 50, 80], [1100, 330, 118]));
    const [inside, outside] = [50, 120].map((value) => answered(senderOhmAt(sender, value)));
    expect(inside!.isExtrapolated).toBe(false);
    expect(outside!.isExtrapolated).toBe(true);
    expect(outside!.standardUncertaintyOhm / outside!.resistanceOhm).toBeGreaterThan(
      3 * (inside!.standardUncertaintyOhm / inside!.resistanceOhm),
    );
  });

  it('is the same told in ohm or in kelvin', () => {
    const sender = fitted(pointsFrom([20, 50, 80], [1100, 330, 118]));
    const forward = answered(senderOhmAt(sender, 65));
    const backward = answered(senderValueAt(sender, forward.resistanceOhm));
    const slope =
      (answered(senderOhmAt(sender, 65.01)).resistanceOhm -
        answered(senderOhmAt(sender, 64.99)).resistanceOhm) /
      0.02;
    expect(backward.standardUncertainty).toBeCloseTo(forward.standardUncertaintyOhm / Math.abs(slope), 6);
  });

  it('uses Student t for the few degrees of freedom that residuals leave', () => {
    const sender = fitted(pointsFrom([20, 40, 60, 80], [1100, 480, 232, 118]), {
      unit: 'degC',
      model: 'steinhart-hart',
    });
    expect(sender.degreesOfFreedom).toBe(1);
    expect(answered(senderOhmAt(sender, 50)).coverageFactor).toBeCloseTo(12.706, 3);
  });

  // 95 % intervals over 600 simulated baths: three standard errors of the count are 2.7 points.
  it.each([
    ['given', 60],
    ['given', 95],
    ['residuals', 60],
    ['residuals', 95],
  ] as const)('covers the truth in about 95 of 100 simulated baths (%s, at %s degC)', (basis, at) => {
    const thermistor = { resistance25Ohm: 900, betaKelvin: 3900, bend: 0 };
    const baths = [20, 35, 50, 65, 80, 95];
    const exact = pointsFrom(
      baths,
      baths.map((t) => thermistorOhm(thermistor, t)),
    );
    const truth = thermistorOhm(thermistor, at);
    const trials = 600;
    let covered = 0;
    for (let seed = 1; seed <= trials; seed += 1) {
      const measured = noisy(exact, seed, { kelvin: 0.5, share: 0.01 });
      const points =
        basis === 'given' ? measured : measured.map(({ value, resistanceOhm }) => ({ value, resistanceOhm }));
      const found = answered(senderOhmAt(fitted(points, { unit: 'degC', model: 'steinhart-hart' }), at));
      if (Math.abs(found.resistanceOhm - truth) <= found.expandedUncertaintyOhm) covered += 1;
    }
    expect(covered / trials).toBeGreaterThan(0.92);
    expect(covered / trials).toBeLessThan(0.985);
  });
});

describe('choice of a law', () => {
  it('takes Beta for two temperatures, Steinhart-Hart for more, and tells why', () => {
    const two = fitted(pointsFrom([20, 80], [900, 90]));
    expect(two.model).toBe('beta');
    expect(two.reason).toMatchObject({ shows: 'two-temperatures' });
    expect(fitted(pointsFrom([20, 50, 80], [900, 270, 90])).model).toBe('steinhart-hart');
  });

  it('falls back to a table when no thermistor law follows the points', () => {
    const sender = fitted(pointsFrom([20, 40, 60, 80, 100], [900, 800, 200, 150, 40]));
    expect(sender.model).toBe('table');
    expect(sender.reason).toMatchObject({ rejected: [{ model: 'steinhart-hart' }] });
  });

  it('refuses points that turn back, and names them', () => {
    const result = fitSender(pointsFrom([20, 40, 60, 80], [900, 200, 500, 100]), { unit: 'degC' });
    expect(refusalCode(result)).toBe('SENDER_NOT_MONOTONE');
    expect(refusalMessage(result)).toContain('500 ohm at 60');
  });

  it('questions a point that lies off the others, and keeps it', () => {
    const baths = [10, 20, 30, 40, 50, 60, 70, 80, 90, 100];
    const ohms = baths.map((t) => thermistorOhm({ resistance25Ohm: 900, betaKelvin: 3900, bend: 0 }, t));
    ohms[4]! *= 1.03;
    const sender = fitted(pointsFrom(baths, ohms));
    expect(codes(sender)).toContain('SENDER_POINT_QUESTIONED');
    expect(sender.points).toHaveLength(10);
  });
});
