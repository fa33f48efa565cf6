import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  boilingPoint,
  type BoilingQuestion,
  saturationPressure,
  saturationTemperature,
  standardPressure,
} from '../../../host/core/water';
import { answered, refusalCode } from '../../support/answer';
import water from '../../vectors/iapws-if97-region4.json';
import air from '../../vectors/iso2533-standard-atmosphere.json';

const ZERO = 273.15;
const KELVIN = (celsius: number): number => celsius + ZERO;

describe('saturation line (IAPWS R7-97(2012), region 4)', () => {
  it('gives Table 35 to all nine digits', () => {
    water.table_35.T_K.forEach((kelvin, i) => {
      const { pressurePascal } = answered(saturationPressure(kelvin - ZERO));
      expect(pressurePascal / 1e6 / water.table_35.psat_MPa[i]!).toBeCloseTo(1, 8);
    });
  });

  it('gives Table 36 to all nine digits', () => {
    water.table_36.p_MPa.forEach((megapascal, i) => {
      const { temperatureCelsius } = answered(saturationTemperature(megapascal * 1e6));
      expect(KELVIN(temperatureCelsius) / water.table_36.Tsat_K[i]!).toBeCloseTo(1, 8);
    });
  });

  it('gives the boiling points computed independently from the same equation', () => {
    const { p_Pa, boiling_point_degC } = water.derived_boiling_points;
    p_Pa.forEach((pascal, i) =>
      expect(answered(saturationTemperature(pascal)).temperatureCelsius).toBeCloseTo(
        boiling_point_degC[i]!,
        5,
      ),
    );
  });

  it('has its two directions as inverses of each other', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 373.9, noNaN: true }), (temperatureCelsius) => {
        const { pressurePascal } = answered(saturationPressure(temperatureCelsius));
        const back = answered(saturationTemperature(pressurePascal)).temperatureCelsius;
        expect(Math.abs(back - temperatureCelsius)).toBeLessThan(1e-6);
      }),
    );
  });

  it.each([-1, 374, Number.NaN, Infinity])('refuses %s degC', (temperatureCelsius) => {
    expect(refusalCode(saturationPressure(temperatureCelsius))).toBe('WATER_TEMPERATURE');
  });

  it.each([0, -1, 600, 2.3e7, Number.NaN])('refuses %s Pa', (pressurePascal) => {
    expect(refusalCode(saturationTemperature(pressurePascal))).toBe('WATER_PRESSURE');
  });
});

describe('standard atmosphere (ISO 2533:1975)', () => {
  it('gives every pressure of the table to its six digits', () => {
    air.geopotential_altitude_m.forEach((metre, i) => {
      const hectopascal = answered(standardPressure(metre)).pressurePascal / 100;
      expect(Math.abs(hectopascal / air.pressure_hPa[i]! - 1)).toBeLessThan(5.1e-6);
    });
  });

  it.each([-2001, 11_001, Number.NaN])('refuses %s m', (metre) => {
    expect(refusalCode(standardPressure(metre))).toBe('WATER_ALTITUDE');
  });
});

describe('boiling point', () => {
  it('gives the boiling points over the altitudes of the table', () => {
    air.geopotential_altitude_m.forEach((altitudeMetre, i) => {
      const { temperatureCelsius } = answered(boilingPoint({ altitudeMetre }));
      // The reference used the six printed digits of the pressure: 1.5e-4 K at most.
      expect(Math.abs(temperatureCelsius - air.derived_boiling_points.boiling_point_degC[i]!)).toBeLessThan(
        2e-4,
      );
    });
  });

  it('boils 0.0257 K short of 100 degC at 1013.25 hPa', () => {
    const found = answered(boilingPoint({ pressurePascal: 101_325 }));
    expect(found.temperatureCelsius).toBeCloseTo(99.9743, 4);
    expect(found.temperatureFahrenheit).toBeCloseTo(211.9537, 3);
  });

  it('moves by 0.0277 K/hPa at sea level, and by half a degree for 20 hPa of weather (common practice: 0.0275)', () => {
    expect(answered(boilingPoint({ pressurePascal: 101_325 })).kelvinPerHectopascal).toBeCloseTo(0.02765, 4);
  });

  it('lies within 0.3 K of the quadratic of practice (worked example W10 of the trade; common practice, no source)', () => {
    const quadratic = (metre: number): number =>
      4.299969165e-8 * metre ** 2 - 0.0035531324 * metre + 100.0049216;
    expect(quadratic(-152)).toBeCloseTo(100.55, 2);
    expect(quadratic(4115)).toBeCloseTo(86.11, 2);
    expect(quadratic(6325)).toBeCloseTo(79.25, 2);
    for (const metre of [-152, 500, 1000, 1500, 2000, 4115]) {
      const { temperatureCelsius } = answered(boilingPoint({ altitudeMetre: metre }));
      expect(Math.abs(temperatureCelsius - quadratic(metre))).toBeLessThan(0.35);
    }
  });

  it('tells its slope with altitude as the difference quotient does', () => {
    const at = (altitudeMetre: number): number =>
      answered(boilingPoint({ altitudeMetre })).temperatureCelsius;
    const slope = answered(boilingPoint({ altitudeMetre: 1500 })).kelvinPerMetre!;
    expect(slope).toBeCloseTo((at(1501) - at(1499)) / 2, 7);
  });

  it('is better known from a barometer than from a map, and says of what its uncertainty is made', () => {
    const map = answered(boilingPoint({ altitudeMetre: 0 }));
    const barometer = answered(boilingPoint({ pressurePascal: 101_325 }));
    expect(barometer.expandedUncertaintyKelvin).toBeLessThan(map.expandedUncertaintyKelvin / 3);
    const squares = map.contributions.reduce((sum, { standardUncertaintyKelvin: u }) => sum + u * u, 0);
    expect(Math.sqrt(squares)).toBeCloseTo(map.standardUncertaintyKelvin, 12);
    expect(map.contributions.map(({ name }) => name)).toContain('weather');
  });

  it('falls with altitude and rises with pressure, always finite', () => {
    const anyMetre = fc.double({ min: -2000, max: 10_900, noNaN: true });
    fc.assert(
      fc.property(anyMetre, fc.double({ min: 1, max: 100, noNaN: true }), (metre, step) => {
        const [low, high] = [metre, metre + step].map((altitudeMetre) =>
          answered(boilingPoint({ altitudeMetre })),
        );
        expect(high!.temperatureCelsius).toBeLessThan(low!.temperatureCelsius);
        expect(high!.kelvinPerHectopascal).toBeGreaterThan(0);
        expect(Number.isFinite(high!.expandedUncertaintyKelvin)).toBe(true);
      }),
    );
  });

  it('refuses what is no altitude and no pressure', () => {
    const questions: [BoilingQuestion, string][] = [
      [{ altitudeMetre: 20_000 }, 'WATER_ALTITUDE'],
      [{ pressurePascal: 10 }, 'WATER_PRESSURE'],
      [{ pressurePascal: Number.NaN }, 'WATER_PRESSURE'],
    ];
    for (const [question, code] of questions) expect(refusalCode(boilingPoint(question))).toBe(code);
  });
});
