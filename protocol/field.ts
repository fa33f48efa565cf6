/** Wire types: little-endian, two's complement. */
export type WireType = 'u8' | 'u16' | 'u32' | 'i32';

/** One field of a message: its wire type, the range outside which it is refused, its meaning. */
export type Field = {
  readonly wire: WireType;
  readonly min: number;
  readonly max: number;
  readonly meaning: string;
  /** Value of a field that a minor version appended, when the message of an older end stops before it. */
  readonly absent?: number;
};

export type FieldTable = { readonly [name: string]: Field };

/** Values of a table of fields. Units are in the names. */
export type FieldValues<Table extends FieldTable> = { readonly [Name in keyof Table]: number };

export type Range = { readonly min: number; readonly max: number };

/** Range and length of each wire type, and how a view reads and writes it. */
const wires = {
  u8: {
    min: 0,
    max: 0xff,
    bytes: 1,
    take: (view: DataView, offset: number) => view.getUint8(offset),
    put: (view: DataView, offset: number, value: number) => view.setUint8(offset, value),
  },
  u16: {
    min: 0,
    max: 0xffff,
    bytes: 2,
    take: (view: DataView, offset: number) => view.getUint16(offset, true),
    put: (view: DataView, offset: number, value: number) => view.setUint16(offset, value, true),
  },
  u32: {
    min: 0,
    max: 0xffff_ffff,
    bytes: 4,
    take: (view: DataView, offset: number) => view.getUint32(offset, true),
    put: (view: DataView, offset: number, value: number) => view.setUint32(offset, value, true),
  },
  i32: {
    min: -0x8000_0000,
    max: 0x7fff_ffff,
    bytes: 4,
    take: (view: DataView, offset: number) => view.getInt32(offset, true),
    put: (view: DataView, offset: number, value: number) => view.setInt32(offset, value, true),
  },
} as const;

const field =
  (wire: WireType) =>
  (meaning: string, range: Range = wires[wire]): Field => ({
    wire,
    min: range.min,
    max: range.max,
    meaning,
  });

export const u8 = field('u8');
export const u16 = field('u16');
export const u32 = field('u32');
export const i32 = field('i32');

/** A field that a minor version appended: a message of an older end stops before it, and then it is `absent`. */
export const appended = (definition: Field, absent: number): Field => ({ ...definition, absent });

/** Bytes a table of fields takes. */
export function bytesOfTable(table: FieldTable): number {
  let total = 0;
  for (const name in table) total += wires[table[name]!.wire].bytes;
  return total;
}

/** True when a whole number lies in the field's range; NaN, infinities and fractions do not. */
export const fits = (definition: Field, value: number | undefined): value is number =>
  value !== undefined && Number.isInteger(value) && value >= definition.min && value <= definition.max;

/** What is wrong with the values of a table: `place` is the number of the field, counted from 1. */
export type FieldTrouble = {
  readonly code: 'FIELD_RANGE' | 'FIELDS_SHORT';
  readonly field: string;
  readonly place: number;
};

/** Values as they were read, before anyone has looked at them. */
export type LooseValues = Readonly<Record<string, number>>;

/** The first field that is missing (FIELDS_SHORT), fractional or out of its range (FIELD_RANGE). */
export function fieldTrouble(table: FieldTable, values: LooseValues): FieldTrouble | undefined {
  let place = 0;
  for (const name in table) {
    place += 1;
    const value = values[name];
    if (!fits(table[name]!, value)) {
      return { code: value === undefined ? 'FIELDS_SHORT' : 'FIELD_RANGE', field: name, place };
    }
  }
  return undefined;
}

/** True when the record holds every field of the table, each in range. */
export const hasFields = <Table extends FieldTable>(
  table: Table,
  values: LooseValues,
): values is FieldValues<Table> => fieldTrouble(table, values) === undefined;

/**
 * Writes values at `offset` of the view, in the order of the table. Answers the offset after them. Nothing is clamped
 * and nothing is checked: ask `fieldTrouble` before.
 */
export function writeFields(
  table: FieldTable,
  values: LooseValues,
  target: { readonly view: DataView; readonly offset: number },
): number {
  let { offset } = target;
  for (const name in table) {
    const { bytes, put } = wires[table[name]!.wire];
    put(target.view, offset, values[name]!);
    offset += bytes;
  }
  return offset;
}

/** Where the fields of a received message lie. */
export type FieldBytes = { readonly view: DataView; readonly offset: number; readonly length: number };

/**
 * Reads values in the order of the table, as many as there are bytes for; `fieldTrouble` says whether that was enough.
 * Bytes beyond the table are left alone: a newer minor version appends fields. One that is missing whole is `absent`.
 */
export function readFields(table: FieldTable, { view, offset, length }: FieldBytes): LooseValues {
  const values: Record<string, number> = {};
  let used = 0;
  for (const name in table) {
    const { wire, absent } = table[name]!;
    const { bytes, take } = wires[wire];
    if (used === length && absent !== undefined) values[name] = absent;
    else if (used + bytes > length) break;
    else {
      values[name] = take(view, offset + used);
      used += bytes;
    }
  }
  return values;
}
