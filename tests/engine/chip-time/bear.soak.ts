import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { StartFirmware } from '../../../firmware-ts/board/simulated/bench';
import { simulatedGauge } from '../../../firmware-ts/board/simulated/gauges/catalogue';
import type { SimulatedGauge } from '../../../firmware-ts/board/simulated/gauges/catalogue';
import { faults, jobKinds } from '../../../protocol';
import { Bench } from '../bench';
import { engineState } from '../xsnap-install';
import { ChipFirmware } from './firmware';

const LEASE_MS = 1_500;
const BEFORE_MS = 10_000;
const ACROSS_MS = 30_000;

/** Twelve ohms of heater behind a 5 V stabiliser that switches the battery once a second; it may stick closed. */
function pulsingGauge(): { readonly gauge: SimulatedGauge; stick: () => void } {
  const found = simulatedGauge('thermal-fuel');
  if (found === undefined) throw new Error('no such gauge');
  let isStuck = false;
  const mechanism: SimulatedGauge['mechanism'] = {
    ...found.mechanism,
    source: (feed, atMs) =>
      isStuck ? { openVolt: feed.supplyVolt, sourceOhm: 12.2 } : found.mechanism.source(feed, atMs),
  };
  return {
    gauge: { ...found, mechanism },
    stick: () => {
      isStuck = true;
    },
  };
}

describe.skipIf(engineState().kind === 'absent')('in chip time the box bears', () => {
  let firmware: ChipFirmware;
  beforeAll(async () => {
    firmware = await ChipFirmware.load();
  });
  afterAll(() => firmware.quit());

  /** The same firmware on a board whose count of milliseconds wraps after ten seconds. */
  const wrapping =
    (wrapMs: number, isSigned: boolean): StartFirmware =>
    (device, world) => {
      const startMs = wrapMs - BEFORE_MS;
      const now = (): number => {
        const ms = Math.floor(startMs + world.clock.nowMs);
        return isSigned ? ms | 0 : ms % 2 ** 32;
      };
      return firmware.start({ ...device, system: { ...device.system, now } }, world);
    };

  const wraps = [
    ['2^31 ms, signed', 2 ** 31, true],
    ['2^32 ms, signed', 2 ** 32, true],
    ['2^32 ms, unsigned', 2 ** 32, false],
  ] as const;

  it.each(wraps)('the wrap of its clock at %s, at rest: it measures and arms', (_name, wrapMs, isSigned) => {
    const bench = new Bench({ gauge: 'two-coil-fuel', firmware: wrapping(wrapMs, isSigned) });
    bench.hello();
    bench.box.advance(ACROSS_MS);
    expect(bench.state()).toBe('safe');
    expect(bench.beat().meterAgeMs).toBeLessThan(45);
    bench.box.world.calPost = { kind: 'sender', ohm: 100 };
    bench.box.advance(200);
    const asked = { channel: 0, jobKind: jobKinds.thermal, currentMicroamp: 500 };
    expect(Math.abs((bench.ask('ohmmeter', asked).milliohm ?? NaN) - 100_000)).toBeLessThan(400);
    bench.box.world.calPost = { kind: 'open' };
    bench.box.advance(200);
    expect(bench.arm('magnetic').refused).toBeUndefined();
  });

  it.each(wraps)(
    'the wrap of its clock at %s, driving: it holds, and its dead-man trips',
    (_name, wrapMs, isSigned) => {
      const options = {
        gauge: 'two-coil-fuel',
        jobKind: 'magnetic',
        firmware: wrapping(wrapMs, isSigned),
      } as const;
      const bench = Bench.driving(60, options);
      bench.live(ACROSS_MS);
      expect(bench.events).toEqual([]);
      expect(bench.isOutputOpen).toBe(false);
      expect(bench.set(90, bench.table()).refused).toBeUndefined();
      bench.box.advance(LEASE_MS + 100);
      expect(bench.isOutputOpen).toBe(true);
      expect(bench.events.map(({ faultCode }) => faultCode)).toEqual([faults.DEAD_MAN.number]);
    },
  );

  it('a bus that hangs: it opens while the program still turns, and reads again afterwards', () => {
    const bench = Bench.driving(60, {
      gauge: 'two-coil-fuel',
      jobKind: 'magnetic',
      firmware: firmware.start,
    });
    const { world } = bench.box;
    bench.live(500);
    world.busHangMs = 1000;
    const spent = firmware.spentIn(() => bench.box.advance(90));
    expect(bench.isOutputOpen).toBe(true);
    expect(Math.max(...spent.map(({ tookMs }) => tookMs))).toBeLessThan(30);
    bench.box.advance(400);
    expect(world.rail.millivolt).toBe(0);
    expect(bench.beat().faultCode).toBe(faults.METER_SILENT.number);
    world.busHangMs = 0;
    bench.box.advance(200);
    expect(bench.ask('clear', { channel: 0, faultCode: faults.METER_SILENT.number }).refused).toBeUndefined();
    expect(bench.arm('magnetic').refused).toBeUndefined();
  });

  it('the battery pulses of a 5 V stabiliser at ten ohms, and opens when it sticks closed', () => {
    const { gauge, stick } = pulsingGauge();
    const bench = new Bench({ gauge, firmware: firmware.start });
    bench.box.world.vehicle.settings.supplyVolt = 14;
    bench.hello();
    const table = bench.table();
    bench.box.advance(4000);
    expect(bench.arm('thermal').refused).toBeUndefined();
    bench.box.advance(500);
    for (const ohm of [100, 38, 20, 10]) {
      expect(bench.set(ohm, table).refused, `${ohm} ohm`).toBeUndefined();
      bench.live(4000);
      expect(bench.events, `${ohm} ohm`).toEqual([]);
      expect(Math.abs(bench.box.world.pathOhm - ohm), `${ohm} ohm`).toBeLessThan(1.2);
    }
    bench.live(16_000);
    expect(bench.isOutputOpen).toBe(false);
    stick();
    const fromMs = bench.box.nowMs;
    while (!bench.isOutputOpen && bench.box.nowMs - fromMs < 5000) {
      bench.box.advance(100);
      bench.beat();
    }
    expect(bench.box.nowMs - fromMs).toBeLessThan(2500);
    bench.box.advance(600);
    expect(bench.events.map(({ faultCode }) => faultCode)).toEqual([faults.CURRENT_HIGH.number]);
  });
});
