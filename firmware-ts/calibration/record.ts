import { crc32 } from '../../protocol';
import { rowCount } from '../ladder/table';

/** An element table as it is stored. Offsets in bytes, little-endian; the CRC covers all before it. */
const MAGIC = 0x4e57_4c31;
const HEAD_BYTES = 32;
const ROW_BYTES = 8;
const CRC_AT = HEAD_BYTES + rowCount * ROW_BYTES;
export const RECORD_BYTES = CRC_AT + 4;

/** One calibration: the rows, the meter's corrections, and when it was made. */
export type Calibration = {
  /** Counts the times a table was stored; the higher of two good copies is the newer. */
  readonly counter: number;
  readonly calibrationId: number;
  readonly calibrationDay: number;
  readonly calibrationEndDay: number;
  readonly currentGainPartsPerMillion: number;
  readonly currentOffsetNanoamp: number;
  readonly terminalOffsetMicrovolt: number;
  readonly milliohm: readonly number[];
  readonly uncertaintyMilliohm: readonly number[];
};

/** A calibration as bytes, CRC at the end. Values are rounded to whole milliohms. */
export function encodeCalibration(calibration: Calibration): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(RECORD_BYTES);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, MAGIC, true);
  view.setUint32(4, calibration.counter, true);
  view.setUint32(8, calibration.calibrationId, true);
  view.setUint16(12, calibration.calibrationDay, true);
  view.setUint16(14, calibration.calibrationEndDay, true);
  view.setInt32(16, Math.round(calibration.currentGainPartsPerMillion), true);
  view.setInt32(20, Math.round(calibration.currentOffsetNanoamp), true);
  view.setInt32(24, Math.round(calibration.terminalOffsetMicrovolt), true);
  view.setUint32(28, rowCount, true);
  for (let row = 0; row < rowCount; row += 1) {
    view.setUint32(HEAD_BYTES + row * ROW_BYTES, Math.round(calibration.milliohm[row] ?? 0), true);
    view.setUint32(
      HEAD_BYTES + row * ROW_BYTES + 4,
      Math.round(calibration.uncertaintyMilliohm[row] ?? 0),
      true,
    );
  }
  view.setUint32(CRC_AT, crc32(bytes, CRC_AT), true);
  return bytes;
}

/** The calibration of stored bytes; `undefined` when they are not one, of whatever length and content. */
export function decodeCalibration(bytes: Uint8Array): Calibration | undefined {
  if (bytes.length !== RECORD_BYTES) return undefined;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  const isOurs = view.getUint32(0, true) === MAGIC && view.getUint32(28, true) === rowCount;
  if (!isOurs || view.getUint32(CRC_AT, true) !== crc32(bytes, CRC_AT)) return undefined;
  const column = (offset: number): number[] =>
    Array.from({ length: rowCount }, (_, row) => view.getUint32(HEAD_BYTES + row * ROW_BYTES + offset, true));
  return {
    counter: view.getUint32(4, true),
    calibrationId: view.getUint32(8, true),
    calibrationDay: view.getUint16(12, true),
    calibrationEndDay: view.getUint16(14, true),
    currentGainPartsPerMillion: view.getInt32(16, true),
    currentOffsetNanoamp: view.getInt32(20, true),
    terminalOffsetMicrovolt: view.getInt32(24, true),
    milliohm: column(0),
    uncertaintyMilliohm: column(4),
  };
}
