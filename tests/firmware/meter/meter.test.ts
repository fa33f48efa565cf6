import { describe, expect, it } from 'vitest';
import { contactBits, groundLead } from '../../../firmware-ts/board/reference-design';
import { METER_SILENT_MS } from '../../../firmware-ts/guard/meter-silent';
import { ohmmeterPair, uncorrected } from '../../../firmware-ts/meter/meter';
import { MeterRig } from './rig';

/** R6 and R7 left in: some 62 ohm, limiter out, output closed. */
const SIXTY_OHM = contactBits.allMask & ~(1 << 5) & ~(1 << 6);

function driving(options: ConstructorParameters<typeof MeterRig>[0] = {}): MeterRig {
  const rig = new MeterRig(options);
  rig.contacts.moveTo(SIXTY_OHM, rig.nowMs);
  rig.live(60);
  rig.meter.ripple.restart();
  return rig;
}

describe('the meter', () => {
  it('knows nothing before the first conversion, and says so with numbers that fail every comparison', () => {
    const { meter } = new MeterRig();
    expect([meter.terminalMicrovolt, meter.currentMicroamp, meter.groundSenseMicrovolt]).toEqual([
      NaN,
      NaN,
      NaN,
    ]);
    expect(meter.terminalMicrovolt <= 16e6 || meter.currentMicroamp <= 3e5).toBe(false);
  });

  it('reads volts and amps at the terminals as they are', () => {
    const rig = driving();
    const { senderVolt: volt, pathAmp: amp } = rig.world.volts;
    expect(rig.meter.terminalMicrovolt / 1e6).toBeCloseTo(volt, 2);
    // Before a calibration the shunt's own tolerance, 1 %, is in it.
    expect(Math.abs(rig.meter.currentMicroamp / 1e6 / amp - 1)).toBeLessThan(0.012);
    // Nothing corrects the feed lead: two parts of 1 % and the sleeve's resistor.
    expect(Math.abs(rig.meter.supplyMicrovolt / 1e6 - 13.5)).toBeLessThan(0.019 * (13.5 - 2.5));
  });

  it('reads them with their signs when the clips are swapped', () => {
    const rig = driving();
    rig.world.vehicle.settings.isReversed = true;
    rig.live(10);
    expect(rig.meter.terminalMicrovolt).toBeLessThan(-1e6);
    expect(rig.meter.currentMicroamp).toBeLessThan(-10_000);
  });

  it('takes gain and offsets of the calibration into account: offset first, then gain', () => {
    const plain = driving({ isRaw: true }).meter;
    const rig = new MeterRig({ isRaw: true });
    rig.meter.correction = {
      ...uncorrected,
      currentGainPartsPerMillion: 1e6,
      currentOffsetNanoamp: 1e6,
    };
    rig.contacts.moveTo(SIXTY_OHM, rig.nowMs);
    rig.live(60);
    expect(rig.meter.currentMicroamp).toBeCloseTo((plain.currentMicroamp - 1000) * 2, -2);
  });

  it('learns the scale of a divider of 1 % parts from what it reads at zero volts', () => {
    const worst = { raw: 0, corrected: 0 };
    for (let seed = 1; seed <= 12; seed += 1) {
      for (const isRaw of [true, false]) {
        const rig = driving({ seed, isRaw });
        const { senderVolt: volt } = rig.world.volts;
        const gap = Math.abs(rig.meter.terminalMicrovolt / 1e6 - volt);
        const key = isRaw ? 'raw' : 'corrected';
        worst[key] = Math.max(worst[key], gap / volt);
      }
    }
    expect(worst.raw).toBeGreaterThan(0.003);
    expect(worst.corrected).toBeLessThan(0.001);
  });

  it('sees the ground lead below box common by its drop', () => {
    const rig = driving();
    const dropMicrovolt = (rig.meter.currentMicroamp * groundLead.milliohm) / 1000;
    expect(rig.meter.groundSenseMicrovolt).toBeLessThan(0);
    expect(rig.meter.groundSenseMicrovolt).toBeCloseTo(-dropMicrovolt, -2);
  });

  it('sees battery negative against the ground clip, 4 mV in this vehicle and 20 mV with its lights on', () => {
    for (const mask of [0, SIXTY_OHM]) {
      const rig = new MeterRig();
      rig.contacts.moveTo(mask, rig.nowMs);
      const offset = (): number => {
        rig.live(60);
        return (rig.meter.groundSenseMicrovolt - rig.meter.groundOffsetMicrovolt) / 1000;
      };
      expect(offset()).toBeCloseTo(4, 0);
      rig.world.vehicle.settings.areLightsOn = true;
      expect(offset()).toBeCloseTo(20, 0);
    }
  });

  it('is never blind to volts and amps for longer than two conversions and the turns between them', () => {
    const rig = driving();
    let oldestMs = 0;
    for (let turn = 0; turn < 500; turn += 1) {
      rig.tick();
      oldestMs = Math.max(oldestMs, rig.nowMs - rig.meter.sampledAtMs);
    }
    expect(oldestMs).toBeLessThanOrEqual(28);
  });

  it('brings volts and amps four times in five, one conversion a turn at most', () => {
    const rig = driving();
    const turns = 1000;
    const before = rig.meter.sampleCount;
    const fresh = rig.live(turns);
    expect(fresh).toBe(rig.meter.sampleCount - before);
    expect(fresh).toBeGreaterThan(0.75 * turns);
    expect(fresh).toBeLessThanOrEqual(0.8 * turns + 1);
  });

  it('reads one pair only while told to, and goes back to its schedule', () => {
    const rig = driving();
    rig.meter.fix(ohmmeterPair);
    rig.live(3);
    const { groundSenseMicrovolt, supplyMicrovolt, currentMicroamp } = rig.meter;
    rig.world.vehicle.settings.supplyVolt = 9;
    rig.live(30);
    expect(rig.meter.isOutputPair).toBe(false);
    expect({ ...rig.meter }).toMatchObject({ groundSenseMicrovolt, supplyMicrovolt, currentMicroamp });
    rig.meter.fix(undefined);
    rig.live(30);
    expect(rig.meter.isOutputPair).toBe(true);
    expect(Math.abs(rig.meter.supplyMicrovolt / 1e6 - 9)).toBeLessThan(0.019 * (9 - 2.5));
  });

  it('puts nothing but the output into the ripple window', () => {
    const rig = driving();
    rig.meter.ripple.restart();
    rig.meter.fix(ohmmeterPair);
    rig.live(200);
    expect(rig.meter.ripple.evaluate().isKnown).toBe(false);
    rig.meter.fix(undefined);
    rig.live(200);
    expect(rig.meter.ripple.evaluate()).toMatchObject({ isKnown: true, isPulsing: false });
  });

  it.each([0, 1] as const)('sets up converter %i anew when that has forgotten its setting', (which) => {
    const rig = driving();
    rig.world.converters[which].dip();
    rig.world.vehicle.settings.supplyVolt = 9;
    let oldestMs = 0;
    for (let turn = 0; turn < 40; turn += 1) {
      rig.tick();
      oldestMs = Math.max(oldestMs, rig.nowMs - rig.meter.sampledAtMs);
    }
    // Blind for a moment, and known to be: never a number from before the dip that counts as new.
    expect(oldestMs).toBeGreaterThan(30);
    expect(oldestMs).toBeLessThan(METER_SILENT_MS);
    const { senderVolt: volt } = rig.world.volts;
    expect(rig.meter.terminalMicrovolt / 1e6).toBeCloseTo(volt, 1);
  });

  it('lets its numbers grow old while a converter hangs, and reads again when it answers', () => {
    const rig = driving();
    const hung = rig.world.converters[1];
    hung.isHung = true;
    const agedMs = (): number => rig.nowMs - rig.meter.sampledAtMs;
    let threw = 0;
    for (let turn = 0; turn < 20; turn += 1) {
      try {
        rig.tick();
      } catch {
        threw += 1;
      }
    }
    expect(threw).toBeGreaterThan(0);
    expect(agedMs()).toBeGreaterThan(100);
    hung.isHung = false;
    rig.live(10);
    expect(agedMs()).toBeLessThanOrEqual(28);
  });
});
