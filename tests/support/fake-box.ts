import { decodeForBox, encodeFrame, FrameReader, refusals } from '../../protocol';
import type { Answer, AnyMessage, AnyRequest, EventFields } from '../../protocol';
import type { ByteConnection, ByteListener, ByteSource, LinkClock, LinkProblem } from '../../host/link';

/** What the line between host and box does to one answer. */
export type LineFault = 'drop' | 'duplicate' | 'corrupt' | 'late' | 'cut';

const helloAnswer = (box: FakeBox, hostNonce: number): Answer<'hello'> => ({
  protocolMajor: box.protocolMajor,
  protocolMinor: 0,
  firmwareMajor: 1,
  firmwareMinor: 0,
  firmwarePatch: 0,
  boxSerial: box.serial,
  bootNonce: box.bootNonce,
  hostNonce,
  capabilities: 1,
  channelCount: 1,
  elementCount: 13,
  state: 0,
  deadManMaxMs: 2000,
  currentMaxMilliamp: 300,
  supplyMaxMillivolt: 16_000,
  resistanceMaxOhm: 5000,
  calibrationId: 1,
  calibrationDay: 20_000,
  calibrationEndDay: 20_400,
  boxMs: 0,
});

const heartbeatAnswer: Answer<'heartbeat'> = {
  state: 0,
  faultCode: 0,
  contactMask: 0,
  meterFlags: 0,
  leaseLeftMs: 0,
  boxMs: 0,
  terminalMicrovolt: 0,
  currentMicroamp: 0,
  measuredMilliohm: 0,
  madeMilliohm: 0,
  meterAgeMs: 0,
};

/** How late a `late` answer is: after the host's second try and before its third. */
const LATE_MS = 300;

/**
 * A box's end of the line, written with the protocol's own codec and nothing of the link: it counts what reached it and
 * mishandles answers as told. It is no firmware; tests of what a box does run on the real one.
 */
export class FakeBox implements ByteSource {
  readonly title = 'fake box';
  readonly requests: AnyRequest[] = [];
  readonly faults: LineFault[] = [];
  readonly acted: string[] = [];
  protocolMajor = 1;
  serial = 7;
  bootNonce = 1000;
  connectionCount = 0;
  closeCount = 0;
  isSilent = false;
  needsGreeting = true;
  refusal: LinkProblem | undefined;
  #listener: ByteListener | undefined;
  #lastAnswer: { readonly key: string; readonly answer: AnyMessage } | undefined;
  readonly #clock: LinkClock;
  readonly #reader = new FrameReader({
    frame: (frame) => {
      const request = decodeForBox(frame);
      if (request.kind === 'request') this.#take(request);
    },
  });

  constructor(clock: LinkClock) {
    this.#clock = clock;
  }

  connect(listener: ByteListener): Promise<ByteConnection | LinkProblem> {
    this.connectionCount += 1;
    if (this.refusal !== undefined) return Promise.resolve(this.refusal);
    this.#listener = listener;
    return Promise.resolve({
      write: (bytes) => this.#reader.push(bytes),
      close: () => {
        this.closeCount += 1;
        if (this.#listener === listener) this.#listener = undefined;
        return Promise.resolve();
      },
    });
  }

  /** Names of the requests that reached the box, heartbeats left out. */
  get names(): string[] {
    return this.requests.filter(({ name }) => name !== 'heartbeat').map(({ name }) => name);
  }

  restart(): void {
    this.bootNonce += 1;
    this.needsGreeting = true;
    this.#lastAnswer = undefined;
  }

  trip(sequence: number, fields: EventFields<'tripped'>): void {
    this.#say({ kind: 'event', name: 'tripped', sequence, fields });
  }

  rubbish(bytes: Uint8Array): void {
    this.#listener?.received(bytes);
  }

  unplug(): void {
    const listener = this.#listener;
    this.#listener = undefined;
    listener?.lost({ code: 'LINK_UNPLUGGED', message: 'pulled out' });
  }

  #take(request: AnyRequest): void {
    this.requests.push(request);
    if (this.isSilent) return;
    const key = `${request.name} ${request.sequence}`;
    const isRepeat = this.#lastAnswer?.key === key;
    const answer =
      isRepeat && this.#lastAnswer !== undefined ? this.#lastAnswer.answer : this.#answerTo(request);
    if (!isRepeat) this.acted.push(request.name);
    this.#lastAnswer = { key, answer };
    this.#deliver(answer);
  }

  #answerTo(request: AnyRequest): AnyMessage {
    const { sequence } = request;
    if (this.needsGreeting && request.name !== 'hello') {
      const fields = { requestType: 0, refusalCode: refusals.GREETING_FIRST.number, detail: 0 };
      return { kind: 'refused', name: 'refused', sequence, fields };
    }
    switch (request.name) {
      case 'hello':
        this.needsGreeting = false;
        return {
          kind: 'answer',
          name: 'hello',
          sequence,
          fields: helloAnswer(this, request.fields.hostNonce),
        };
      case 'heartbeat':
        return { kind: 'answer', name: 'heartbeat', sequence, fields: heartbeatAnswer };
      case 'open':
        return { kind: 'answer', name: 'open', sequence, fields: { state: 0, boxMs: 0 } };
      case 'clear':
        return { kind: 'answer', name: 'clear', sequence, fields: { state: 0, boxMs: 0 } };
      case 'acknowledge':
        return { kind: 'answer', name: 'acknowledge', sequence, fields: request.fields };
      case 'arm':
      case 'set':
      case 'measure':
      case 'element':
      case 'ohmmeter':
      case 'calibrateElement':
      case 'calibrateStore':
      case 'jobLimits': {
        const fields = { requestType: 0, refusalCode: refusals.STATE.number, detail: 0 };
        return { kind: 'refused', name: 'refused', sequence, fields };
      }
    }
  }

  #deliver(answer: AnyMessage): void {
    switch (this.faults.shift()) {
      case undefined:
        return this.#say(answer);
      case 'drop':
        return;
      case 'duplicate':
        this.#say(answer);
        return this.#say(answer);
      case 'corrupt': {
        const bytes = encodeFrame(answer);
        bytes[3] = bytes[3]! ^ 0x10 || 0x11;
        return this.#send(bytes);
      }
      case 'cut':
        return this.#send(encodeFrame(answer).slice(0, 6));
      case 'late':
        this.#clock.after(LATE_MS, () => this.#say(answer));
    }
  }

  #say(message: AnyMessage): void {
    this.#send(encodeFrame(message));
  }

  /** Bytes arrive after the write has returned, as on every real line. */
  #send(bytes: Uint8Array): void {
    const listener = this.#listener;
    queueMicrotask(() => {
      if (listener === this.#listener) listener?.received(bytes);
    });
  }
}
