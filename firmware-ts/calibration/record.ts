import {
  bytesOfTable,
  crc32,
  hasFields,
  i32,
  limits,
  readFields,
  u16,
  u32,
  writeFields,
} from '../../protocol';
import { rowCount } from '../ladder/table';
import type { MeterCorrection } from '../meter/meter';

/** An element table as it is stored, little-endian: the head, the rows, the CRC of all before it. */
const head = {
  magic: u32('tells a record of this layout from anything else'),
  counter: u32('how often a table was stored'),
  calibrationId: u32('number of this calibration'),
  calibrationDay: u16('when it was made, days since 1970-01-01'),
  calibrationEndDay: u16('last valid day'),
  currentGainPartsPerMillion: i32('correction of the ammeter'),
  currentOffsetNanoamp: i32('correction of the ammeter'),
  terminalZeroMicrovolt: i32('correction of the voltmeter'),
  groundSenseZeroMicrovolt: i32('correction of the ground sense wire'),
  groundOffsetZeroMicrovolt: i32('correction of the battery negative lead'),
  rowCount: u32('rows that follow'),
};
const row = { milliohm: u32('what the row adds'), uncertaintyMilliohm: u32('standard uncertainty') };

const MAGIC = 0x4e57_4c32;
const HEAD_BYTES = bytesOfTable(head);
const ROW_BYTES = bytesOfTable(row);
const CRC_AT = HEAD_BYTES + rowCount * ROW_BYTES;
export const RECORD_BYTES = CRC_AT + 4;

/** One calibration: the rows, the meter's corrections, and when it was made. */
export type Calibration = MeterCorrection & {
  /** Counts the times a table was stored; the higher of two good copies is the newer. */
  readonly counter: number;
  readonly calibrationId: number;
  readonly calibrationDay: number;
  readonly calibrationEndDay: number;
  readonly milliohm: readonly number[];
  readonly uncertaintyMilliohm: readonly number[];
};

/** A calibration as bytes, CRC at the end. Rows are rounded to whole numbers; corrections lose their fraction. */
export function encodeCalibration({
  milliohm,
  uncertaintyMilliohm,
  ...calibration
}: Calibration): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(RECORD_BYTES);
  const view = new DataView(bytes.buffer);
  const values = {
    ...calibration,
    magic: MAGIC,
    rowCount,
  };
  let offset = writeFields(head, values, { view, offset: 0 });
  for (let index = 0; index < rowCount; index += 1) {
    const rowValues = {
      milliohm: Math.round(milliohm[index] ?? 0),
      uncertaintyMilliohm: Math.round(uncertaintyMilliohm[index] ?? 0),
    };
    offset = writeFields(row, rowValues, { view, offset });
  }
  view.setUint32(CRC_AT, crc32(bytes, CRC_AT), true);
  return bytes;
}

/** The calibration of stored bytes; `undefined` when they are not one, of whatever length and content. */
export function decodeCalibration(bytes: Uint8Array): Calibration | undefined {
  if (bytes.length !== RECORD_BYTES) return undefined;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  const values = readFields(head, { view, offset: 0, length: HEAD_BYTES });
  const isOurs = hasFields(head, values) && values.magic === MAGIC && values.rowCount === rowCount;
  if (!isOurs || view.getUint32(CRC_AT, true) !== crc32(bytes, CRC_AT)) return undefined;
  // Another firmware may have written what the greeting cannot say.
  const { min, max } = limits.calendarDay;
  if (!(values.calibrationDay >= min && values.calibrationEndDay >= min && values.calibrationEndDay <= max))
    return undefined;
  const column = (offset: number): number[] =>
    Array.from({ length: rowCount }, (_, index) =>
      view.getUint32(HEAD_BYTES + index * ROW_BYTES + offset, true),
    );
  return { ...values, milliohm: column(0), uncertaintyMilliohm: column(4) };
}
