import { describe, expect, it } from 'vitest';
import {
  anchorAt,
  driveOf,
  hotCurveOf,
  leadSourceFrom,
  ohmAtRise,
  riseAt,
  runAwayAt,
  throughLadder,
} from '../../../host/core/at-work';
import type { Drive, HotCurve, Place } from '../../../host/core/at-work';
import { answered, refusalCode } from '../../support/answer';
import { thermistor } from '../network/curves';
import { leadOf, originals, worldOf } from './originals';
import { beadOhm, settled, terminalVolt } from './world';

const curveOf = (sender: ReturnType<typeof thermistor>, from = 20, to = 120): HotCurve => {
  const curve = hotCurveOf(sender, { from, to });
  if (curve === undefined) throw new Error('no curve');
  return curve;
};

/** Rise at a true value of a sender with that resistance. */
const riseOf = (curve: HotCurve, place: Place, drive: Drive, wattPerKelvin: number): number =>
  riseAt(curve, anchorAt(curve, place), drive, wattPerKelvin);

// The definition as a maker prints it, read: Mitsubishi Materials, thermistors, heat dissipation constant,
// delta = P / (T1 - T2), P = I^2 R. That IEC 60539-1 defines it alike is from memory.
describe('the dissipation factor, P = delta (T - T ambient)', () => {
  it('gives the rise of a thermistor maker\u2019s worked example: 1.5 mW/K and 1 mA', () => {
    // The example that textbooks and makers' notes print in many forms: 10 kohm at 25 degC, 1 mA, 10 mW, so 6.7 K at
    // 1.5 mW/K as long as the resistance is held. From memory; recomputed here by hand: 0.010 / 0.0015 = 6.667.
    const flat = { ...thermistor(10_000, 3977), ohm: (celsius: number) => 10_000 - 1e-6 * celsius };
    const rise = riseOf(
      curveOf(flat),
      { value: 25, coldOhm: 10_000 },
      { own: 1, shared: 0, drive: 1e-3 },
      1.5e-3,
    );
    expect(rise).toBeCloseTo(6.667, 3);
  });

  it('warms a 40 ohm sender at 100 mA by 8 to 13 K at 30 to 50 mW/K: 0.4 W (common practice, no source)', () => {
    const flat = { ...thermistor(700, 3800), ohm: (celsius: number) => 40 - 1e-6 * celsius };
    const at = (wattPerKelvin: number): number =>
      riseOf(curveOf(flat), { value: 95, coldOhm: 40 }, { own: 1, shared: 0, drive: 0.1 }, wattPerKelvin);
    expect(at(0.05)).toBeCloseTo(8, 2);
    expect(at(0.03)).toBeCloseTo(13.33, 2);
  });

  it('moves a two-coil temperature gauge by what a maker\u2019s note says of 13 and 15 V: 5 to 6 degF, for a small sender', () => {
    // The note speaks of gauges "compensated" at 14 V that shift by 5 to 6 degF a volt; ratio gauges do not feel the volts
    // themselves, so it can only be the sender's heat. Figures of the circuit: 90 and 90 ohm, 55 ohm at 212 degF.
    const sender = thermistor(700, 3711);
    const curve = curveOf(sender);
    const place = { value: 100, coldOhm: sender.ohm(100) };
    const rise = (volt: number, wattPerKelvin: number): number =>
      riseOf(curve, place, driveOf({ volt: volt / 2, ohm: 45 }), wattPerKelvin);
    const fahrenheit = (wattPerKelvin: number): number =>
      1.8 * (rise(15, wattPerKelvin) - rise(14, wattPerKelvin));
    expect(fahrenheit(0.012)).toBeGreaterThan(5);
    expect(fahrenheit(0.07)).toBeLessThan(5);
  });
});

describe('the working point', () => {
  it('is where a body integrated in time comes to rest', () => {
    for (const original of originals) {
      for (const wattPerKelvin of [0.025, 0.06]) {
        const world = worldOf(original, wattPerKelvin);
        const sender = { ...thermistor(1, 1), ohm: (celsius: number) => beadOhm(world.body, celsius) };
        const curve = curveOf(sender, 40);
        for (const celsius of [50, 95]) {
          const place = { value: celsius, coldOhm: sender.ohm(celsius) };
          const rise = riseOf(curve, place, driveOf(leadOf(original.world)), wattPerKelvin);
          const inWorld = settled(world, celsius);
          expect(Math.abs(rise - (inWorld.celsius - celsius))).toBeLessThan(0.12);
          expect(ohmAtRise(curve, anchorAt(curve, place), rise) / inWorld.ohm).toBeCloseTo(1, 2);
        }
      }
    }
  });

  it('is refused where the sender runs away, and the body in the world then heats on and on', () => {
    const strong = worldOf(
      { ...originals[0]!, world: { ...originals[0]!.world, feed: { volt: 30, onSecond: 1, offSecond: 0 } } },
      0.02,
    );
    const sender = { ...thermistor(1, 1), ohm: (celsius: number) => beadOhm(strong.body, celsius) };
    const curve = curveOf(sender, 40);
    const places = [50, 80].map((value) => ({ value, coldOhm: sender.ohm(value) }));
    const found = runAwayAt(curve, places, { volt: 30, ohm: 58 }, 0.02);
    expect(found?.value).toBe(50);
    // kappa = 1 at about 33 K of own heat for an NTC.
    expect(found!.watt / 0.02).toBeGreaterThan(25);
    expect(found!.watt / 0.02).toBeLessThan(45);
    expect(settled(strong, 50).celsius - 50).toBeGreaterThan(45);
    expect(runAwayAt(curve, places, { volt: 10, ohm: 58 }, 0.05)).toBeUndefined();
  });

  it('carries a curve on where its points end, for the sender is hotter than the coolant there', () => {
    const sender = thermistor(700, 3800);
    const held = { ...sender, knownTo: 100, ohm: (celsius: number) => sender.ohm(Math.min(100, celsius)) };
    const place = { value: 100, coldOhm: sender.ohm(100) };
    const drive = driveOf({ volt: 10, ohm: 58 });
    const [known, ended] = [curveOf(sender, 40, 100), curveOf(held, 40, 100)];
    expect(riseOf(ended, place, drive, 0.04)).toBeCloseTo(riseOf(known, place, drive, 0.04), 1);
    const [far, near] = [known, ended].map((curve) => ohmAtRise(curve, anchorAt(curve, place), 8));
    expect(near! / far!).toBeCloseTo(1, 1);
  });

  it('counts nothing for a sender that measures no temperature', () => {
    expect(hotCurveOf({ ...thermistor(700, 3800), quantity: 'fuel' }, { from: 0, to: 100 })).toBeUndefined();
  });
});

describe('the source behind a sender lead', () => {
  it('comes from the volts at two loads, with two terminals and with three', () => {
    for (const original of originals.filter(({ world }) => world.feed.offSecond === 0)) {
      const world = worldOf(original, 0.04);
      const reading = (ohm: number) => ({ ohm, volt: terminalVolt(world, ohm) });
      const found = answered(leadSourceFrom(reading(30), reading(300)));
      const open = answered(leadSourceFrom({ ohm: Infinity, volt: terminalVolt(world, 1e12) }, reading(40)));
      const truth = leadOf(original.world);
      for (const each of [found, open]) {
        expect(each.volt).toBeCloseTo(truth.volt, 6);
        expect(each.ohm).toBeCloseTo(truth.ohm, 5);
      }
    }
  });

  it('is refused where the volts do not grow with the ohms', () => {
    expect(refusalCode(leadSourceFrom({ ohm: 40, volt: 5 }, { ohm: 200, volt: 4 }))).toBe('LEAD_READINGS');
    expect(refusalCode(leadSourceFrom({ ohm: 0, volt: 5 }, { ohm: 200, volt: 4 }))).toBe('LEAD_READINGS');
    expect(refusalCode(leadSourceFrom({ ohm: 40, volt: NaN }, { ohm: 200, volt: 4 }))).toBe('LEAD_READINGS');
  });

  it('is divided by a shunt and lengthened by what lies in the lead', () => {
    // 12 V behind 60 ohm, 60 ohm to ground: 6 V behind 30 ohm. Textbook.
    expect(throughLadder({ volt: 12, ohm: 60 }, 0, 60, 0)).toEqual({ volt: 6, ohm: 30 });
    expect(throughLadder({ volt: 12, ohm: 40 }, 20, 60, 5)).toEqual({ volt: 6, ohm: 35 });
    expect(throughLadder({ volt: 12, ohm: 40 }, Infinity, 60, 5)).toEqual({ volt: 0, ohm: 65 });
    expect(throughLadder({ volt: 12, ohm: 40 }, 20, 0, 5)).toEqual({ volt: 0, ohm: 5 });
  });
});
