import type { Storage } from '../device';
import { RECORD_BYTES, decodeCalibration, encodeCalibration } from './record';
import type { Calibration } from './record';

/** Two copies, each cut into pieces that every runtime's storage takes. */
const COPIES = ['a', 'b'] as const;
const PIECE_BYTES = 60;
const PIECE_COUNT = Math.ceil(RECORD_BYTES / PIECE_BYTES);

type CopyName = (typeof COPIES)[number];

function readCopy(storage: Storage, copy: CopyName): Calibration | undefined {
  const bytes = new Uint8Array(RECORD_BYTES);
  for (let piece = 0; piece < PIECE_COUNT; piece += 1) {
    const part = storage.read(`${copy}${piece}`);
    const from = piece * PIECE_BYTES;
    if (part === undefined || part.byteLength > RECORD_BYTES - from) return undefined;
    bytes.set(new Uint8Array(part), from);
  }
  return decodeCalibration(bytes);
}

function writeCopy(storage: Storage, copy: CopyName, bytes: Uint8Array): void {
  for (let piece = 0; piece < PIECE_COUNT; piece += 1) {
    const from = piece * PIECE_BYTES;
    storage.write(`${copy}${piece}`, bytes.slice(from, from + PIECE_BYTES).buffer);
  }
}

/** What storage holds: how many copies are good, and the newer of them. */
export type Stored = { readonly goodCopyCount: number; readonly calibration: Calibration | undefined };

/** Reads both copies. A copy with a wrong CRC counts for nothing. */
export function loadCalibration(storage: Storage): Stored {
  let goodCopyCount = 0;
  let newest: Calibration | undefined;
  for (const copy of COPIES) {
    const calibration = readCopy(storage, copy);
    if (calibration === undefined) continue;
    goodCopyCount += 1;
    if (newest === undefined || calibration.counter > newest.counter) newest = calibration;
  }
  return { goodCopyCount, calibration: newest };
}

/**
 * Stores both copies one after the other and reads them back. The storage erases before it writes, so a power cut
 * during one copy leaves the other.
 */
export function storeCalibration(storage: Storage, calibration: Calibration): Stored {
  const bytes = encodeCalibration(calibration);
  for (const copy of COPIES) {
    writeCopy(storage, copy, bytes);
    if (readCopy(storage, copy)?.counter !== calibration.counter) break;
  }
  return loadCalibration(storage);
}
