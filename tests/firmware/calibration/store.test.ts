import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RECORD_BYTES, decodeCalibration, encodeCalibration } from '../../../firmware-ts/calibration/record';
import type { Calibration } from '../../../firmware-ts/calibration/record';
import { loadCalibration, storeCalibration } from '../../../firmware-ts/calibration/store';
import type { Sector } from '../../../firmware-ts/device';
import { rowCount } from '../../../firmware-ts/ladder/table';
import { limits } from '../../../protocol';

const anyU32 = fc.nat(0xffff_ffff);
const anyColumn = fc.array(anyU32, { minLength: rowCount, maxLength: rowCount });

const anyCalibration: fc.Arbitrary<Calibration> = fc.record({
  counter: anyU32,
  calibrationId: anyU32,
  calibrationDay: fc.integer(limits.calendarDay),
  calibrationEndDay: fc.integer(limits.calendarDay),
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

type Memory = readonly [Sector, Sector] & { readonly held: (Uint8Array<ArrayBuffer> | undefined)[] };

/** Two sectors of erased flash. */
function memory(): Memory {
  const held: (Uint8Array<ArrayBuffer> | undefined)[] = [undefined, undefined];
  const sector = (which: number): Sector => ({
    read: (byteLength) => held[which]?.slice(0, byteLength).buffer,
    write: (bytes) => {
      held[which] = new Uint8Array(bytes.slice(0));
    },
  });
  return Object.assign([sector(0), sector(1)] as const, { held });
}

/** Storage whose two copies are of different ages, as a power cut between them leaves it. */
function twoAges(first: number, second: number): Memory {
  const storage = memory();
  storage.held[0] = encodeCalibration(numbered(first));
  storage.held[1] = encodeCalibration(numbered(second));
  return storage;
}

class PowerCut extends Error {}

/** The same flash, which loses its power after so many operations: erasing a sector, and each byte that is filled. */
function cutAfter(storage: Memory, operations: number): readonly [Sector, Sector] {
  let left = operations;
  const spend = (): void => {
    if (left <= 0) throw new PowerCut();
    left -= 1;
  };
  const sector = (which: 0 | 1): Sector => ({
    read: storage[which].read,
    write: (bytes) => {
      spend();
      const filled = new Uint8Array(bytes.byteLength).fill(0xff);
      storage.held[which] = filled;
      new Uint8Array(bytes).forEach((byte, index) => {
        spend();
        filled[index] = byte;
      });
    },
  });
  return [sector(0), sector(1)];
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
  it('holds two copies', () => {
    const storage = memory();
    expect(storeCalibration(storage, numbered(1))).toMatchObject({
      goodCopyCount: 2,
      calibration: numbered(1),
    });
    expect(storage.held.map((bytes) => bytes?.length)).toEqual([RECORD_BYTES, RECORD_BYTES]);
  });

  it.each([
    [2, 1, 2],
    [1, 2, 2],
    // The count of storings wraps.
    [0xffff_ffff, 0, 0],
    [0, 0xffff_ffff, 0],
  ])('with copies %i and %i gives the newer one, %i', (first, second, newer) => {
    expect(loadCalibration(twoAges(first, second))).toMatchObject({
      goodCopyCount: 2,
      calibration: numbered(newer),
    });
  });

  it('gives the older one when the newer is spoilt', () => {
    const storage = twoAges(2, 1);
    storage.held[0] = new Uint8Array(RECORD_BYTES);
    expect(loadCalibration(storage)).toMatchObject({ goodCopyCount: 1, calibration: numbered(1) });
  });

  it('leaves the second copy alone when the first did not come back good', () => {
    const storage = twoAges(1, 1);
    const weak: readonly [Sector, Sector] = [{ ...storage[0], write: () => undefined }, storage[1]];
    expect(storeCalibration(weak, numbered(2))).toMatchObject({ goodCopyCount: 2, calibration: numbered(1) });
  });

  it('leaves a whole table at whatever operation the power goes, whichever copies were good before', () => {
    const befores = [() => twoAges(1, 1), () => twoAges(1, 0), () => twoAges(0, 1), memory];
    for (const good of [0, 1] as const)
      befores.push(() => {
        const storage = twoAges(1, 1);
        storage.held[1 - good] = new Uint8Array(RECORD_BYTES);
        return storage;
      });
    for (const before of befores) {
      for (let operations = 0; operations <= 2 * (RECORD_BYTES + 1); operations += 1) {
        const storage = before();
        const counter = loadCalibration(storage).calibration?.counter;
        storeCalibration(cutAfter(storage, operations), numbered(7));
        const { calibration } = loadCalibration(storage);
        if (calibration?.counter !== 7) expect(calibration?.counter).toBe(counter);
        if (operations > RECORD_BYTES) expect(calibration).toMatchObject(numbered(7));
      }
    }
  });

  it('never throws, whatever the flash holds and whether it can be read at all', () => {
    const anySector = fc.oneof(
      fc.uint8Array({ maxLength: 2 * RECORD_BYTES }).map((bytes) => () => Uint8Array.from(bytes).buffer),
      fc.constant(() => undefined),
      fc.constant((): ArrayBuffer => {
        throw new Error('the flash does not answer');
      }),
    );
    fc.assert(
      fc.property(anySector, anySector, (one, other) => {
        const write = (): void => {
          throw new Error('the flash does not answer');
        };
        const sectors = [
          { read: one, write },
          { read: other, write },
        ] as const;
        expect(loadCalibration(sectors)).toEqual({ goodCopyCount: 0, calibration: undefined });
        expect(storeCalibration(sectors, numbered(1)).goodCopyCount).toBe(0);
      }),
    );
  });

  it('of nothing gives nothing', () => {
    expect(loadCalibration(memory())).toEqual({ goodCopyCount: 0, calibration: undefined });
  });
});
