import { FrameReader, FrameWriter, decodeForBox, encodeFrame, messages, refusals } from '../../protocol';
import type { AnyRequest, EventFields, Frame } from '../../protocol';
import { pins } from '../board/reference-design';
import type { Device } from '../device';
import type { Serial } from '../ecma419';
import { refuse } from './wire';
import type { Reply } from './wire';

const BAUD = 115_200;
/** An event is repeated this often until the host has acknowledged it. */
const EVENT_REPEAT_MS = 500;
/** Frames that may wait for room in the serial port. An answer and an event at most; one more of each for retries. */
const QUEUE_FRAMES = 4;
/**
 * Bytes taken in a turn. The line brings ten times as many; what waits stays in the port, and what does not fit there is
 * lost. So a line full of rubbish may silence the host but never holds up the meter and the pulse.
 */
const BYTES_A_TURN = 8;
const HALF_SEQUENCES = 128;
const SEQUENCE_MASK = 0xff;

/** Whom the link hands requests on to. */
export type RequestHandler = {
  /** A request to do now, and the number to give to `reply` when the reply comes later. */
  readonly do: (request: AnyRequest, token: number) => Reply | undefined;
  /** The greeting came once more as it was, though others followed it: an old line speaks, and nobody knows to whom. */
  readonly repeated: () => void;
  /** Something was thrown while bytes were read, a request was done or its answer was put into bytes. */
  readonly failed: () => Reply;
};

/** The serial line to the host: framing, one answer for each request, and events until acknowledged. */
export class HostLink {
  readonly #serial: Serial;
  readonly #reader: FrameReader;
  /** Received bytes pass through this one. One byte always fits what has arrived, and no chunk needs memory of its own. */
  readonly #byte = new Uint8Array(1);
  readonly #writer = new FrameWriter();
  readonly #handler: RequestHandler;
  readonly #queue: Uint8Array<ArrayBuffer>[] = [];
  /** Bytes that wait in the port. */
  #waitingBytes = 0;
  #roomBytes = 0;
  #isGreeted = false;
  #lastType = 0;
  #lastSequence = 0;
  #lastCheck = 0;
  /** CRC of the greeting in force. */
  #helloCheck = -1;
  #lastAnswer: Uint8Array<ArrayBuffer> | undefined;
  #isPending = false;
  /** An answer that is still to be put into bytes. */
  #reply: Reply | undefined;
  #token = 0;
  #event: Uint8Array<ArrayBuffer> | undefined;
  #eventSequence = 0;
  #eventAtMs = 0;

  constructor({ io }: Device, handler: RequestHandler) {
    this.#handler = handler;
    this.#reader = new FrameReader({ frame: (frame) => this.#received(frame) });
    this.#serial = new io.Serial({
      receive: pins.serialReceive,
      transmit: pins.serialTransmit,
      baud: BAUD,
      format: 'buffer',
      // The count is of all that waits. Nothing is read in here: the main loop decides when there is time.
      onReadable: (byteCount) => {
        this.#waitingBytes = byteCount;
      },
      onWritable: (byteCount) => {
        this.#roomBytes = byteCount;
        this.#flush();
      },
    });
  }

  /** Answers the request that `handler` left open; a reply to a request that the host has given up goes nowhere. */
  reply(token: number, reply: Reply): void {
    if (!this.#isPending || token !== this.#token) return;
    this.#isPending = false;
    this.#reply = reply;
  }

  /** Answers the request that still waits, if one does, when whatever was to answer it has failed. */
  giveUp(reply: Reply): void {
    this.reply(this.#token, reply);
  }

  /** Tells the host of a trip, again and again until it acknowledges. A later trip takes the place of an earlier one. */
  announce(fields: EventFields<'tripped'>): void {
    this.#eventSequence = (this.#eventSequence + 1) & SEQUENCE_MASK;
    this.#event = encodeFrame(
      { kind: 'event', name: 'tripped', sequence: this.#eventSequence, fields },
      this.#writer,
    );
    this.#eventAtMs = -EVENT_REPEAT_MS;
  }

  acknowledge(eventSequence: number): void {
    if (eventSequence === this.#eventSequence) this.#event = undefined;
  }

  /** Takes a few bytes in and does the request they complete; repeats a waiting event when its time has come. */
  tick(nowMs: number): void {
    // One of the two in a turn: what an answer costs must not come on top of what its request did.
    if (this.#reply !== undefined) this.#answer(this.#reply);
    else if (this.#waitingBytes > 0) this.#readSome();
    if (this.#event === undefined || !this.#isGreeted || nowMs - this.#eventAtMs < EVENT_REPEAT_MS) return;
    this.#eventAtMs = nowMs;
    this.#send(this.#event);
  }

  #answer(reply: Reply): void {
    this.#reply = undefined;
    try {
      this.#lastAnswer = this.#encode(reply);
    } catch {
      this.#lastAnswer = this.#encode(this.#handler.failed());
    }
    this.#send(this.#lastAnswer);
  }

  #readSome(): void {
    const count = Math.min(BYTES_A_TURN, this.#waitingBytes);
    // A port that cannot be read has nothing that waits.
    const left = this.#waitingBytes - count;
    this.#waitingBytes = 0;
    try {
      for (let index = 0; index < count; index += 1) {
        this.#serial.read(this.#byte.buffer);
        this.#reader.push(this.#byte);
      }
      this.#waitingBytes = left;
    } catch {
      this.giveUp(this.#handler.failed());
    }
  }

  #received(frame: Frame): void {
    const check = frame.view.getUint32(frame.offset + frame.length, true);
    const isHello = frame.type === messages.hello.number;
    const isSame = frame.type === this.#lastType && frame.sequence === this.#lastSequence;
    // The same bytes again are a retry: the answer of then, or patience. A new host may reuse type and sequence.
    if (isSame && check === this.#lastCheck) {
      if (!this.#isPending && this.#lastAnswer !== undefined) this.#send(this.#lastAnswer);
      return;
    }
    if (isHello && check === this.#helloCheck) {
      // What followed that greeting may come again as well: without a new one nothing of it is done.
      this.#isGreeted = false;
      this.#handler.repeated();
      return;
    }
    // A frame older than the last one has been overtaken on its way: acting on it now would undo what came later.
    const ahead = (frame.sequence - this.#lastSequence) & SEQUENCE_MASK;
    if (this.#isGreeted && !isHello && (ahead === 0 || ahead >= HALF_SEQUENCES)) return;
    this.#lastType = frame.type;
    this.#lastSequence = frame.sequence;
    this.#lastCheck = check;
    if (isHello) this.#helloCheck = check;
    this.#lastAnswer = undefined;
    this.#reply = undefined;
    this.#isPending = true;
    this.#token += 1;
    const token = this.#token;
    const reply = this.#decide(frame);
    if (reply !== undefined) this.reply(token, reply);
  }

  #decide(frame: Frame): Reply | undefined {
    const request = decodeForBox(frame);
    if (request.kind === 'unreadable') return refuse(request.code, request.detail);
    if (request.name === 'hello') this.#isGreeted = true;
    else if (!this.#isGreeted) return refuse('GREETING_FIRST');
    return this.#handler.do(request, this.#token);
  }

  #encode(reply: Reply): Uint8Array<ArrayBuffer> {
    if (reply.kind === 'answer') return encodeFrame({ ...reply, sequence: this.#lastSequence }, this.#writer);
    const fields = {
      requestType: this.#lastType,
      refusalCode: refusals[reply.refusal].number,
      detail: Math.round(reply.detail),
    };
    return encodeFrame(
      { kind: 'refused', name: 'refused', sequence: this.#lastSequence, fields },
      this.#writer,
    );
  }

  #send(frame: Uint8Array<ArrayBuffer>): void {
    // A host that does not read loses the oldest frame; it will ask again.
    if (this.#queue.length >= QUEUE_FRAMES) this.#queue.shift();
    this.#queue.push(frame);
    this.#flush();
  }

  #flush(): void {
    for (let frame = this.#queue[0]; frame !== undefined; frame = this.#queue[0]) {
      if (frame.length > this.#roomBytes) return;
      this.#roomBytes -= frame.length;
      this.#queue.shift();
      this.#serial.write(frame.buffer);
    }
  }
}
