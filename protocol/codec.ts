import { fieldTrouble, hasFields, readFields, writeFields } from './field';
import type { FieldTable, FieldTrouble, LooseValues } from './field';
import { FrameWriter, HEAD_BYTES } from './frame';
import type { Frame } from './frame';
import { events, messages, refused } from './messages';
import type { Answer, EventFields, EventName, Fields, RefusedFields, RequestName } from './messages';
import { nameOfRow } from './names';

/** Bit that turns a request's type into its answer's. */
const ANSWER_BIT = 0x80;

export type RequestMessage<Name extends RequestName> = {
  readonly kind: 'request';
  readonly name: Name;
  readonly sequence: number;
  readonly fields: Fields<Name>;
};
export type AnswerMessage<Name extends RequestName> = {
  readonly kind: 'answer';
  readonly name: Name;
  readonly sequence: number;
  readonly fields: Answer<Name>;
};
export type EventMessage<Name extends EventName> = {
  readonly kind: 'event';
  readonly name: Name;
  readonly sequence: number;
  readonly fields: EventFields<Name>;
};
export type RefusedMessage = {
  readonly kind: 'refused';
  readonly name: 'refused';
  readonly sequence: number;
  readonly fields: RefusedFields;
};

/** A request by its name: `Message<'set'>`. */
export type Message<Name extends RequestName> = RequestMessage<Name>;
export type AnyRequest = { [Name in RequestName]: RequestMessage<Name> }[RequestName];
export type AnyAnswer = { [Name in RequestName]: AnswerMessage<Name> }[RequestName];
export type AnyEvent = { [Name in EventName]: EventMessage<Name> }[EventName];
export type AnyMessage = AnyRequest | AnyAnswer | AnyEvent | RefusedMessage;

/** A frame with a right CRC that is no message of this protocol. */
export type Unreadable = {
  readonly kind: 'unreadable';
  readonly code: 'UNKNOWN_TYPE' | 'FIELDS_SHORT' | 'FIELD_RANGE';
  readonly type: number;
  readonly sequence: number;
  /** The type for UNKNOWN_TYPE, the length for FIELDS_SHORT, the field's place from 1 for FIELD_RANGE. */
  readonly detail: number;
  /** Name of the field that is missing or out of range. */
  readonly field?: string;
};

/** A message that must not be sent: a field is missing, fractional or out of its range. A programmer's error. */
export class FieldError extends Error {
  readonly code = 'FIELD_RANGE';
  readonly field: string;

  constructor(name: string, field: string, value: number | undefined) {
    super(`FIELD_RANGE: ${name}.${field} = ${value} is not a whole number within its range`);
    this.field = field;
  }
}

/** Request name of a request's type number. */
const requestNameOf = (type: number): RequestName | undefined => nameOfRow(messages, type);

type Layout = { readonly type: number; readonly table: FieldTable };

function layoutOf(message: AnyMessage): Layout {
  switch (message.kind) {
    case 'request': {
      const { number, request } = messages[message.name];
      return { type: number, table: request };
    }
    case 'answer': {
      const { number, answer } = messages[message.name];
      return { type: number | ANSWER_BIT, table: answer };
    }
    case 'event':
      return { type: events[message.name].number, table: events[message.name].fields };
    case 'refused':
      return { type: refused.number, table: refused.fields };
  }
}

/**
 * A message as bytes for the wire: 0x00, stuffed frame, 0x00, in a fresh buffer of exact size. A microcontroller passes
 * the one writer it made at start.
 * Throws FieldError for a missing value and for one outside its range: nothing is clamped.
 */
export function encodeFrame(
  message: AnyMessage,
  writer: FrameWriter = new FrameWriter(),
): Uint8Array<ArrayBuffer> {
  const { type, table } = layoutOf(message);
  const values: LooseValues = message.fields;
  const trouble = fieldTrouble(table, values);
  if (trouble !== undefined) throw new FieldError(message.name, trouble.field, values[trouble.field]);
  writer.begin(type, message.sequence);
  return writer.finish(writeFields(table, values, { view: writer.view, offset: HEAD_BYTES }));
}

type Loose<Kind extends string, Name extends string> = {
  readonly kind: Kind;
  readonly name: Name;
  readonly sequence: number;
  readonly fields: LooseValues;
};

const isRequest = (
  loose: Loose<'request', RequestName>,
): loose is Loose<'request', RequestName> & AnyRequest =>
  hasFields<FieldTable>(messages[loose.name].request, loose.fields);
const isAnswer = (loose: Loose<'answer', RequestName>): loose is Loose<'answer', RequestName> & AnyAnswer =>
  hasFields<FieldTable>(messages[loose.name].answer, loose.fields);
const isEvent = (loose: Loose<'event', EventName>): loose is Loose<'event', EventName> & AnyEvent =>
  hasFields<FieldTable>(events[loose.name].fields, loose.fields);

function unreadable({ type, sequence, length }: Frame, trouble?: FieldTrouble): Unreadable {
  if (trouble === undefined)
    return { kind: 'unreadable', code: 'UNKNOWN_TYPE', type, sequence, detail: type };
  const { code, field, place } = trouble;
  const detail = code === 'FIELDS_SHORT' ? length : place;
  return { kind: 'unreadable', code, type, sequence, detail, field };
}

/** What the host reads: an answer, a refusal, an event. Requests are unreadable to a host. */
export function decodeForHost(frame: Frame): AnyAnswer | AnyEvent | RefusedMessage | Unreadable {
  const { type, sequence } = frame;
  if (type === refused.number) {
    const fields = readFields(refused.fields, frame);
    return hasFields(refused.fields, fields)
      ? { kind: 'refused', name: 'refused', sequence, fields }
      : unreadable(frame, fieldTrouble(refused.fields, fields));
  }
  const eventName = nameOfRow(events, type);
  if (eventName !== undefined) {
    const table = events[eventName].fields;
    const event = { kind: 'event', name: eventName, sequence, fields: readFields(table, frame) } as const;
    return isEvent(event) ? event : unreadable(frame, fieldTrouble(table, event.fields));
  }
  const name = (type & ANSWER_BIT) === 0 ? undefined : requestNameOf(type & ~ANSWER_BIT);
  if (name === undefined) return unreadable(frame);
  const table = messages[name].answer;
  const answer = { kind: 'answer', name, sequence, fields: readFields(table, frame) } as const;
  return isAnswer(answer) ? answer : unreadable(frame, fieldTrouble(table, answer.fields));
}

/** What the box reads: a request. Answers and events are unreadable to a box. */
export function decodeForBox(frame: Frame): AnyRequest | Unreadable {
  const name = requestNameOf(frame.type);
  if (name === undefined) return unreadable(frame);
  const table = messages[name].request;
  const request = {
    kind: 'request',
    name,
    sequence: frame.sequence,
    fields: readFields(table, frame),
  } as const;
  return isRequest(request) ? request : unreadable(frame, fieldTrouble(table, request.fields));
}
