import { hasMeterFlag, jobKinds } from '../../../protocol';
import { Bench } from '../bench';
import { equal, isTrue, near, rule } from '../check';

export const meter = [
  rule('sees a pulsing stabiliser with duty, period and the steady voltage that would heat alike', () => {
    const bench = new Bench({ gauge: 'thermal-temperature' });
    bench.hello();
    bench.box.advance(6000);
    const seen = bench.ask('measure', { channel: 0 });
    isTrue(hasMeterFlag(seen.meterFlags ?? 0, 'pulsing'), 'pulsing');
    // 10 V heat-equivalent from 13.5 V: duty (10/13.5)^2 = 549 permille, mean 7.41 V.
    near(seen.heatMicrovolt, 10e6, { by: 60_000, what: 'heat-equivalent voltage, not the mean of 7.4 V' });
    near(seen.dutyPermille, 549, { by: 10, what: 'duty' });
    near(seen.pulsePeriodMs, 1000, { by: 10, what: 'period' });
    near(seen.highMicrovolt, 13.5e6, { by: 20_000, what: 'high' });
  }),
  rule('calls a steady feed steady', () => {
    const bench = new Bench({ gauge: 'two-coil-fuel' });
    bench.hello();
    bench.box.advance(3000);
    const seen = bench.ask('measure', { channel: 0 });
    isTrue(!hasMeterFlag(seen.meterFlags ?? 0, 'pulsing'), 'steady');
    near(seen.heatMicrovolt, 6.75e6, { by: 8_000, what: 'volts' });
    near(seen.openCircuitMicrovolt, 6.75e6, { by: 8_000, what: 'open circuit' });
  }),
  rule('shows the resistance between the pulses too', () => {
    const bench = Bench.driving(90, { gauge: 'thermal-temperature' });
    for (let look = 0; look < 20; look += 1) {
      const beat = bench.live(130);
      if (look < 10) continue;
      isTrue(hasMeterFlag(beat.meterFlags ?? 0, 'resistanceKnown'), 'known');
      near(beat.measuredMilliohm, beat.madeMilliohm ?? 0, { by: 300, what: 'measured against made' });
    }
  }),
  rule('shows no resistance for long when no current flows any more', () => {
    const bench = Bench.driving(50, { jobKind: 'magnetic', gauge: 'two-coil-fuel' });
    bench.live(500);
    bench.box.world.vehicle.settings.isConnected = false;
    const known: boolean[] = [];
    for (const forMs of [2000, 1500]) {
      const { meterFlags = 0 } = bench.live(forMs);
      known.push(hasMeterFlag(meterFlags, 'resistanceKnown'));
    }
    equal(known, [true, false], 'known after two seconds and after three and a half');
  }),
  rule('shows no current of before once the output is open', () => {
    const bench = Bench.driving(50, { jobKind: 'magnetic', gauge: 'two-coil-fuel' });
    bench.live(500);
    isTrue((bench.beat().currentMicroamp ?? 0) > 20_000, 'driven');
    bench.ask('open', { channel: 0 });
    bench.box.advance(60);
    for (let look = 0; look < 20; look += 1) {
      bench.box.advance(10);
      near(bench.beat().currentMicroamp, 0, { by: 300, what: `microamp, look ${look}` });
    }
  }),
  rule('delivers fresh volts and amps at more than ten a second', () => {
    const bench = Bench.driving(50);
    for (let look = 0; look < 40; look += 1) {
      bench.box.advance(37);
      isTrue((bench.beat().meterAgeMs ?? 999) <= 100, 'young');
    }
  }),
  rule('sees the offset between its ground clip and battery negative', () => {
    const bench = new Bench();
    bench.hello();
    bench.box.world.vehicle.settings.areLightsOn = true;
    bench.box.advance(500);
    near(bench.ask('measure', { channel: 0 }).groundOffsetMicrovolt, 20_000, { by: 300, what: 'lights on' });
  }),
  rule('measures a sender on the bench at both currents', () => {
    const bench = new Bench();
    bench.hello();
    for (const [ohm, currentMicroamp] of [
      [48.2, 10_000],
      [48.2, 500],
      [2100, 500],
    ] as const) {
      bench.box.world.calPost = { kind: 'sender', ohm };
      const seen = bench.ask('ohmmeter', { channel: 0, jobKind: jobKinds.thermal, currentMicroamp });
      near((seen.milliohm ?? 0) / 1000, ohm, {
        by: 0.15 + 0.002 * ohm,
        what: `${ohm} ohm at ${currentMicroamp} uA`,
      });
      const covered = 3 * (seen.uncertaintyMilliohm ?? 0);
      near(seen.milliohm, ohm * 1000, { by: covered, what: 'covered by three standard uncertainties' });
    }
  }),
  rule('uses only the small current on a fuel sender, and only when nothing is armed', () => {
    const bench = new Bench();
    bench.hello();
    bench.box.world.calPost = { kind: 'sender', ohm: 30 };
    const fuel = { channel: 0, jobKind: jobKinds.fuel };
    const refused = bench.ask('ohmmeter', { ...fuel, currentMicroamp: 10_000 });
    equal([refused.refused, refused.detail], ['OHMMETER_CURRENT', 500], 'large current');
    equal(bench.ask('ohmmeter', { ...fuel, currentMicroamp: 500 }).refused, undefined, 'small current');
    bench.box.world.calPost = { kind: 'open' };
    bench.arm();
    equal(bench.ask('ohmmeter', { ...fuel, currentMicroamp: 500 }).refused, 'STATE', 'armed');
  }),
  rule('says so when no sender is connected, or the vehicle still is', () => {
    const bench = new Bench();
    bench.hello();
    const fields = { channel: 0, jobKind: jobKinds.thermal, currentMicroamp: 10_000 };
    equal(bench.ask('ohmmeter', fields).refused, 'SUPPLY_PRESENT', 'vehicle on the clips');
    bench.box.world.vehicle.settings.isConnected = false;
    equal(bench.ask('ohmmeter', fields).refused, 'OPEN_LEAD', 'nothing there');
  }),
];
