import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitSender, senderOhmAt, senderValueAt } from '../../../host/core/sender';
import { answered, refusalCode, refusalMessage } from '../../support/answer';
import { anyBath, anyThermistor, fitted, pointsFrom, thermistorOhm } from './arbitraries';
import published from '../../vectors/thermistor-steinhart-hart.json';
import material from '../../vectors/thermistor-ntc-ratio-table.json';

const lawOf = (sender: ReturnType<typeof fitted>): Record<string, number> =>
  Object.fromEntries(sender.coefficients.map(({ name, value }) => [name, value]));
const celsiusAt = (sender: ReturnType<typeof fitted>, ohm: number): number =>
  answered(senderValueAt(sender, ohm)).value;
const ohmAt = (sender: ReturnType<typeof fitted>, value: number): number =>
  answered(senderOhmAt(sender, value)).resistanceOhm;

describe('Steinhart-Hart through three points', () => {
  it('gives all ten digits of the published coefficients (calculator of a laboratory instrument maker)', () => {
    const { points, coefficients, full_precision } = published.three_point_solve;
    const { A, B, C } = lawOf(fitted(pointsFrom(points.t_degC, points.R_ohm)));
    for (const [found, exact, printed] of [
      [A!, full_precision.A, coefficients.A],
      [B!, full_precision.B, coefficients.B],
      [C!, full_precision.C, coefficients.C],
    ] as const) {
      expect(found / exact).toBeCloseTo(1, 10);
      expect(found / printed).toBeCloseTo(1, 9);
    }
  });

  it('reproduces a published table of 42 temperatures from three of its own points (Campbell Scientific, table C-1)', () => {
    const { t_degC, R_ohm, A, B, C } = published.coefficients_with_table;
    const sender = fitted(
      pointsFrom(
        [-40, -20, 1],
        [t_degC.indexOf(-40), t_degC.indexOf(-20), t_degC.indexOf(1)].map((i) => R_ohm[i]!),
      ),
    );
    expect(t_degC).toHaveLength(42);
    t_degC.forEach((celsius, i) => {
      // Rounded ohms in three points move the curve by less than the table's own 0.005 degC, doubled here.
      expect(Math.abs(celsiusAt(sender, R_ohm[i]!) - celsius)).toBeLessThan(0.01);
    });
    expect(lawOf(sender).A! / A).toBeCloseTo(1, 2);
    expect(lawOf(sender).B! / B).toBeCloseTo(1, 2);
    expect(lawOf(sender).C! / C).toBeCloseTo(1, 1);
  });

  it('gives the published coefficients back when all 42 points are fitted', () => {
    const { t_degC, R_ohm, A, B, C } = published.coefficients_with_table;
    const sender = fitted(pointsFrom(t_degC, R_ohm));
    expect(sender.model).toBe('steinhart-hart');
    expect(lawOf(sender).A! / A).toBeCloseTo(1, 3);
    expect(lawOf(sender).B! / B).toBeCloseTo(1, 3);
    expect(lawOf(sender).C! / C).toBeCloseTo(1, 2);
    for (const { residualValue } of sender.points) expect(Math.abs(residualValue)).toBeLessThan(0.006);
  });

  it('gives worked example W8: exact solve of 2,045 at -50, 100 at 25, 15 at 100 degC (published, recomputed)', () => {
    const { A, B, C } = lawOf(fitted(pointsFrom([-50, 25, 100], [2045, 100, 15])));
    expect(A! / 1.74017983e-3).toBeCloseTo(1, 8);
    expect(B! / 3.45189612e-4).toBeCloseTo(1, 8);
    expect(C! / 2.47578966e-7).toBeCloseTo(1, 8);
  });

  it('fits a published gauge sender at 100, 200 and 300 degF and predicts 157.9 and 29.52 ohm between (recomputed)', () => {
    const sender = fitted(
      pointsFrom(
        [100, 200, 300].map((fahrenheit) => (fahrenheit - 32) / 1.8),
        [450, 64.3, 14.96],
      ),
    );
    const { A, B, C } = lawOf(sender);
    // The notes give these coefficients; their temperatures were rounded to 0.1 K, which moves C by a percent.
    expect(A! / 1.71034625e-3).toBeCloseTo(1, 3);
    expect(B! / 2.42928017e-4).toBeCloseTo(1, 3);
    expect(Math.abs(C! / 9.51882e-8 - 1)).toBeLessThan(0.02);
    const inFahrenheit = fitted(pointsFrom([100, 200, 300], [450, 64.3, 14.96]), { unit: 'degF' });
    expect(ohmAt(inFahrenheit, 150)).toBeCloseTo(157.9, 1);
    expect(ohmAt(inFahrenheit, 250)).toBeCloseTo(29.52, 2);
    // Computed table of the same curve; common practice.
    for (const [celsius, ohm] of [
      [40, 411],
      [60, 192],
      [80, 97.3],
      [100, 52.8],
      [120, 30.4],
    ] as const)
      expect(ohmAt(sender, celsius) / ohm).toBeCloseTo(1, 2);
  });

  it('goes through its three points exactly, whatever they are', () => {
    fc.assert(
      fc.property(anyThermistor, (thermistor) => {
        const baths = [10, 55, 100];
        const sender = fitted(
          pointsFrom(
            baths,
            baths.map((t) => thermistorOhm(thermistor, t)),
          ),
          {
            unit: 'degC',
            model: 'steinhart-hart',
          },
        );
        for (const { residualValue } of sender.points) expect(Math.abs(residualValue)).toBeLessThan(1e-9);
      }),
    );
  });

  it('has inverse functions on every branch of the cubic', () => {
    // Signs of B and C as they arise from steep, flat and upside-down senders.
    const shapes: [number[], number[]][] = [
      [
        [0, 50, 100],
        [3000, 500, 110],
      ],
      [
        [0, 50, 100],
        [3000, 800, 110],
      ],
      [
        [0, 50, 100],
        [3000, 300, 110],
      ],
      [
        [0, 50, 100],
        [0.9, 0.3, 0.12],
      ],
      [
        [0, 50, 100],
        [100, 119.4, 138.5],
      ],
      [
        [0, 50, 100],
        [3e5, 4e4, 8e3],
      ],
    ];
    for (const [celsius, ohm] of shapes) {
      const sender = fitted(pointsFrom(celsius, ohm), { unit: 'degC', model: 'steinhart-hart' });
      for (const value of [0, 3, 25, 49, 77, 100])
        expect(celsiusAt(sender, ohmAt(sender, value))).toBeCloseTo(value, 8);
    }
  });
});

describe('a whole material curve (Amphenol Thermometrics, material type 1, -40 to 135 degC)', () => {
  const ohms = material.ratio_R_over_R25.map((ratio) => 1000 * ratio);
  const sender = fitted(pointsFrom(material.t_degC, ohms));

  it('is followed by Steinhart-Hart within 0.15 K over 175 K', () => {
    expect(sender.model).toBe('steinhart-hart');
    for (const { residualValue } of sender.points) expect(Math.abs(residualValue)).toBeLessThan(0.15);
  });

  it('has the published Beta 25/85', () => {
    const table = fitted(pointsFrom(material.t_degC, ohms), { unit: 'degC', model: 'table' });
    expect(table.beta2585Kelvin).toBeCloseTo(material.agreement.beta_25_85_from_table_K, 0);
    expect(Math.abs(table.beta2585Kelvin! - material.published_beta_K.beta_25_85)).toBeLessThan(1);
    expect(Math.abs(sender.beta2585Kelvin! - material.published_beta_K.beta_25_85)).toBeLessThan(5);
  });

  it.each([
    [0, 50, material.published_beta_K.beta_0_50],
    [0, 70, material.published_beta_K.beta_0_70],
    [25, 50, material.published_beta_K.beta_25_50],
    [25, 100, material.published_beta_K.beta_25_100],
    [25, 125, material.published_beta_K.beta_25_125],
  ])('has the published Beta between %s and %s degC: %s K', (cold, hot, beta) => {
    const pair = [cold, hot].map((t) => ohms[material.t_degC.indexOf(t)]!);
    const two = fitted(pointsFrom([cold, hot], pair));
    expect(two.model).toBe('beta');
    // Four printed digits of the ratio are worth up to 2 K here.
    expect(Math.abs(lawOf(two).beta! - beta)).toBeLessThan(2);
  });

  it('stays within the uncertainty of a Beta law through two of its points, which Beta alone would understate', () => {
    const ends = [20, 100].map((value) => ({
      value,
      resistanceOhm: ohms[material.t_degC.indexOf(value)]!,
      valueUncertainty: 0.01,
    }));
    const two = fitted(ends);
    for (const celsius of [0, 40, 60, 80, 120]) {
      const found = answered(senderOhmAt(two, celsius));
      const error = Math.abs(found.resistanceOhm - ohms[material.t_degC.indexOf(celsius)]!);
      expect(error, `${celsius} degC`).toBeLessThan(found.expandedUncertaintyOhm);
      expect(error).toBeGreaterThan(0.2 * found.expandedUncertaintyOhm);
    }
  });

  it('has the published temperature coefficients', () => {
    [0, 25, 60, 100].forEach((celsius) => {
      const slope = (ohmAt(sender, celsius + 0.5) - ohmAt(sender, celsius - 0.5)) / ohmAt(sender, celsius);
      const percent = material.temperature_coefficient_percent_per_K[material.t_degC.indexOf(celsius)]!;
      expect(Math.abs(100 * slope - percent)).toBeLessThan(0.03);
    });
  });
});

describe('Beta', () => {
  it('is near 3,900 K for 3,000 ohm at 40 degF and 110 ohm at 195 degF (common practice, no source)', () => {
    const sender = fitted(pointsFrom([40, 195], [3000, 110]), { unit: 'degF' });
    expect(sender.beta2585Kelvin).toBeGreaterThan(3850);
    expect(sender.beta2585Kelvin).toBeLessThan(3950);
    expect(sender.warnings.map(({ code }) => code)).not.toContain('SENDER_BETA_IMPLAUSIBLE');
    expect(ohmAt(sender, 40)).toBeCloseTo(3000, 8);
    expect(ohmAt(sender, 195)).toBeCloseTo(110, 8);
  });

  it('is questioned where a published comparison was plainly not soaked: 300/100 and 190/50 ohm at 24/46 degC', () => {
    for (const [cold, hot, beta] of [
      [300, 100, 4690],
      [190, 50, 5700],
    ] as const) {
      const sender = fitted(pointsFrom([24, 46], [cold, hot]));
      expect(Math.abs(sender.pairwiseBetas[0]!.betaKelvin - beta)).toBeLessThan(60);
      expect(sender.pairwiseBetas[0]!.isPlausible).toBe(false);
      expect(sender.warnings.map(({ code }) => code)).toContain('SENDER_BETA_IMPLAUSIBLE');
    }
  });

  it('agrees with the pairwise figures of published senders: 3,963 to 4,067 K rising (recomputed)', () => {
    const sender = fitted(pointsFrom([100, 150, 200, 250, 300], [450, 158.2, 64.3, 29.5, 14.96]), {
      unit: 'degF',
    });
    const pairs = sender.pairwiseBetas.slice(0, 4).map(({ betaKelvin }) => Math.round(betaKelvin));
    [3963, 4024, 4053, 4067].forEach((beta, i) => expect(Math.abs(pairs[i]! - beta)).toBeLessThan(2));
    expect(sender.warnings.map(({ code }) => code)).toEqual(['SENDER_BETA_EXTRAPOLATED']);
  });

  it('forgives what uncertainties that were given explain', () => {
    const points = pointsFrom([24, 46], [300, 100]);
    const uncertain = points.map((point) => ({ ...point, valueUncertainty: 1 }));
    expect(fitted(points).pairwiseBetas[0]!.isPlausible).toBe(false);
    expect(fitted(uncertain).pairwiseBetas[0]!.isPlausible).toBe(true);
  });

  it('does not depend on the scale of resistance', () => {
    fc.assert(
      fc.property(
        anyThermistor,
        anyBath,
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        (thermistor, baths, factor) => {
          const ohms = baths.map((t) => thermistorOhm(thermistor, t));
          const [one, other] = [ohms, ohms.map((ohm) => factor * ohm)].map((each) =>
            fitted(pointsFrom(baths, each), { unit: 'degC', model: 'beta' }),
          );
          expect(lawOf(other!).beta! / lawOf(one!).beta!).toBeCloseTo(1, 9);
          expect(lawOf(other!).R25! / lawOf(one!).R25!).toBeCloseTo(factor, 8);
        },
      ),
    );
  });
});

describe('temperature units', () => {
  /** The definition, turned round. */
  const degFFromDegC = (celsius: number): number => celsius * 1.8 + 32;

  it('change nothing but the numbers: degF points give the sender of degC points', () => {
    fc.assert(
      fc.property(anyThermistor, anyBath, (thermistor, baths) => {
        const ohms = baths.map((t) => thermistorOhm(thermistor, t));
        const celsius = fitted(pointsFrom(baths, ohms));
        const fahrenheit = fitted(pointsFrom(baths.map(degFFromDegC), ohms), { unit: 'degF' });
        const at = (baths[0]! + baths.at(-1)!) / 2;
        expect(ohmAt(fahrenheit, degFFromDegC(at)) / ohmAt(celsius, at)).toBeCloseTo(1, 9);
      }),
    );
  });
});

describe('refusals', () => {
  const wrong: [string, Parameters<typeof fitSender>, string][] = [
    ['nothing', [[], { unit: 'degC' }], 'SENDER_TOO_FEW_POINTS'],
    ['one temperature twice', [pointsFrom([20, 20], [100, 101]), { unit: 'degC' }], 'SENDER_TOO_FEW_POINTS'],
    [
      'Steinhart-Hart from two',
      [pointsFrom([20, 80], [900, 90]), { unit: 'degC', model: 'steinhart-hart' }],
      'SENDER_TOO_FEW_POINTS',
    ],
    ['0 ohm', [pointsFrom([20, 80], [900, 0]), { unit: 'degC' }], 'SENDER_POINT'],
    ['an open circuit', [pointsFrom([20, 80], [900, Infinity]), { unit: 'degC' }], 'SENDER_POINT'],
    ['negative ohms', [pointsFrom([0, 100], [-1, 90]), { unit: '%' }], 'SENDER_POINT'],
    ['less than absolute zero', [pointsFrom([-500, 80], [900, 90]), { unit: 'degF' }], 'SENDER_POINT'],
    [
      'a Beta that puts the resistance at 25 degC beyond all numbers',
      [pointsFrom([3, 1], [1e9, 90]), { unit: 'degF', model: 'beta' }],
      'SENDER_UNDETERMINED',
    ],
    [
      'a thermistor law for pressure',
      [pointsFrom([0, 5], [10, 180]), { unit: 'bar', model: 'beta' }],
      'SENDER_MODEL',
    ],
    [
      'one resistance everywhere',
      [pointsFrom([20, 50, 80], [90, 90, 90]), { unit: 'degC' }],
      'SENDER_NOT_MONOTONE',
    ],
  ];
  it('come for three temperatures whose resistance turns back: a law through all of them would lie on two branches', () => {
    expect(refusalCode(fitSender(pointsFrom([20, 40, 60], [100, 50, 99]), { unit: 'degC' }))).toBe(
      'SENDER_NOT_MONOTONE',
    );
  });

  it('come, or the law gives back the resistance of each of its three points', () => {
    const ohm = fc.double({ min: Math.log(1), max: Math.log(1e5), noNaN: true }).map(Math.exp);
    const beta = fc.double({ min: 1500, max: 6000, noNaN: true });
    const perKelvin = [20, 60, 100].map((celsius) => 1 / (celsius + 273.15) - 1 / 333.15);
    /** Falls like a thermistor, with another B above 60 degC than below. */
    const bent = fc
      .tuple(ohm, beta, beta)
      .map(([middle, cold, hot]) =>
        perKelvin.map((apart) => middle * Math.exp((apart > 0 ? cold : hot) * apart)),
      );
    let looked = 0;
    fc.assert(
      fc.property(fc.oneof(fc.array(ohm, { minLength: 3, maxLength: 3 }), bent), (ohms) => {
        const points = pointsFrom([20, 60, 100], ohms);
        const sender = fitSender(points, { unit: 'degC', model: 'steinhart-hart' });
        if (sender.kind === 'refused') return;
        looked += 1;
        for (const point of points)
          expect(ohmAt(sender, point.value) / point.resistanceOhm).toBeCloseTo(1, 5);
      }),
      { numRuns: 500 },
    );
    expect(looked).toBeGreaterThan(50);
  });

  it.each(wrong)('name what is wrong with %s', (_, [points, options], code) => {
    expect(refusalCode(fitSender(points, options))).toBe(code);
  });

  it('name the point', () => {
    const result = fitSender(pointsFrom([20, 50, 80], [900, Number.NaN, 90]), { unit: 'degC' });
    expect(refusalMessage(result)).toContain('Point 2');
  });

  it('come for a value or a resistance that no part of the curve reaches', () => {
    const sender = fitted(pointsFrom([20, 80], [900, 90]));
    expect(refusalCode(senderOhmAt(sender, 900))).toBe('SENDER_OUT_OF_RANGE');
    for (const ohm of [0, -1, 1e9, Number.NaN, Infinity])
      expect(refusalCode(senderValueAt(sender, ohm))).toBe('SENDER_OUT_OF_RANGE');
  });
});
