import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { faults, jobKinds } from '../../../protocol';
import type { JobKind } from '../../../protocol';
import { Bench } from '../bench';
import { someOf } from '../../support/deep';
import { engineState } from '../xsnap-install';
import { ChipFirmware } from './firmware';
import { BEAT_MS, drivingNearest, hold, holds } from './holding';

const HOLD_MS = 20_000;
const FLOOR_MS = 5_000;

describe.skipIf(engineState().kind === 'absent')('in chip time the box', () => {
  let firmware: ChipFirmware;
  beforeAll(async () => {
    firmware = await ChipFirmware.load();
  });
  afterAll(() => firmware.quit());

  const driving = (gauge: string, jobKind: JobKind, ohm: number): Bench =>
    drivingNearest(ohm, { gauge, jobKind, firmware: firmware.start });

  it.each(someOf(holds, 3))(
    'holds %d ohm in a %s job for twenty seconds under %s',
    (ohm, jobKind, ask, gauge) => {
      const bench = driving(gauge, jobKind, ohm);
      hold(bench, ask, HOLD_MS);
      expect(bench.events).toEqual([]);
      expect(Math.abs(bench.box.world.pathOhm - ohm)).toBeLessThan(0.65 + 0.001 * ohm);
    },
  );

  it('opens five seconds after it was set below the floor', () => {
    const bench = driving('thermal-fuel-steady', 'thermal', 6.8);
    expect(bench.box.world.pathOhm).toBeLessThan(7.4);
    const tookMs = hold(bench, 'heartbeat', HOLD_MS);
    expect(bench.events.map(({ faultCode }) => faultCode)).toEqual([faults.LOW_RESISTANCE_TIME.number]);
    expect(tookMs).toBeGreaterThan(FLOOR_MS - BEAT_MS);
    expect(tookMs).toBeLessThan(FLOOR_MS + 2 * BEAT_MS);
    expect(bench.isOutputOpen).toBe(true);
  });

  it('measures a sender right after a long rest, at both currents', () => {
    const bench = new Bench({ firmware: firmware.start });
    bench.hello();
    bench.box.world.calPost = { kind: 'sender', ohm: 100 };
    bench.box.advance(HOLD_MS);
    for (const currentMicroamp of [500, 10_000]) {
      const seen = bench.ask('ohmmeter', { channel: 0, jobKind: jobKinds.thermal, currentMicroamp });
      expect(Math.abs((seen.milliohm ?? NaN) / 1000 - 100)).toBeLessThan(0.35);
    }
  });

  it('keeps pulse and meter through a line full of rubbish', () => {
    const bench = driving('two-coil-fuel', 'magnetic', 60);
    const { world } = bench.box;
    // The line brings ten times what the box takes: heartbeats may be lost in it, the rest must not notice.
    bench.beat();
    for (let round = 0; round < 26; round += 1) {
      bench.box.receive(Uint8Array.from({ length: 576 }, (_, index) => (index * 37 + round) & 0xff));
      bench.box.advance(50);
      expect(world.rail.millivolt).toBeGreaterThan(4_600);
      expect(bench.isOutputOpen).toBe(false);
    }
    // The lease ran out meanwhile, and that alone opens it.
    bench.box.advance(500);
    expect(bench.isOutputOpen).toBe(true);
    bench.box.advance(1000);
    bench.box.receive(Uint8Array.of(0));
    bench.box.advance(200);
    expect(bench.beat().faultCode).toBe(faults.DEAD_MAN.number);
  });
});
