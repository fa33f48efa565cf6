import type { Sector } from '../device';
import { RECORD_BYTES, decodeCalibration, encodeCalibration } from './record';
import type { Calibration } from './record';

type Sectors = readonly [Sector, Sector];

/** What storage holds: how many copies are good, and the newer of them. */
export type Stored = { readonly goodCopyCount: number; readonly calibration: Calibration | undefined };

/** The copy of a sector; `undefined` for anything that is none, and for a sector that cannot be read. */
function readCopy(sector: Sector): Calibration | undefined {
  try {
    const bytes = sector.read(RECORD_BYTES);
    return bytes === undefined ? undefined : decodeCalibration(new Uint8Array(bytes));
  } catch {
    return undefined;
  }
}

/** True when one count of storings comes after another; the count may wrap. */
const isNewer = (one: Calibration, other: Calibration): boolean => ((one.counter - other.counter) | 0) > 0;

/** Reads both copies. One with a wrong CRC counts for nothing. Never throws, whatever the flash holds. */
export function loadCalibration(sectors: Sectors): Stored {
  const [first, second] = [readCopy(sectors[0]), readCopy(sectors[1])];
  if (first === undefined || second === undefined) {
    const calibration = first ?? second;
    return { goodCopyCount: calibration === undefined ? 0 : 1, calibration };
  }
  return { goodCopyCount: 2, calibration: isNewer(second, first) ? second : first };
}

/**
 * Stores both copies one after the other and reads each back. The sector whose copy is bad or older goes first, so that
 * wherever the power goes one good copy is left. Never throws: a sector that cannot be written is a copy that is missing.
 */
export function storeCalibration(sectors: Sectors, calibration: Calibration): Stored {
  const { buffer } = encodeCalibration(calibration);
  const isFirstBetter = isBetter(readCopy(sectors[0]), readCopy(sectors[1]));
  for (const sector of isFirstBetter ? [sectors[1], sectors[0]] : sectors) {
    try {
      sector.write(buffer);
    } catch {
      break;
    }
    if (readCopy(sector)?.counter !== calibration.counter) break;
  }
  return loadCalibration(sectors);
}

function isBetter(one: Calibration | undefined, other: Calibration | undefined): boolean {
  if (one === undefined || other === undefined) return one !== undefined;
  return isNewer(one, other);
}
