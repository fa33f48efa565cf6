import { describe, expect, it } from 'vitest';
import { VirtualClock } from '../../../firmware-ts/board/simulated/clock';
import { SimulatedFlash } from '../../../firmware-ts/board/simulated/flash';
import { simulatedGauge } from '../../../firmware-ts/board/simulated/gauges/catalogue';
import { thermal } from '../../../firmware-ts/board/simulated/gauges/mechanism';
import { Random } from '../../../firmware-ts/board/simulated/random';
import { SimulatedBoard } from '../../../firmware-ts/board/simulated/board';
import { World } from '../../../firmware-ts/board/simulated/world';
import type { WorldOptions } from '../../../firmware-ts/board/simulated/world';
import {
  chainHold,
  contactBits,
  converter,
  gpioFromContacts,
  pins,
} from '../../../firmware-ts/board/reference-design';

/** 5 V in battery pulses of one second, 12.22 ohm: the hungriest published gauge. */
const gauge = simulatedGauge('thermal-fuel')!;

const listOf = (bytes: ArrayBuffer | undefined): number[] => [...new Uint8Array(bytes ?? new ArrayBuffer(0))];
const bytesOf = (...values: number[]): ArrayBuffer => Uint8Array.from(values).buffer;

describe('the flash', () => {
  it('gives back what was written, and ones where nothing was', () => {
    const [first, second] = new SimulatedFlash().sectors;
    first.write(bytesOf(1, 2, 3));
    expect([...new Uint8Array(first.read(4) ?? bytesOf())]).toEqual([1, 2, 3, 255]);
    expect([...new Uint8Array(second.read(2) ?? bytesOf())]).toEqual([255, 255]);
  });

  it('loses its power at any operation: the sector is then torn, the other one whole, and nothing more is written', () => {
    const value = Uint8Array.from({ length: 600 }, (_, index) => index & 0xff).buffer;
    const other = bytesOf(7, 7, 7);
    // One erasure and three pages of 256 bytes.
    for (let operations = 0; operations < 4; operations += 1) {
      const flash = new SimulatedFlash();
      flash.sectors[1].write(other);
      flash.sectors[0].write(bytesOf(...new Array<number>(600).fill(0)));
      flash.cutAfter(operations);
      expect(() => flash.sectors[0].write(value)).toThrow(/power/);
      expect(() => flash.sectors[1].write(value)).toThrow(/power/);
      flash.powerOn();
      expect(listOf(flash.sectors[0].read(600)), `after ${operations}`).not.toEqual(listOf(value));
      expect(listOf(flash.sectors[1].read(3))).toEqual(listOf(other));
      flash.sectors[0].write(value);
      expect(listOf(flash.sectors[0].read(600))).toEqual(listOf(value));
    }
  });

  it('counts what wears it', () => {
    const flash = new SimulatedFlash();
    flash.sectors[0].write(bytesOf(1));
    flash.sectors[0].write(bytesOf(2));
    expect([flash.eraseCounts, flash.operationCount]).toEqual([[2, 0], 4]);
  });
});

describe('the clock', () => {
  it('can be the signed count of 32 bits that turns negative after 24.9 days', () => {
    const clock = new VirtualClock(new Random(1), { startMs: 2 ** 31 - 5, isSigned: true });
    expect(clock.ticks).toBe(2 ** 31 - 5);
    clock.advanceTo(10);
    expect(clock.ticks).toBe(-(2 ** 31) + 5);
  });

  it('goes on for the world while a call of the firmware takes its time, but not for its timers', () => {
    const clock = new VirtualClock(new Random(1));
    const seen: string[] = [];
    clock.at(5, () => seen.push('world'));
    clock.setTimer(() => seen.push('firmware'), 5);
    clock.spend(20);
    expect([seen, clock.nowMs]).toEqual([['world'], 20]);
    clock.advanceTo(20);
    expect(seen).toEqual(['world', 'firmware']);
  });
});

const boardOf = (world: World): SimulatedBoard['device'] =>
  new SimulatedBoard({
    world,
    calibrationSectors: new SimulatedFlash().sectors,
    bootNonce: 1,
    cause: 'power',
    restartCount: 0,
    sent: () => undefined,
  }).device;

describe('a bus that hangs', () => {
  it.each([
    [undefined, 200],
    [3, 3],
  ])('keeps the program for its time-out (%s ms given) and then throws', (timeout, takesMs) => {
    const world = new World({ gauge, seed: 1 });
    const options = {
      data: pins.meterData,
      clock: pins.meterClock,
      hz: 400_000,
      address: converter.addresses[0],
      ...(timeout === undefined ? {} : { timeout }),
    };
    const bus = new (boardOf(world).io.I2C)(options);
    world.busHangMs = 1000;
    expect(() => bus.read(1)).toThrow(/time-out/);
    expect(world.clock.nowMs).toBeCloseTo(takesMs, 6);
  });
});

/** A world without any firmware: edges by hand, contacts by hand. */
function fed(options: Partial<WorldOptions> = {}): { world: World; run: (ms: number) => void } {
  const world = new World({ gauge, seed: 4, ...options });
  let level = 0;
  const run = (ms: number): void => {
    for (const untilMs = world.clock.nowMs + ms; world.clock.nowMs < untilMs;) {
      level = 1 - level;
      world.rail.drive(level);
      world.clock.advanceTo(world.clock.nowMs + 10);
    }
  };
  return { world, run };
}

/** Output closed, R4 and R2 and little else in the path: about 10 ohm. */
const TEN_OHM = contactBits.allMask & ~0b1010;

describe('a pulsing 5 V gauge at 10 ohm, no firmware', () => {
  it.each([1, 50, 1000])(
    'gets its real battery pulses at speed %d, a second apart, and the box lets them pass',
    (speed) => {
      const { world, run } = fed({ speed });
      run(20);
      world.driveBank(gpioFromContacts(TEN_OHM));
      run(40);
      let [highest, rises, wasHigh] = [0, 0, false];
      for (let turn = 0; turn < 500; turn += 1) {
        run(10);
        const { pathAmp } = world.volts;
        highest = Math.max(highest, pathAmp);
        if (pathAmp > 0.3 && !wasHigh) rises += 1;
        wasHigh = pathAmp > 0.3;
      }
      expect(highest).toBeGreaterThan(0.55);
      expect(highest).toBeLessThan(0.65);
      expect(Math.abs(rises - 5)).toBeLessThanOrEqual(1);
      expect(world.rail.isTripped).toBe(false);
    },
  );

  it('is cut off by the slow comparator within 2.5 s when its stabiliser sticks, K16 before the chain', () => {
    const stuck = { ...gauge, mechanism: thermal(12.22, { effectiveVolt: 14, periodMs: 0 }) };
    const { world, run } = fed({ gauge: stuck });
    world.vehicle.settings.supplyVolt = 14;
    run(20);
    world.driveBank(gpioFromContacts(TEN_OHM));
    const trippedAtMs = firstMs(world, run, () => world.rail.isTripped);
    expect(trippedAtMs).toBeLessThan(2500);
    expect(world.rail.isChainOn).toBe(true);
    const chainAtMs = firstMs(world, run, () => !world.rail.isChainOn) - trippedAtMs;
    expect(chainAtMs).toBeGreaterThan(chainHold.minMs - 1);
    expect(chainAtMs).toBeLessThanOrEqual(chainHold.maxMs + 10);
    run(10);
    expect(world.volts.pathAmp).toBe(0);
  });
});

function firstMs(world: World, run: (ms: number) => void, isSo: () => boolean): number {
  for (let turn = 0; turn < 1000 && !isSo(); turn += 1) run(1);
  return world.clock.nowMs;
}
