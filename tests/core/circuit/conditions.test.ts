import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import vectors from '../../vectors/circuit.json';
import { copperFactor, equivalentOhm } from '../../../host/core/circuit';
import {
  crossCoilState,
  heaterWatt,
  movingCoilFraction,
  twoCoilAngleDegrees,
} from '../../support/gauge-laws';

const calm = { supplyRatio: 1, riseKelvin: 0 };
const anyOhm = (): fc.Arbitrary<number> => fc.double({ min: 20, max: 1000, noNaN: true });
const anyRise = (): fc.Arbitrary<number> => fc.double({ min: -40, max: 60, noNaN: true });

describe('an equivalent sender resistance', () => {
  it('is the sender itself in normal surroundings', () => {
    for (const mechanism of ['thermal', 'two-coil', 'cross-coil', 'moving-coil', 'electronic'] as const)
      expect(equivalentOhm(mechanism, 75, calm, { gaugeOhm: 58, isStabilised: false })).toBeCloseTo(75, 9);
  });

  it('puts a warm two-coil gauge where its warm coils put it', () => {
    const { coil_ohm, warm_by_kelvin, warm_degrees_at_45_ohm } = vectors.two_coil;
    const factor = copperFactor(warm_by_kelvin);
    const seen = equivalentOhm(
      'two-coil',
      45,
      { supplyRatio: 1, riseKelvin: warm_by_kelvin },
      { isStabilised: false },
    );
    const cold = { limitingOhm: coil_ohm, operatingOhm: coil_ohm, turnsRatio: 1 };
    expect(twoCoilAngleDegrees(cold, seen!)).toBeCloseTo(warm_degrees_at_45_ohm, 1);
    expect(twoCoilAngleDegrees({ ...cold, operatingOhm: coil_ohm * factor }, 45)).toBeCloseTo(
      twoCoilAngleDegrees(cold, seen!),
      9,
    );
  });

  it('puts a warm cross-coil gauge where its warm coils put it', () => {
    const coils = { lowOhm: 100, buckingOhm: 80, highOhm: 90 };
    const turns = { lowTurns: 1, buckingTurns: 0.9, highTurns: 1 };
    fc.assert(
      fc.property(anyOhm(), anyRise(), (ohm, riseKelvin) => {
        const factor = copperFactor(riseKelvin);
        const warm = {
          lowOhm: coils.lowOhm * factor,
          buckingOhm: coils.buckingOhm * factor,
          highOhm: coils.highOhm * factor,
        };
        const seen = equivalentOhm(
          'cross-coil',
          ohm,
          { supplyRatio: 0.9, riseKelvin },
          { isStabilised: false },
        );
        expect(crossCoilState({ ...coils, ...turns }, seen!, 12).angleDegrees).toBeCloseTo(
          crossCoilState({ ...warm, ...turns }, ohm, 10.8).angleDegrees,
          9,
        );
      }),
    );
  });

  it('gives an unregulated thermal gauge the heat of the changed supply', () => {
    fc.assert(
      fc.property(anyOhm(), fc.double({ min: 0.8, max: 1.1, noNaN: true }), (ohm, supplyRatio) => {
        const seen = equivalentOhm(
          'thermal',
          ohm,
          { supplyRatio, riseKelvin: 30 },
          { gaugeOhm: 58, isStabilised: false },
        );
        const changed = heaterWatt({ heaterOhm: 58, effectiveVolt: 10 * supplyRatio }, ohm);
        expect(heaterWatt({ heaterOhm: 58, effectiveVolt: 10 }, seen!) / changed).toBeCloseTo(1, 9);
      }),
    );
  });

  it('ignores the battery where a stabiliser holds the feed', () => {
    expect(
      equivalentOhm('thermal', 75, { supplyRatio: 0.8, riseKelvin: 0 }, { gaugeOhm: 58, isStabilised: true }),
    ).toBeCloseTo(75, 12);
  });

  it('gives a warm moving coil its smaller current', () => {
    fc.assert(
      fc.property(anyOhm(), anyRise(), (ohm, riseKelvin) => {
        const seen = equivalentOhm(
          'moving-coil',
          ohm,
          { supplyRatio: 1, riseKelvin },
          { gaugeOhm: 60, isStabilised: false },
        );
        const warm = movingCoilFraction(
          { coilOhm: 60 * copperFactor(riseKelvin), fullScaleMilliamp: 5 },
          ohm,
          10,
        );
        fc.pre(seen! > 0);
        expect(movingCoilFraction({ coilOhm: 60, fullScaleMilliamp: 5 }, seen!, 10)).toBeCloseTo(warm, 9);
      }),
    );
  });

  it('is not known for an unknown mechanism, nor for a series gauge of unknown resistance', () => {
    expect(equivalentOhm('unknown', 75, calm, { gaugeOhm: 58, isStabilised: false })).toBeUndefined();
    expect(equivalentOhm('thermal', 75, calm, { isStabilised: false })).toBeUndefined();
  });

  it('never falls below a short', () => {
    expect(
      equivalentOhm('thermal', 0, { supplyRatio: 2, riseKelvin: 0 }, { gaugeOhm: 58, isStabilised: false }),
    ).toBe(0);
  });
});
