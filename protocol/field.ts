/** Wire types: little-endian, two's complement. */
export type WireType = 'u8' | 'u16' | 'u32' | 'i32';

/** One field of a message: its wire type, the range outside which it is refused, its meaning. */
export type Field = {
  readonly wire: WireType;
  readonly min: number;
  readonly max: number;
  readonly meaning: string;
};

export type FieldTable = { readonly [name: string]: Field };

/** Values of a table of fields. Units are in the names. */
export type FieldValues<Table extends FieldTable> = { readonly [Name in keyof Table]: number };

export type Range = { readonly min: number; readonly max: number };

const wireRange = {
  u8: { min: 0, max: 0xff, bytes: 1 },
  u16: { min: 0, max: 0xffff, bytes: 2 },
  u32: { min: 0, max: 0xffff_ffff, bytes: 4 },
  i32: { min: -0x8000_0000, max: 0x7fff_ffff, bytes: 4 },
} as const;

const field =
  (wire: WireType) =>
  (meaning: string, range: Range = wireRange[wire]): Field => ({
    wire,
    min: range.min,
    max: range.max,
    meaning,
  });

export const u8 = field('u8');
export const u16 = field('u16');
export const u32 = field('u32');
export const i32 = field('i32');

/** Bytes a wire type takes. */
export const bytesOf = (wire: WireType): number => wireRange[wire].bytes;

/** Bytes a table of fields takes. */
export function bytesOfTable(table: FieldTable): number {
  let total = 0;
  for (const name in table) total += bytesOf(table[name]!.wire);
  return total;
}

/** True when a whole number lies in the field's range; NaN, infinities and fractions do not. */
export const fits = (definition: Field, value: number | undefined): value is number =>
  value !== undefined && Number.isInteger(value) && value >= definition.min && value <= definition.max;

function put(view: DataView, offset: number, place: { wire: WireType; value: number }): void {
  switch (place.wire) {
    case 'u8':
      return view.setUint8(offset, place.value);
    case 'u16':
      return view.setUint16(offset, place.value, true);
    case 'u32':
      return view.setUint32(offset, place.value, true);
    case 'i32':
      return view.setInt32(offset, place.value, true);
  }
}

function take(view: DataView, offset: number, wire: WireType): number {
  switch (wire) {
    case 'u8':
      return view.getUint8(offset);
    case 'u16':
      return view.getUint16(offset, true);
    case 'u32':
      return view.getUint32(offset, true);
    case 'i32':
      return view.getInt32(offset, true);
  }
}

/** Why a message could not be written or read: `place` is the number of the field, counted from 1. */
export type FieldTrouble = {
  readonly kind: 'trouble';
  readonly code: 'FIELD_RANGE' | 'FIELDS_SHORT';
  readonly field: string;
  readonly place: number;
};

/**
 * Writes values at `offset` of the view, in the order of the table. Answers the offset after them.
 * Refuses a missing, fractional or out-of-range value (FIELD_RANGE) without clamping; what was written before is void.
 */
export function writeFields(
  table: FieldTable,
  values: Readonly<Record<string, number>>,
  target: { readonly view: DataView; readonly offset: number },
): { readonly kind: 'written'; readonly offset: number } | FieldTrouble {
  let offset = target.offset;
  let place = 0;
  for (const name in table) {
    place += 1;
    const definition = table[name]!;
    const value = values[name];
    if (!fits(definition, value)) return { kind: 'trouble', code: 'FIELD_RANGE', field: name, place };
    put(target.view, offset, { wire: definition.wire, value });
    offset += bytesOf(definition.wire);
  }
  return { kind: 'written', offset };
}

/** Where the fields of a received message lie. */
export type FieldBytes = { readonly view: DataView; readonly offset: number; readonly length: number };

/**
 * Reads values in the order of the table. Bytes beyond the table are left alone: a newer minor version appends fields.
 * Refuses bytes that end early (FIELDS_SHORT) and values outside their range (FIELD_RANGE).
 */
export function readFields(
  table: FieldTable,
  bytes: FieldBytes,
): { readonly kind: 'fields'; readonly values: Readonly<Record<string, number>> } | FieldTrouble {
  const values: Record<string, number> = {};
  let used = 0;
  let place = 0;
  for (const name in table) {
    place += 1;
    const definition = table[name]!;
    const size = bytesOf(definition.wire);
    if (used + size > bytes.length) return { kind: 'trouble', code: 'FIELDS_SHORT', field: name, place };
    const value = take(bytes.view, bytes.offset + used, definition.wire);
    if (!fits(definition, value)) return { kind: 'trouble', code: 'FIELD_RANGE', field: name, place };
    values[name] = value;
    used += size;
  }
  return { kind: 'fields', values };
}

/** True when the record holds every field of the table, each in range. */
export function hasFields<Table extends FieldTable>(
  table: Table,
  values: Readonly<Record<string, number>>,
): values is FieldValues<Table> {
  for (const name in table) if (!fits(table[name]!, values[name])) return false;
  return true;
}
