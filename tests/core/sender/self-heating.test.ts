import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dissipationFromTwoCurrents, selfHeatedOhm, toleranceBand } from '../../../host/core/sender';
import { answered, refusalCode } from '../../support/answer';
import { fitted, pointsFrom } from './arbitraries';

const betaSender = fitted(pointsFrom([25, 85], [1000, 1000 * Math.exp(3900 * (1 / 358.15 - 1 / 298.15))]));

describe('dissipation constant from two currents', () => {
  it('comes back from resistances made with it', () => {
    let looked = 0;
    fc.assert(
      fc.property(
        fc.double({ min: 40, max: 100, noNaN: true }),
        fc.double({ min: 0.005, max: 0.05, noNaN: true }),
        fc.double({ min: 0.05, max: 0.12, noNaN: true }),
        (bathCelsius, wattPerKelvin, currentAmp) => {
          const at = (amp: number) => ({
            currentAmp: amp,
            resistanceOhm: answered(
              selfHeatedOhm(betaSender, { value: bathCelsius, currentAmp: amp, wattPerKelvin }),
            ).resistanceOhm,
          });
          const found = dissipationFromTwoCurrents({
            bathCelsius,
            betaKelvin: 3900,
            low: at(0.01),
            high: at(currentAmp),
          });
          if (found.kind === 'refused') return;
          looked += 1;
          expect(found.wattPerKelvin / wattPerKelvin).toBeCloseTo(1, 6);
          const cold = answered(
            selfHeatedOhm(betaSender, { value: bathCelsius, currentAmp: 0, wattPerKelvin }),
          );
          expect(found.zeroPowerOhm / cold.resistanceOhm).toBeCloseTo(1, 6);
        },
      ),
    );
    expect(looked).toBeGreaterThan(20);
  });

  it('agrees with the first-order rule dT = ln(r_low/r_high) T^2/B for a small rise (derived in the trade notes)', () => {
    const [low, high] = [
      { currentAmp: 0.001, resistanceOhm: 50 },
      { currentAmp: 0.05, resistanceOhm: 48.5 },
    ];
    const found = answered(dissipationFromTwoCurrents({ bathCelsius: 90, betaKelvin: 3900, low, high }));
    const firstOrder = (Math.log(50 / 48.5) * 363.15 ** 2) / 3900;
    expect((found.highRiseKelvin - found.lowRiseKelvin) / firstOrder).toBeCloseTo(1, 2);
  });

  it('warms a 40 ohm sender at 100 mA by 8 to 13 K at 30 to 50 mW/K: 0.4 W (common practice, no source)', () => {
    const sender = fitted(pointsFrom([60, 100], [180, 40]));
    for (const [wattPerKelvin, least, most] of [
      [0.05, 6, 9],
      [0.03, 9, 14],
    ] as const) {
      const { riseKelvin } = answered(selfHeatedOhm(sender, { value: 100, currentAmp: 0.1, wattPerKelvin }));
      expect(riseKelvin).toBeGreaterThan(least);
      expect(riseKelvin).toBeLessThan(most);
    }
  });

  it('refuses what it cannot see and what cannot be', () => {
    const base = { bathCelsius: 90, betaKelvin: 3900, low: { currentAmp: 0.001, resistanceOhm: 50 } };
    const ask = (high: { currentAmp: number; resistanceOhm: number }) =>
      refusalCode(dissipationFromTwoCurrents({ ...base, high }));
    expect(ask({ currentAmp: 0.05, resistanceOhm: 49.99 })).toBe('SELF_HEATING_NOT_SEEN');
    expect(ask({ currentAmp: 0.05, resistanceOhm: 55 })).toBe('SELF_HEATING_NOT_SEEN');
    expect(ask({ currentAmp: 0.0005, resistanceOhm: 45 })).toBe('SELF_HEATING_INPUT');
    expect(ask({ currentAmp: 0.05, resistanceOhm: 0 })).toBe('SELF_HEATING_INPUT');
    expect(ask({ currentAmp: 0.05, resistanceOhm: 0.5 })).toBe('SELF_HEATING_TOO_HOT');
    expect(ask({ currentAmp: Number.NaN, resistanceOhm: 45 })).toBe('SELF_HEATING_INPUT');
  });

  it('speaks kelvin for a sender in degF', () => {
    const celsius = fitted(pointsFrom([60, 100], [180, 40]));
    const fahrenheit = fitted(pointsFrom([140, 212], [180, 40]), { unit: 'degF' });
    const rises = [
      selfHeatedOhm(celsius, { value: 100, currentAmp: 0.1, wattPerKelvin: 0.04 }),
      selfHeatedOhm(fahrenheit, { value: 212, currentAmp: 0.1, wattPerKelvin: 0.04 }),
    ].map((each) => answered(each).riseKelvin);
    expect(rises[1]).toBeCloseTo(rises[0]!, 8);
  });

  it('refuses a fuel sender', () => {
    const fuel = fitted(pointsFrom([0, 100], [240, 33]), { unit: '%' });
    expect(refusalCode(selfHeatedOhm(fuel, { value: 50, currentAmp: 0.1, wattPerKelvin: 0.04 }))).toBe(
      'SELF_HEATING_INPUT',
    );
  });
});

describe('tolerance band', () => {
  it('makes 10 % of resistance into 3.3 to 4.0 K at 80 to 100 degC (derived in the trade notes)', () => {
    const sender = fitted(pointsFrom([37.8, 65.6, 93.3, 121.1], [450, 158.2, 64.3, 29.5]));
    for (const celsius of [80, 90, 100]) {
      const band = answered(toleranceBand(sender, celsius, 10));
      const half = (band.shownAtLowOhm - band.shownAtHighOhm) / 2;
      expect(half).toBeGreaterThan(3);
      expect(half).toBeLessThan(4);
      expect(band.highOhm / band.lowOhm).toBeCloseTo(1.1 / 0.9, 9);
    }
  });

  it('refuses a tolerance that leaves nothing', () => {
    expect(refusalCode(toleranceBand(betaSender, 50, 100))).toBe('SENDER_TOLERANCE');
    expect(refusalCode(toleranceBand(betaSender, 50, Number.NaN))).toBe('SENDER_TOLERANCE');
  });
});
