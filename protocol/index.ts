export { crc32 } from './crc32';
export { cobsBound, cobsDecode, cobsEncode } from './cobs';
export { ANSWER_MAX_MS, MAX_FIELD_BYTES, limits } from './limits';
export type { Limit } from './limits';
export {
  capabilities,
  elementKinds,
  hasCapability,
  hasMeterFlag,
  jobKindName,
  jobKinds,
  meterFlags,
  stateName,
  states,
} from './words';
export type { Capability, JobKind, MeterFlag, StateName } from './words';
export { faultName, faults, faultSentence } from './faults';
export type { Fault, FaultName } from './faults';
export { refusalName, refusals, refusalSentence } from './refusals';
export type { Refusal, RefusalName } from './refusals';
export { bytesOfTable, fits, hasFields, i32, readFields, u16, u32, u8, writeFields } from './field';
export type { Field, FieldTable, FieldValues, WireType } from './field';
export { PROTOCOL_MAJOR, PROTOCOL_MINOR, events, messages, refused } from './messages';
export type { Answer, EventFields, EventName, Fields, RefusedFields, RequestName } from './messages';
export { CRC_BYTES, FrameWriter, HEAD_BYTES, MAX_STUFFED_BYTES } from './frame';
export type { Frame } from './frame';
export { FrameReader } from './reader';
export type { Damage, FrameSink } from './reader';
export { FieldError, decodeForBox, decodeForHost, encodeFrame } from './codec';
export type {
  AnswerMessage,
  AnyAnswer,
  AnyEvent,
  AnyMessage,
  AnyRequest,
  EventMessage,
  Message,
  RefusedMessage,
  RequestMessage,
  Unreadable,
} from './codec';
export { documentFaults, documentLimits, documentMessages, documentRefusals } from './document';
