import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import vectors from '../../vectors/circuit.json';
import { inCircuitSenderOhm } from '../../../host/core/circuit';
import {
  crossCoilState,
  dividerVolt,
  heaterMilliamp,
  heaterWatt,
  movingCoilFraction,
  twoCoilAngleDegrees,
  twoCoilState,
} from '../../support/gauge-laws';

const anyOhm = (): fc.Arbitrary<number> => fc.double({ min: 1, max: 1000, noNaN: true });

describe('thermal gauge', () => {
  const { heater_ohm, effective_volt, milliamp, short_over_full_scale_heat } = vectors.thermal;
  const gauge = { heaterOhm: heater_ohm, effectiveVolt: effective_volt };

  it.each(milliamp)('carries $milliamp mA at $sender_ohm ohm', ({ sender_ohm, milliamp: wanted }) => {
    expect(Math.abs(heaterMilliamp(gauge, sender_ohm) / wanted - 1)).toBeLessThan(2e-3);
  });

  it('takes 3.3 times its full-scale heat from a shorted sender', () => {
    expect(heaterWatt(gauge, 0) / heaterWatt(gauge, 10)).toBeCloseTo(short_over_full_scale_heat, 1);
  });

  it('has no heat with the sender open', () => {
    expect(heaterWatt(gauge, Infinity)).toBe(0);
    expect(heaterMilliamp(gauge, Infinity)).toBe(0);
  });
});

describe('two-coil gauge', () => {
  const { coil_ohm, supply_volt, angles, currents, open_degrees, open_milliamp } = vectors.two_coil;
  const gauge = { limitingOhm: coil_ohm, operatingOhm: coil_ohm, turnsRatio: 1 };

  it.each(angles)('points to $degrees degrees at $sender_ohm ohm', ({ sender_ohm, degrees }) => {
    expect(twoCoilAngleDegrees(gauge, sender_ohm)).toBeCloseTo(degrees, 2);
  });

  it.each(currents)('draws $limiting_milliamp mA at $sender_ohm ohm', (row) => {
    const state = twoCoilState(gauge, row.sender_ohm, supply_volt);
    expect(state.limitingMilliamp).toBeCloseTo(row.limiting_milliamp, 9);
    expect(state.operatingMilliamp).toBeCloseTo(row.operating_milliamp, 9);
  });

  it('rests at 45 degrees and 70 mA with the sender open', () => {
    const state = twoCoilState(gauge, Infinity, supply_volt);
    expect(state.angleDegrees).toBeCloseTo(open_degrees, 12);
    expect(state.limitingMilliamp).toBeCloseTo(open_milliamp, 9);
  });

  it('points the same way from 9 to 16 V', () => {
    fc.assert(
      fc.property(anyOhm(), fc.double({ min: 9, max: 16, noNaN: true }), (ohm, volt) => {
        const { limitingMilliamp, operatingMilliamp, angleDegrees } = twoCoilState(gauge, ohm, volt);
        const byCurrents = (180 / Math.PI) * Math.atan2(operatingMilliamp, limitingMilliamp);
        expect(angleDegrees).toBeCloseTo(byCurrents, 10);
        expect(angleDegrees).toBe(twoCoilState(gauge, ohm, 12).angleDegrees);
      }),
    );
  });
});

describe('cross-coil gauge', () => {
  const coils = { lowOhm: 100, buckingOhm: 40, highOhm: 60 };
  const gauge = { ...coils, lowTurns: 1, buckingTurns: 1.5, highTurns: 1, ballastOhm: 20 };

  it('obeys both of Kirchhoff’s laws', () => {
    fc.assert(
      fc.property(anyOhm(), fc.double({ min: 9, max: 16, noNaN: true }), (ohm, volt) => {
        const { lowMilliamp, highMilliamp, senderMilliamp } = crossCoilState(gauge, ohm, volt);
        const nodeVolt = (senderMilliamp / 1000) * ohm;
        expect((highMilliamp / 1000) * (gauge.buckingOhm + gauge.highOhm)).toBeCloseTo(nodeVolt, 9);
        expect(highMilliamp + senderMilliamp).toBeCloseTo(lowMilliamp, 9);
        expect((lowMilliamp / 1000) * (gauge.lowOhm + gauge.ballastOhm) + nodeVolt).toBeCloseTo(volt, 9);
      }),
    );
  });

  it('at empty is set by the low coil alone, and carries most in the others at full', () => {
    const empty = crossCoilState(gauge, 0, 12);
    const full = crossCoilState(gauge, Infinity, 12);
    expect(empty).toMatchObject({ angleDegrees: 0, highMilliamp: 0 });
    expect(full.senderMilliamp).toBe(0);
    expect(full.highMilliamp).toBeGreaterThan(crossCoilState(gauge, 90, 12).highMilliamp);
  });

  it('turns one way as the sender rises, beyond a right angle, whatever the supply', () => {
    const angles = [0, 20, 60, 120, 240, Infinity].map((ohm) => crossCoilState(gauge, ohm, 12).angleDegrees);
    expect(angles).toEqual([...angles].sort((one, other) => one - other));
    expect(angles.at(-1)).toBeGreaterThan(90);
    expect(crossCoilState(gauge, 60, 9).angleDegrees).toBeCloseTo(angles[2]!, 10);
  });

  it('without a bucking coil is a two-coil gauge', () => {
    const plain = { lowOhm: 90, buckingOhm: 0, highOhm: 90, lowTurns: 1, buckingTurns: 0, highTurns: 1 };
    const twoCoil = { limitingOhm: 90, operatingOhm: 90, turnsRatio: 1 };
    expect(crossCoilState(plain, 45, 12.6).angleDegrees).toBeCloseTo(twoCoilAngleDegrees(twoCoil, 45), 9);
    expect(crossCoilState(plain, 45, 12.6).lowMilliamp).toBeCloseTo(105, 9);
  });
});

describe('moving-coil gauge', () => {
  it('is at full scale with its full-scale current and at zero with the sender open', () => {
    const gauge = { coilOhm: 200, fullScaleMilliamp: 5 };
    expect(movingCoilFraction(gauge, 1800, 10)).toBeCloseTo(1, 12);
    expect(movingCoilFraction(gauge, 1800, 11)).toBeCloseTo(1.1, 12);
    expect(movingCoilFraction(gauge, Infinity, 10)).toBe(0);
  });
});

describe('electronic gauge', () => {
  const { reference_volt, pull_up_ohm, cases } = vectors.divider;
  it.each(cases)('sees $volt V at $sender_ohm ohm', ({ sender_ohm, volt }) => {
    expect(dividerVolt(sender_ohm, pull_up_ohm, reference_volt)).toBeCloseTo(volt, 4);
  });

  it('sees its reference with the sender open', () => {
    expect(dividerVolt(Infinity, pull_up_ohm, reference_volt)).toBe(reference_volt);
  });
});

describe('a sender measured without unplugging it', () => {
  it('has the resistance that makes the measured voltage', () => {
    fc.assert(
      fc.property(
        anyOhm(),
        anyOhm(),
        fc.double({ min: 4, max: 16, noNaN: true }),
        (gaugeOhm, senderOhm, supplyVolt) => {
          const studVolt = (supplyVolt * senderOhm) / (gaugeOhm + senderOhm);
          const found = inCircuitSenderOhm(studVolt, supplyVolt, gaugeOhm);
          expect(found.kind === 'ohm' && found.ohm / senderOhm).toBeCloseTo(1, 9);
        },
      ),
    );
  });

  it('is refused when the stud shows the full supply or less than ground', () => {
    expect(inCircuitSenderOhm(10, 10, 58)).toMatchObject({ kind: 'refused', code: 'IN_CIRCUIT' });
    expect(inCircuitSenderOhm(-0.1, 10, 58)).toMatchObject({ code: 'IN_CIRCUIT' });
    expect(inCircuitSenderOhm(Number.NaN, 10, 58)).toMatchObject({ code: 'IN_CIRCUIT' });
    expect(inCircuitSenderOhm(5, 10, 0)).toMatchObject({
      slots: { gaugeOhm: 0 },
    });
  });
});
