import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  FieldError,
  FrameReader,
  MAX_FIELD_BYTES,
  bytesOfTable,
  decodeForBox,
  decodeForHost,
  encodeFrame,
  events,
  limits,
  messages,
  refused,
  writeFields,
} from '../../protocol';
import type { AnyMessage, Fields, Frame, Message, Unreadable } from '../../protocol';
import { anyMessage, everyMessage, messageKindCount } from './arbitraries';

const heartbeat: Message<'heartbeat'> = {
  kind: 'request',
  name: 'heartbeat',
  sequence: 7,
  fields: { channel: 0 },
};

function throughTheWire(bytes: Uint8Array, decode: (frame: Frame) => AnyMessage | Unreadable) {
  const received: (AnyMessage | Unreadable)[] = [];
  new FrameReader({ frame: (frame) => received.push(decode(frame)) }).push(bytes);
  return received;
}

const decoderOf = (message: AnyMessage) => (message.kind === 'request' ? decodeForBox : decodeForHost);
const frameOf = (type: number, fields: Uint8Array): Frame => ({
  type,
  sequence: 9,
  view: new DataView(fields.buffer),
  offset: 0,
  length: fields.length,
});

describe('the message table', () => {
  it('gives every message a number of its own', () => {
    const numbers = [...Object.values(messages), ...Object.values(events), refused].map(
      ({ number }) => number,
    );
    expect(new Set(numbers).size).toBe(numbers.length);
  });

  it('keeps requests in 0x01..0x3e, events from 0xc0 on, and the refusal out of the way of answers', () => {
    for (const { number } of Object.values(messages)) {
      expect(number).toBeGreaterThanOrEqual(0x01);
      expect(number).toBeLessThanOrEqual(0x3e);
    }
    for (const { number } of Object.values(events)) expect(number).toBeGreaterThanOrEqual(0xc0);
    expect(refused.number).toBe(0xbf);
  });

  it('keeps every message within the longest payload', () => {
    for (const [name, { request, answer }] of Object.entries(messages)) {
      expect(bytesOfTable(request), name).toBeLessThanOrEqual(MAX_FIELD_BYTES);
      expect(bytesOfTable(answer), name).toBeLessThanOrEqual(MAX_FIELD_BYTES);
    }
  });

  it('ends the name of every number in a unit, or lists it as a plain number', () => {
    const unit = /(Ms|Milliohm|Ohm|Milliamp|Microamp|Millivolt|Microvolt|Milliwatt|Permille|Day|Count|Mask)$/;
    const plain =
      /^(channel|state|index|kind|jobKind|faultCode|capabilities|boxSerial|meterFlags|calibrationId|contactBit|measured|limit|detail|requestType|refusalCode|eventSequence|firmware(Major|Minor|Patch)|(host|boot)Nonce|protocol(Major|Minor|MajorMin|MajorMax)|milliohm|deadManM(in|ax)Ms|currentMaxMilliamp)$|^uncertaintyMilliohm$/;
    const tables = [
      ...Object.values(messages).flatMap(({ request, answer }) => [request, answer]),
      ...Object.values(events).map(({ fields }) => fields),
      refused.fields,
    ];
    const names = new Set(tables.flatMap((table) => Object.keys(table)));
    expect(names.size).toBeGreaterThan(60);
    for (const name of names) expect(unit.test(name) || plain.test(name), name).toBe(true);
  });
});

describe('encodeFrame and decode', () => {
  it('give back every message of the table, whatever its values', () => {
    fc.assert(
      fc.property(everyMessage(), (all) => {
        expect(all).toHaveLength(messageKindCount);
        for (const message of all) {
          expect(throughTheWire(encodeFrame(message), decoderOf(message))).toEqual([message]);
        }
      }),
    );
  });

  it('put a heartbeat on the wire as written down by hand', () => {
    // type 02, sequence 07, channel 00, CRC-32 of those three little-endian: 02 07 00 -> bb 9b 84 b3 by another CRC implementation
    expect([...encodeFrame(heartbeat)].map((byte) => byte.toString(16).padStart(2, '0')).join(' ')).toBe(
      '00 03 02 07 05 bb 9b 84 b3 00',
    );
  });

  it('refuse to send a value outside its range, a fraction, NaN or a missing field, and name the field', () => {
    const bad: number[] = [-1, 256, 0.5, NaN, Infinity];
    for (const channel of bad) {
      expect(() => encodeFrame({ ...heartbeat, fields: { channel } })).toThrow(FieldError);
      expect(() => encodeFrame({ ...heartbeat, fields: { channel } })).toThrow(/heartbeat\.channel/);
    }
  });

  it('refuse a lease outside the shared limit on both ends', () => {
    const fields: Fields<'set'> = {
      channel: 0,
      contactMask: 1,
      complementMask: 0xfffe,
      resistanceMilliohm: 1000,
      leaseMs: limits.deadManMs.max + 1,
    };
    expect(() => encodeFrame({ kind: 'request', name: 'set', sequence: 1, fields })).toThrow(/set\.leaseMs/);
    const bytes = new Uint8Array(11);
    new DataView(bytes.buffer).setUint16(9, limits.deadManMs.max + 1, true);
    expect(decodeForBox(frameOf(messages.set.number, bytes))).toMatchObject({
      code: 'FIELD_RANGE',
      detail: 5,
    });
  });

  it('refuse a message that ends early and say how long it was', () => {
    expect(decodeForBox(frameOf(messages.set.number, new Uint8Array(10)))).toMatchObject({
      kind: 'unreadable',
      code: 'FIELDS_SHORT',
      detail: 10,
      sequence: 9,
    });
  });

  it('take what a newer minor version appended as nothing said when an older end stops before it', () => {
    const fields: Fields<'arm'> = {
      channel: 0,
      jobKind: 4,
      currentLimitMilliamp: 250,
      elementPowerLimitMilliwatt: 1000,
      totalPowerLimitMilliwatt: 1000,
      supplyLimitMillivolt: 16_000,
      floorMilliohm: 8_000,
      floorTimeMs: 5_000,
      leaseMs: 1_500,
      originalLeastMilliohm: 10_000,
    };
    const table = messages.arm.request;
    const whole = new Uint8Array(bytesOfTable(table));
    writeFields(table, fields, { view: new DataView(whole.buffer), offset: 0 });
    const read = (length: number) => decodeForBox(frameOf(messages.arm.number, whole.slice(0, length)));
    expect(read(whole.length)).toMatchObject({ name: 'arm', fields });
    // Minor 0 ended here.
    const { originalLeastMilliohm: _appended, ...older } = fields;
    expect(read(whole.length - 4)).toMatchObject({ fields: { ...older, originalLeastMilliohm: 0 } });
    // Half of it is no message of any version.
    for (const cut of [1, 2, 3, 5])
      expect(read(whole.length - cut)).toMatchObject({ code: 'FIELDS_SHORT', detail: whole.length - cut });
  });

  it('ignore what a newer minor version appends', () => {
    expect(decodeForBox(frameOf(messages.heartbeat.number, Uint8Array.of(0, 1, 2, 3)))).toMatchObject({
      kind: 'request',
      name: 'heartbeat',
      fields: { channel: 0 },
    });
  });

  it('refuse an unknown type, and each the direction that is not theirs', () => {
    expect(decodeForBox(frameOf(0x3e, new Uint8Array(8)))).toMatchObject({
      code: 'UNKNOWN_TYPE',
      detail: 0x3e,
    });
    expect(decodeForHost(frameOf(messages.set.number, new Uint8Array(60)))).toMatchObject({
      code: 'UNKNOWN_TYPE',
    });
    expect(decodeForBox(frameOf(events.tripped.number, new Uint8Array(60)))).toMatchObject({
      code: 'UNKNOWN_TYPE',
    });
  });

  it('never read a message in which a field is out of range', () => {
    fc.assert(
      fc.property(fc.nat(255), fc.uint8Array({ maxLength: MAX_FIELD_BYTES }), (type, bytes) => {
        for (const decode of [decodeForBox, decodeForHost]) {
          const message = decode(frameOf(type, bytes));
          if (message.kind !== 'unreadable') expect(() => encodeFrame(message)).not.toThrow();
        }
      }),
    );
  });

  it('need at most 69 bytes on the wire for any message', () => {
    fc.assert(fc.property(anyMessage(), (message) => encodeFrame(message).length <= 69));
  });
});
