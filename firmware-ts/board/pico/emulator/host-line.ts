import { decodeForHost, encodeFrame, FrameReader } from '../../../../protocol';
import type { AnyAnswer, AnyEvent, Fields, RefusedMessage, RequestName } from '../../../../protocol';
import type { Chip } from './chip';
import type { Alarm } from './rp2040';

/** 8 data bits, start and stop at 115,200 baud. */
const BYTE_NANOS = (10 * 1e9) / 115_200;
/** The flag of a full receive FIFO (PL011: RXFF). */
const RECEIVE_FULL = 0x40;
const STEP_NANOS = 500_000;

export type Asked = {
  [Name in RequestName]: { readonly name: Name; readonly fields: Fields<Name> };
}[RequestName];

/** What came of a request. */
export type Outcome = AnyAnswer | RefusedMessage | undefined;

/** A host at the other end of the serial line, in the chip's time. */
export class HostLine {
  readonly events: AnyEvent[] = [];
  /** Bytes that found the receive FIFO full: the chip was deaf for longer than 2.8 ms. */
  lostByteCount = 0;
  readonly #chip: Chip;
  readonly #alarm: Alarm;
  readonly #waiting: number[] = [];
  #isSending = false;
  #sequence = 0;
  #answer: AnyAnswer | RefusedMessage | undefined;

  constructor(chip: Chip) {
    this.#chip = chip;
    this.#alarm = chip.clock.createAlarm(() => this.#sendByte());
    const reader = new FrameReader({
      frame: (frame) => {
        const message = decodeForHost(frame);
        if (message.kind === 'event') this.events.push(message);
        else if (message.kind !== 'unreadable' && message.sequence === this.#sequence) this.#answer = message;
      },
    });
    chip.rp2040.uart[0]!.onByte = (value) => reader.push(Uint8Array.of(value));
  }

  /** Bytes onto the line, one after another. */
  send(bytes: Iterable<number>): void {
    this.#waiting.push(...bytes);
    if (this.#isSending || this.#waiting.length === 0) return;
    this.#isSending = true;
    this.#alarm.schedule(BYTE_NANOS);
  }

  /** One request and its answer; `undefined` when none came in time. Time passes meanwhile. */
  ask(asked: Asked, patienceMs = 1000): Outcome {
    this.#sequence = (this.#sequence + 1) & 0xff;
    this.#answer = undefined;
    this.send(encodeFrame({ kind: 'request', sequence: this.#sequence, ...asked }));
    const { clock } = this.#chip;
    const untilNanos = clock.nanos + patienceMs * 1e6;
    while (this.#answer === undefined && clock.nanos < untilNanos && !this.#chip.isOff) {
      this.#chip.runUntil(clock.nanos + STEP_NANOS);
    }
    return this.#answer;
  }

  #sendByte(): void {
    const byte = this.#waiting.shift();
    if (byte !== undefined) {
      const uart = this.#chip.rp2040.uart[0]!;
      if ((uart.flags & RECEIVE_FULL) !== 0) this.lostByteCount += 1;
      else uart.feedByte(byte);
    }
    this.#isSending = this.#waiting.length > 0;
    if (this.#isSending) this.#alarm.schedule(BYTE_NANOS);
  }
}
