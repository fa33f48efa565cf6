import { describe, expect, it } from 'vitest';
import { deadMan, outputRelay } from '../../../firmware-ts/board/reference-design';
import { Box } from '../../../firmware-ts/main';
import { faults } from '../../../protocol';
import { Bench, runs } from '../../engine/bench';
import { calibrated } from '../../engine/scenarios/calibration';

const INTERNAL = faults.INTERNAL.number;
const IN_A_REQUEST = 2;
const CLOCK = 3;

describe('what should never be thrown', () => {
  it('opens the output and is answered, when an answer cannot be put into bytes', () => {
    const firmware = runs((device) => void new Box({ ...device, boxSerial: -1 }));
    const bench = new Bench({ firmware });
    expect(bench.hello()).toMatchObject({ refused: 'TRIPPED', detail: INTERNAL });
    bench.box.advance(20);
    expect(bench.events).toMatchObject([{ faultCode: INTERNAL, measured: IN_A_REQUEST }]);
  });

  it('opens the output, when the serial port fails while bytes are read', () => {
    let isBroken = false;
    const firmware = runs((device) => {
      class Failing extends device.io.Serial {
        override read(buffer: ArrayBuffer): unknown {
          if (isBroken) throw new RangeError('invalid');
          return super.read(buffer);
        }
      }
      new Box({ ...device, io: { ...device.io, Serial: Failing } });
    });
    const bench = Bench.driving(50, { firmware });
    expect(bench.isOutputOpen).toBe(false);
    isBroken = true;
    bench.box.receive(Uint8Array.of(1, 2, 3));
    bench.box.advance(20);
    expect(bench.isOutputOpen).toBe(true);
    expect(bench.events).toMatchObject([{ faultCode: INTERNAL, measured: IN_A_REQUEST }]);
  });

  it('never keeps the output closed, when the relays can be written no more: the pulse ends and the hardware opens', () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      let isBroken = false;
      const firmware = runs((device) => {
        class Failing extends device.io.DigitalBank {
          override write(bits: number): void {
            if (isBroken) throw new RangeError('invalid');
            super.write(bits);
          }
        }
        new Box({ ...device, io: { ...device.io, DigitalBank: Failing } });
      });
      const bench = Bench.driving(50, { firmware, seed });
      bench.live(300);
      isBroken = true;
      bench.box.receive(bench.frame('open', { channel: 0 }));
      bench.box.advance(10 + deadMan.maxMs + outputRelay.releaseMaxMs + 20);
      expect(bench.isOutputOpen, `seed ${seed}`).toBe(true);
      expect(bench.box.world.rail.millivolt).toBe(0);
      expect(bench.state()).toBe('tripped');
    }
  });

  it('does not end the program: nothing is thrown out of a turn, whatever fails in it', () => {
    const thrown: unknown[] = [];
    let isBroken = false;
    const firmware = runs((device) => {
      class Failing extends device.io.DigitalBank {
        override write(bits: number): void {
          if (isBroken) throw new RangeError('invalid');
          super.write(bits);
        }
      }
      const set = (callback: () => void, delayMs: number): unknown =>
        device.system.set(() => {
          try {
            callback();
          } catch (reason) {
            thrown.push(reason);
          }
        }, delayMs);
      const system = { ...device.system, set };
      new Box({ ...device, system, io: { ...device.io, DigitalBank: Failing } });
    });
    const bench = Bench.driving(50, { firmware });
    isBroken = true;
    bench.box.advance(3000);
    expect(thrown).toEqual([]);
    expect(bench.isOutputOpen).toBe(true);
  });

  it('leaves no meter that looks elsewhere: a broken-off measurement of a sender, and then a gauge', () => {
    let isBroken = false;
    const firmware = runs((device) => {
      class Failing extends device.io.Digital {
        override write(value: number): void {
          if (isBroken) throw new RangeError('invalid');
          super.write(value);
        }
      }
      new Box({ ...device, io: { ...device.io, Digital: Failing } });
    });
    const bench = new Bench({ firmware, gauge: 'two-coil-fuel' });
    bench.hello();
    const table = bench.table();
    bench.box.world.calPost = { kind: 'sender', ohm: 100 };
    bench.box.advance(200);
    bench.box.receive(bench.frame('ohmmeter', { channel: 0, jobKind: 1, currentMicroamp: 500 }));
    bench.box.advance(100);
    isBroken = true;
    bench.box.receive(bench.frame('open', { channel: 0 }));
    bench.box.advance(60);
    isBroken = false;
    bench.box.world.calPost = { kind: 'open' };
    bench.box.advance(500);
    bench.ask('clear', { channel: 0, faultCode: INTERNAL });
    expect(bench.arm('magnetic', { currentLimitMilliamp: 100 }).refused).toBeUndefined();
    expect(bench.set(60, table).refused).toBeUndefined();
    bench.live(500);
    bench.box.world.vehicle.settings.supplyVolt = 40;
    bench.box.advance(60);
    expect(bench.isOutputOpen).toBe(true);
  });

  it.each(['stands still', 'is no number'] as const)(
    'opens when the clock %s, for then no guard sees',
    (how) => {
      let isBroken = false;
      const firmware = runs((device) => {
        let last = 0;
        const now = (): number => {
          if (!isBroken) last = device.system.now();
          return isBroken && how === 'is no number' ? NaN : last;
        };
        new Box({ ...device, system: { ...device.system, now } });
      });
      const bench = Bench.driving(50, { firmware });
      bench.live(300);
      isBroken = true;
      bench.box.advance(60);
      expect(bench.isOutputOpen).toBe(true);
      bench.box.advance(500);
      expect(bench.box.world.rail.millivolt).toBe(0);
      isBroken = false;
      bench.box.advance(600);
      expect(bench.events).toMatchObject([{ faultCode: INTERNAL, measured: CLOCK }]);
    },
  );

  it('keeps its guards when the count of milliseconds jumps back by an hour', () => {
    let offsetMs = 7_200_000;
    const firmware = runs((device) => {
      new Box({ ...device, system: { ...device.system, now: () => device.system.now() + offsetMs } });
    });
    const bench = Bench.driving(50, { firmware });
    bench.live(300);
    offsetMs -= 3_600_000;
    bench.live(2000);
    expect(bench.isOutputOpen).toBe(false);
    bench.box.advance(1600);
    expect(bench.events).toMatchObject([{ faultCode: faults.DEAD_MAN.number }]);
    expect(bench.isOutputOpen).toBe(true);
  });

  it('does not happen at the end of the calendar: a table that would end beyond it is not stored', () => {
    const bench = calibrated();
    const hello = { protocolMajorMin: 1, protocolMajorMax: 1, hostNonce: 1, hostDay: 65_000 };
    bench.ask('hello', hello);
    const stored = bench.ask('calibrateStore', { channel: 0, calibrationId: 43, validDayCount: 1_000 });
    expect(stored).toEqual({ refused: 'FIELD_RANGE', detail: 3 });
    expect(bench.ask('hello', hello).calibrationId).toBe(42);
  });
});
