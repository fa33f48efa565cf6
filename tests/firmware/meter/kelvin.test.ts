import { describe, expect, it } from 'vitest';
import { contactBits, ohmmeter } from '../../../firmware-ts/board/reference-design';
import { RATIO_UNCERTAINTY } from '../../../firmware-ts/meter/kelvin';
import type { KelvinResult } from '../../../firmware-ts/meter/kelvin';
import type { SourceRange } from '../../../firmware-ts/meter/source';
import { MeterRig } from './rig';

const SEEDS = [1, 2, 3, 4, 5, 6, 7, 8];

function measured(ohm: number, range: SourceRange, of: { seed: number; isRaw?: boolean }): KelvinResult {
  const rig = new MeterRig(of);
  rig.world.calPost = { kind: 'sender', ohm };
  return rig.measure({ range, withShunt: false });
}

describe('a ratio measurement', () => {
  // Reference 0.1 %, amplifier 0.05 %, leakage 0.02 %: no box is further off than their sum, plus the meter's noise.
  const GAIN_LIMIT = 0.0018;
  const NOISE_OHM = { low: 0.15, high: 0.01 } as const;

  it.each([
    [3, 'high'],
    [48.2, 'high'],
    [300, 'high'],
    [3, 'low'],
    [48.2, 'low'],
    [2100, 'low'],
    [6300, 'low'],
  ] as const)('of %f ohm at the %s current finds it within reference, divider and noise', (ohm, range) => {
    for (const seed of SEEDS) {
      const result = measured(ohm, range, { seed });
      expect(Math.abs(result.ohm - ohm)).toBeLessThan(GAIN_LIMIT * ohm + NOISE_OHM[range]);
      // Four, because of the many measurements here: one in a hundred would pass three.
      expect(Math.abs(result.ohm - ohm)).toBeLessThan(4 * result.uncertaintyOhm);
    }
  });

  it('states at least the uncertainty of its reference, and more where noise rules', () => {
    const [fine, noisy] = [measured(300, 'high', { seed: 1 }), measured(3, 'low', { seed: 1 })];
    expect(fine.uncertaintyOhm).toBeGreaterThanOrEqual(0.998 * 300 * RATIO_UNCERTAINTY);
    expect(fine.uncertaintyOhm).toBeLessThan(300 * RATIO_UNCERTAINTY * 1.1);
    expect(noisy.uncertaintyOhm).toBeGreaterThan(3 * 3 * RATIO_UNCERTAINTY);
  });

  it('takes off what the terminals carry with the source off', () => {
    // The zero of a divider of 1 % parts, up to 47 mV, is 90 ohm at the small current.
    const found = SEEDS.map((seed) => measured(10, 'low', { seed, isRaw: true }));
    const offsets = found.map(({ offMicrovolt }) => offMicrovolt);
    expect(Math.max(...offsets) - Math.min(...offsets)).toBeGreaterThan(10_000);
    for (const { ohm } of found) expect(Math.abs(ohm - 10)).toBeLessThan(0.15 + 0.02 * 10);
  });

  it('tells the current that really flows, near the one of the range', () => {
    for (const range of ['low', 'high'] as const) {
      const { currentMicroamp, terminalMicrovolt } = measured(100, range, { seed: 3 });
      // R94 and R95 leave 0.49 V of the 0.5: 1.7 % less than the nominal current; the box tells it through 1 % dividers.
      expect(currentMicroamp / ohmmeter[range].microamp).toBeCloseTo(0.983, 1);
      expect(terminalMicrovolt / currentMicroamp).toBeCloseTo(100, 0);
    }
  });

  it('of nothing finds no current and no number that is none', () => {
    const rig = new MeterRig();
    rig.world.vehicle.settings.isConnected = false;
    const result = rig.measure({ range: 'low', withShunt: false });
    expect(Math.abs(result.currentMicroamp)).toBeLessThan(0.05 * ohmmeter.low.microamp);
    expect(Number.isFinite(result.terminalMicrovolt + result.offMicrovolt + result.currentMicroamp)).toBe(
      true,
    );
  });

  it('drives nothing before and nothing afterwards', () => {
    const rig = new MeterRig();
    rig.world.calPost = { kind: 'sender', ohm: 100 };
    rig.measure({ range: 'high', withShunt: false });
    rig.live(20);
    expect(Math.abs(rig.meter.terminalMicrovolt)).toBeLessThan(1000);
    expect(rig.meter.isOutputPair).toBe(true);
  });
});

describe('a second look with one more resistor inserted', () => {
  const R7 = 6;
  const inserted = contactBits.allMask & ~(1 << R7);

  it('finds what that resistor adds, whatever contacts and leads leave', () => {
    for (const seed of SEEDS) {
      const rig = new MeterRig({ seed });
      rig.world.calPost = { kind: 'chain' };
      rig.contacts.moveTo(contactBits.allMask, rig.nowMs);
      const result = rig.measure({ range: 'high', withShunt: false, secondMask: inserted });
      const trueOhm = rig.world.settledOhm(inserted) - rig.world.settledOhm(contactBits.allMask);
      // One contact opens between the looks: what it had when closed repeats within some milliohms.
      expect(Math.abs(result.addedOhm - trueOhm)).toBeLessThan(0.0018 * trueOhm + 0.05);
      expect(Math.abs(result.addedOhm - trueOhm)).toBeLessThan(3 * result.addedUncertaintyOhm + 0.05);
      expect(result.ohm).toBeLessThan(5);
    }
  });

  it('adds nothing when there is none', () => {
    expect(measured(100, 'high', { seed: 1 }).addedOhm).toBe(0);
  });

  it('finds the gain of the shunt channel from the same current', () => {
    const rig = new MeterRig({ seed: 9, isRaw: true });
    rig.world.calPost = { kind: 'chain' };
    rig.contacts.moveTo(contactBits.allMask, rig.nowMs);
    const { currentMicroamp, shuntOnMicroamp, shuntOffMicroamp, ...result } = rig.measure({
      range: 'high',
      withShunt: true,
    });
    // The shunt is 0.5 ohm within 1 %, and the channel reads its zero with nothing flowing.
    const { frontEnd } = rig.world;
    expect(Math.abs(shuntOffMicroamp - frontEnd.currentZeroMicroamp)).toBeLessThan(2);
    const gain = (shuntOnMicroamp - shuntOffMicroamp) / currentMicroamp;
    expect(gain).toBeCloseTo(rig.world.chain.shuntOhm / 0.5, 2);
    for (const name of ['groundSense', 'groundOffset'] as const)
      expect(Math.abs(result[`${name}Microvolt`] - frontEnd.shownMicrovolt(name, 0))).toBeLessThan(20);
  });
});
