import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RECORD_BYTES, decodeCalibration, encodeCalibration } from '../../../firmware-ts/calibration/record';
import type { Calibration } from '../../../firmware-ts/calibration/record';
import { loadCalibration, storeCalibration } from '../../../firmware-ts/calibration/store';
import type { Storage } from '../../../firmware-ts/device';
import { rowCount } from '../../../firmware-ts/ladder/table';

const LONGEST_VALUE_BYTES = 60;
const anyU32 = fc.nat(0xffff_ffff);
const anyColumn = fc.array(anyU32, { minLength: rowCount, maxLength: rowCount });

const anyCalibration: fc.Arbitrary<Calibration> = fc.record({
  counter: anyU32,
  calibrationId: anyU32,
  calibrationDay: fc.nat(0xffff),
  calibrationEndDay: fc.nat(0xffff),
  currentGainPartsPerMillion: fc.integer({ min: -100_000, max: 100_000 }),
  currentOffsetNanoamp: fc.integer({ min: -1_000_000, max: 1_000_000 }),
  terminalZeroMicrovolt: fc.integer({ min: -100_000, max: 100_000 }),
  groundSenseZeroMicrovolt: fc.integer({ min: -100_000, max: 100_000 }),
  groundOffsetZeroMicrovolt: fc.integer({ min: -100_000, max: 100_000 }),
  milliohm: anyColumn,
  uncertaintyMilliohm: anyColumn,
});

const numbered = (counter: number): Calibration => ({
  counter,
  calibrationId: 100 + counter,
  calibrationDay: 20_000,
  calibrationEndDay: 20_365,
  currentGainPartsPerMillion: -312,
  currentOffsetNanoamp: 12_000,
  terminalZeroMicrovolt: -75,
  groundSenseZeroMicrovolt: 310,
  groundOffsetZeroMicrovolt: 12_400,
  milliohm: Array.from({ length: rowCount }, (_, row) => 1000 * (row + 1)),
  uncertaintyMilliohm: Array.from({ length: rowCount }, (_, row) => row),
});

type Memory = Storage & { readonly values: Map<string, ArrayBuffer> };

function memory(): Memory {
  const values = new Map<string, ArrayBuffer>();
  return {
    values,
    read: (key) => values.get(key),
    write: (key, value) => void values.set(key, value),
  };
}

/** Storage whose two copies are of different ages, as a power cut between them leaves it. */
function twoAges(first: number, second: number): Memory {
  const [one, other] = [memory(), memory()];
  storeCalibration(one, numbered(first));
  storeCalibration(other, numbered(second));
  for (const [key, value] of other.values) if (key.startsWith('b')) one.values.set(key, value);
  return one;
}

describe('a stored table', () => {
  it('comes back as it was, whatever is in it', () => {
    fc.assert(
      fc.property(anyCalibration, (calibration) => {
        expect(decodeCalibration(encodeCalibration(calibration))).toMatchObject(calibration);
      }),
    );
  });

  it('is nothing when any one of its bits has changed', () => {
    const good = encodeCalibration(numbered(1));
    for (let bit = 0; bit < 8 * RECORD_BYTES; bit += 1) {
      const bad = good.slice();
      bad[bit >> 3]! ^= 1 << (bit & 7);
      expect(decodeCalibration(bad), `bit ${bit}`).toBeUndefined();
    }
  });

  it('is nothing when it is shorter, longer, or any other bytes', () => {
    const good = encodeCalibration(numbered(1));
    expect(decodeCalibration(good.slice(0, -1))).toBeUndefined();
    expect(decodeCalibration(Uint8Array.of(...good, 0))).toBeUndefined();
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 2 * RECORD_BYTES }), (bytes) => {
        expect(decodeCalibration(bytes)).toBeUndefined();
      }),
    );
  });
});

describe('storage', () => {
  it('holds two copies in pieces that every runtime takes', () => {
    const storage = memory();
    expect(storeCalibration(storage, numbered(1))).toMatchObject({
      goodCopyCount: 2,
      calibration: numbered(1),
    });
    const lengths = [...storage.values.values()].map(({ byteLength }) => byteLength);
    expect(Math.max(...lengths)).toBeLessThanOrEqual(LONGEST_VALUE_BYTES);
    expect(lengths.reduce((sum, length) => sum + length)).toBe(2 * RECORD_BYTES);
  });

  it('gives the newer of two good copies, whichever it is', () => {
    for (const [first, second] of [
      [2, 1],
      [1, 2],
    ] as const) {
      expect(loadCalibration(twoAges(first, second))).toMatchObject({
        goodCopyCount: 2,
        calibration: numbered(2),
      });
    }
  });

  it('gives the older one when the newer is spoilt', () => {
    const storage = twoAges(2, 1);
    storage.values.set('a1', new ArrayBuffer(LONGEST_VALUE_BYTES));
    expect(loadCalibration(storage)).toMatchObject({ goodCopyCount: 1, calibration: numbered(1) });
  });

  it('leaves the second copy alone when the first did not come back good', () => {
    const storage = memory();
    storeCalibration(storage, numbered(1));
    const write = storage.write;
    const weak: Storage = {
      ...storage,
      write: (key, value) => void (key === 'a2' ? undefined : write(key, value)),
    };
    expect(storeCalibration(weak, numbered(2))).toMatchObject({ goodCopyCount: 1, calibration: numbered(1) });
  });

  it('of nothing gives nothing', () => {
    expect(loadCalibration(memory())).toEqual({ goodCopyCount: 0, calibration: undefined });
  });
});
