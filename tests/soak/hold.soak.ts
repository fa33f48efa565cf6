import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { jobKinds } from '../../protocol';
import { drivingNearest, hold, holds } from '../engine/chip-time/holding';
import type { Spent } from '../engine/chip-time/chip';
import { ChipFirmware } from '../engine/chip-time/firmware';
import { Bench } from '../engine/bench';
import { engineState } from '../engine/xsnap-install';
import { soakSeed } from './seed';

const TEN_MINUTES_MS = 600_000;

describe.skipIf(engineState().kind === 'absent')('for ten minutes of chip time', () => {
  let firmware: ChipFirmware;
  const seed = soakSeed();
  beforeAll(async () => {
    firmware = await ChipFirmware.load();
  });
  afterAll(() => firmware.quit());

  it.each(holds)('the box holds %d ohm in a %s job under %s', (ohm, jobKind, ask, gauge) => {
    const bench = drivingNearest(ohm, { gauge, jobKind, seed, firmware: firmware.start });
    let turns = 0;
    let busyMs = 0;
    const spent = (one: Spent): void => {
      if (one.call === 'timer') turns += 1;
      busyMs += one.tookMs;
    };
    const heldMs = firmware.listening(spent, () => hold(bench, ask, TEN_MINUTES_MS));
    expect(bench.events).toEqual([]);
    expect(heldMs).toBeGreaterThanOrEqual(TEN_MINUTES_MS);
    // A turn every eight milliseconds or so, each with what it costs on the chip.
    expect(turns).toBeGreaterThan(TEN_MINUTES_MS / 12);
    expect(busyMs).toBeGreaterThan(TEN_MINUTES_MS / 4);
    expect(Math.abs(bench.box.world.pathOhm - ohm)).toBeLessThan(0.65 + 0.001 * ohm);
  });

  it('the box rests, and then measures a sender at once', () => {
    const bench = new Bench({ seed, firmware: firmware.start });
    bench.hello();
    bench.box.world.calPost = { kind: 'sender', ohm: 100 };
    bench.box.advance(TEN_MINUTES_MS);
    const asked = { channel: 0, jobKind: jobKinds.thermal, currentMicroamp: 500 };
    expect(Math.abs((bench.ask('ohmmeter', asked).milliohm ?? NaN) / 1000 - 100)).toBeLessThan(0.35);
  });
});
