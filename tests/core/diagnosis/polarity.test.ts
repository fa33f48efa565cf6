import { describe, expect, it } from 'vitest';
import {
  cloudsOf,
  diagnose,
  families,
  testNames,
  testRow,
  type Reading,
  type Subject,
} from '../../../host/core/diagnosis';
import { polarityOf } from '../../../host/core/diagnosis/polarity';
import { runVehicle, partsOf } from '../../support/diagnosis-runs';

const subject: Subject = { family: families['two-coil-fuel'], way: 'meter', standsAt: 0.5 };
const clouds = cloudsOf(subject, 1);
const BATTERY: Reading = { test: 'battery', value: -12.6 };
const grounded = (value: 0 | 1): Reading => ({ test: 'grounded-post', value });

describe('volts below zero', () => {
  it('ask which post is ground before anything else, and name nothing until then', () => {
    const { next, named, isPositiveGround, findings } = diagnose(clouds, { readings: [BATTERY] });
    expect(next).toMatchObject({ test: 'grounded-post', why: 'sign' });
    expect(named).toEqual([]);
    expect(isPositiveGround).toBe(false);
    expect(findings).toEqual([]);
  });

  it('are no fault where the positive post is ground: believed as the same volts above zero', () => {
    const upright = diagnose(clouds, { readings: [{ ...BATTERY, value: 12.6 }] });
    for (const value of [-12.6, 12.6]) {
      const found = diagnose(clouds, {
        readings: [{ ...BATTERY, value: -12.6 }, grounded(1), { ...BATTERY, value }],
      });
      expect(found.isPositiveGround).toBe(true);
      expect(found.findings.find(({ test }) => test === 'battery')?.value).toBeCloseTo(12.6, 6);
      expect(found.suspects[0]?.part).toBe(upright.suspects[0]?.part);
      const supply = (each: typeof found): number =>
        each.suspects.find(({ part }) => part === 'supply')?.share ?? 0;
      expect(supply(found)).toBeLessThan(1.2 * supply(upright));
    }
  });

  it('are swapped tips where the negative post is ground: read again, never changed', () => {
    const { next, findings } = diagnose(clouds, { readings: [BATTERY, grounded(0)] });
    expect(next).toMatchObject({ test: 'battery', why: 'sign' });
    expect(findings.map(({ test }) => test)).not.toContain('battery');
    const again = diagnose(clouds, { readings: [BATTERY, grounded(0), { test: 'battery', value: 12.6 }] });
    expect(again.next?.why).not.toBe('sign');
    expect(again.findings.find(({ test }) => test === 'battery')?.value).toBe(12.6);
  });

  it('stand for the fact where nobody can look', () => {
    expect(diagnose(clouds, { readings: [BATTERY], skipped: ['grounded-post'] }).isPositiveGround).toBe(true);
  });

  it('of a few millivolts about zero ask nothing', () => {
    const readings: Reading[] = [
      { test: 'hex-quiet', value: -0.4 },
      { test: 'open-volt', value: -0.02 },
    ];
    expect(polarityOf(readings, []).asks).toBeUndefined();
  });

  it('are those of the tests in volt, and millivolts follow them', () => {
    for (const test of testNames) {
      const { measure } = testRow(test);
      const asks = polarityOf([{ test, value: -5 }], []).asks;
      expect(asks, test).toBe(measure === 'volt' ? 'grounded-post' : undefined);
      const [first] = polarityOf([{ test, value: -5 }, grounded(1)], []).readings;
      expect(first?.value, test).toBe(measure === 'volt' || measure === 'millivolt' ? 5 : -5);
    }
  });
});

describe('a vehicle with positive ground', () => {
  it.each([
    ['thermal-temperature', 'wire-corroded', 'box'],
    ['two-coil-fuel', 'weak-battery', 'box'],
    ['cross-coil-temperature', 'shared-ground', 'meter'],
    ['electronic-temperature', 'wire-chafed', 'box'],
  ] as const)('is checked like any other: %s with %s', (family, fault, way) => {
    const round = { seed: 41, way, wrongDigits: 0, isPositiveGround: true };
    const run = runVehicle(family, [fault], round);
    const other = runVehicle(family, [fault], { ...round, isPositiveGround: false });
    expect(run.last.isPositiveGround).toBe(true);
    expect(other.last.isPositiveGround).toBe(false);
    expect(partsOf(run)).toContain(run.last.suspects[0]?.part);
    expect(run.last.named.map(({ part }) => part)).toEqual(other.last.named.map(({ part }) => part));
  });
});
