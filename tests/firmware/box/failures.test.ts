import { describe, expect, it } from 'vitest';
import { Box } from '../../../firmware-ts/main';
import { faults } from '../../../protocol';
import { Bench, runs } from '../../engine/bench';
import { calibrated } from '../../engine/scenarios/calibration';

const INTERNAL = faults.INTERNAL.number;
const IN_A_REQUEST = 2;

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

  it('does not happen at the end of the calendar: a table that would end beyond it is not stored', () => {
    const bench = calibrated();
    const hello = { protocolMajorMin: 1, protocolMajorMax: 1, hostNonce: 1, hostDay: 65_000 };
    bench.ask('hello', hello);
    const stored = bench.ask('calibrateStore', { channel: 0, calibrationId: 43, validDayCount: 1_000 });
    expect(stored).toEqual({ refused: 'FIELD_RANGE', detail: 3 });
    expect(bench.ask('hello', hello).calibrationId).toBe(42);
  });
});
