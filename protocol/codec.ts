import { hasFields, readFields, writeFields } from './field';
import type { FieldTable, FieldTrouble } from './field';
import { FrameWriter, HEAD_BYTES } from './frame';
import type { Frame } from './frame';
import { events, messages, refused } from './messages';
import type { Answer, EventFields, EventName, Fields, RefusedFields, RequestName } from './messages';

/** Bit that turns a request's type into its answer's. */
export const ANSWER_BIT = 0x80;

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
  readonly message: string;
};

/** A message that must not be sent: a field is missing, fractional or out of its range. A programmer's error. */
export class FieldError extends Error {
  readonly code = 'FIELD_RANGE';
  readonly field: string;

  constructor(name: string, field: string, value: number | undefined) {
    super(`FIELD_RANGE: ${name}.${field} = ${value} is not a whole number within its range`);
    this.name = 'FieldError';
    this.field = field;
  }
}

const isRequestName = (name: string): name is RequestName => name in messages;
const isEventName = (name: string): name is EventName => name in events;

const requestNames = new Map<number, RequestName>();
for (const name in messages) if (isRequestName(name)) requestNames.set(messages[name].number, name);
const eventNames = new Map<number, EventName>();
for (const name in events) if (isEventName(name)) eventNames.set(events[name].number, name);

/** Request name of a request's type number. */
export const requestNameOf = (type: number): RequestName | undefined => requestNames.get(type);

type Layout = { readonly type: number; readonly table: FieldTable };

function layoutOf(message: AnyMessage): Layout {
  switch (message.kind) {
    case 'request':
      return { type: messages[message.name].number, table: messages[message.name].request };
    case 'answer':
      return { type: messages[message.name].number | ANSWER_BIT, table: messages[message.name].answer };
    case 'event':
      return { type: events[message.name].number, table: events[message.name].fields };
    case 'refused':
      return { type: refused.number, table: refused.fields };
  }
}

/**
 * A message as bytes for the wire: 0x00, stuffed frame, 0x00, in a fresh buffer of exact size. A microcontroller passes
 * the one writer it made at start.
 * Throws FieldError for a value outside its range: nothing is clamped.
 */
export function encodeFrame(
  message: AnyMessage,
  writer: FrameWriter = new FrameWriter(),
): Uint8Array<ArrayBuffer> {
  const { type, table } = layoutOf(message);
  writer.begin(type, message.sequence);
  const written = writeFields(table, message.fields, { view: writer.view, offset: HEAD_BYTES });
  if (written.kind === 'trouble') {
    const values: Readonly<Record<string, number>> = message.fields;
    throw new FieldError(message.name, written.field, values[written.field]);
  }
  return writer.finish(written.offset);
}

type Values = Readonly<Record<string, number>>;
type Loose<Kind extends string, Name extends string> = {
  readonly kind: Kind;
  readonly name: Name;
  readonly sequence: number;
  readonly fields: Values;
};

const isRequest = (
  loose: Loose<'request', RequestName>,
): loose is Loose<'request', RequestName> & AnyRequest =>
  hasFields<FieldTable>(messages[loose.name].request, loose.fields);
const isAnswer = (loose: Loose<'answer', RequestName>): loose is Loose<'answer', RequestName> & AnyAnswer =>
  hasFields<FieldTable>(messages[loose.name].answer, loose.fields);
const isEvent = (loose: Loose<'event', EventName>): loose is Loose<'event', EventName> & AnyEvent =>
  hasFields<FieldTable>(events[loose.name].fields, loose.fields);

function unreadable(frame: Frame, trouble: FieldTrouble | 'UNKNOWN_TYPE'): Unreadable {
  const place = { kind: 'unreadable', type: frame.type, sequence: frame.sequence } as const;
  if (trouble === 'UNKNOWN_TYPE') {
    return { ...place, code: trouble, detail: frame.type, message: `unknown message type ${frame.type}` };
  }
  const detail = trouble.code === 'FIELDS_SHORT' ? frame.length : trouble.place;
  const message = `message type ${frame.type}: field ${trouble.field} ${trouble.code === 'FIELDS_SHORT' ? 'is missing' : 'is out of range'}`;
  return { ...place, code: trouble.code, detail, message };
}

/** What the host reads: an answer, a refusal, an event. Requests are unreadable to a host. */
export function decodeForHost(frame: Frame): AnyAnswer | AnyEvent | RefusedMessage | Unreadable {
  const { sequence } = frame;
  if (frame.type === refused.number) {
    const read = readFields(refused.fields, frame);
    if (read.kind === 'trouble') return unreadable(frame, read);
    if (!hasFields(refused.fields, read.values)) return unreadable(frame, 'UNKNOWN_TYPE');
    return { kind: 'refused', name: 'refused', sequence, fields: read.values };
  }
  const eventName = eventNames.get(frame.type);
  if (eventName !== undefined) {
    const read = readFields(events[eventName].fields, frame);
    if (read.kind === 'trouble') return unreadable(frame, read);
    const event = { kind: 'event', name: eventName, sequence, fields: read.values } as const;
    return isEvent(event) ? event : unreadable(frame, 'UNKNOWN_TYPE');
  }
  const name = (frame.type & ANSWER_BIT) === 0 ? undefined : requestNames.get(frame.type & ~ANSWER_BIT);
  if (name === undefined) return unreadable(frame, 'UNKNOWN_TYPE');
  const read = readFields(messages[name].answer, frame);
  if (read.kind === 'trouble') return unreadable(frame, read);
  const answer = { kind: 'answer', name, sequence, fields: read.values } as const;
  return isAnswer(answer) ? answer : unreadable(frame, 'UNKNOWN_TYPE');
}

/** What the box reads: a request. Answers and events are unreadable to a box. */
export function decodeForBox(frame: Frame): AnyRequest | Unreadable {
  const name = requestNames.get(frame.type);
  if (name === undefined) return unreadable(frame, 'UNKNOWN_TYPE');
  const read = readFields(messages[name].request, frame);
  if (read.kind === 'trouble') return unreadable(frame, read);
  const request = { kind: 'request', name, sequence: frame.sequence, fields: read.values } as const;
  return isRequest(request) ? request : unreadable(frame, 'UNKNOWN_TYPE');
}
