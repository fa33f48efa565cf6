import { contactBits, elements } from '../../firmware-ts/board/reference-design';
import { SimulatedBox } from '../../firmware-ts/board/simulated/bench';
import type { SimulatedBoxOptions, StartFirmware } from '../../firmware-ts/board/simulated/bench';
import type { Device } from '../../firmware-ts/main';
import { simulatedGauge } from '../../firmware-ts/board/simulated/gauges/catalogue';
import type { SimulatedGauge } from '../../firmware-ts/board/simulated/gauges/catalogue';
import {
  FrameReader,
  FrameWriter,
  HEAD_BYTES,
  decodeForHost,
  encodeFrame,
  jobKinds,
  refusalName,
  stateName,
} from '../../protocol';
import type {
  Answer,
  AnyAnswer,
  AnyRequest,
  EventFields,
  Fields,
  JobKind,
  RequestName,
} from '../../protocol';

// Everything in this folder but the tests themselves runs in Node and inside the XS engine: no Node, no vitest.

export const TODAY = 20_700;
/** Rows of the element table behind the elements, whatever board it is. */
export const LIMITER_ROW = elements.length;
export const RESIDUAL_ROW = elements.length + 1;
const ANSWER_MS = 1_000;
const STEP_MS = 5;

/** What came back: the answer's fields, or a refusal by its name. */
export type Outcome = Partial<Readonly<Record<FieldName, number>>> & {
  readonly refused?: string;
  readonly detail?: number;
};

/** Numbers of the codes that any box on any bench has told: a catalogue must have nothing that nobody says. */
export const told = { refusals: new Set<number>(), faults: new Set<number>() };

type FieldName = { [Name in RequestName]: keyof Answer<Name> }[RequestName];

type Received = { readonly sequence: number; readonly outcome: Outcome };

export type BenchOptions = {
  /** A gauge of the catalogue by its name, or one of the test's own. */
  readonly gauge?: string | SimulatedGauge;
  readonly seed?: number;
  readonly speed?: number;
  readonly startMs?: number;
  readonly signedTicks?: boolean;
  readonly isUncalibrated?: boolean;
  readonly isPoweredOff?: boolean;
  /** Another firmware than the sources. */
  readonly firmware?: StartFirmware;
};

let usualFirmware: StartFirmware | undefined;

/** A firmware that nothing reaches into. */
export const runs =
  (start: (device: Device) => void): StartFirmware =>
  (device) => {
    start(device);
    return { spoilTable: () => undefined };
  };

/** What every bench runs that is not given a firmware: nothing for the sources, in Node and in no time. */
export function useFirmware(firmware: StartFirmware | undefined): void {
  usualFirmware = firmware;
}

const isRequest = (_value: unknown): _value is AnyRequest => true;

/** A host of a few lines in virtual time, and the box under it. Frames can be caught on their way. */
export class Bench {
  readonly box: SimulatedBox;
  readonly events: EventFields<'tripped'>[] = [];
  lastEventSequence = 0;
  /** Bytes from the box, before anything reads them. */
  readonly heard: Uint8Array[] = [];
  readonly #reader: FrameReader;
  #sequence = 0;
  #answer: Received | undefined;

  constructor(given: BenchOptions = {}) {
    const {
      gauge = 'thermal-fuel-steady',
      seed = 7,
      speed = 1,
      isUncalibrated = false,
      isPoweredOff = false,
      firmware = usualFirmware,
      startMs = 0,
      signedTicks = false,
    } = given;
    const found = typeof gauge === 'string' ? simulatedGauge(gauge) : gauge;
    if (found === undefined) throw new Error(`no gauge ${JSON.stringify(gauge)}`);
    const options: SimulatedBoxOptions = {
      gauge: found,
      seed,
      speed,
      startMs,
      signedTicks,
      isPoweredOff,
      sent: (bytes) => {
        this.heard.push(bytes);
        this.#reader.push(bytes);
      },
      ...(isUncalibrated ? {} : { calibrationDay: TODAY - 30 }),
      ...(firmware === undefined ? {} : { firmware }),
    };
    this.#reader = new FrameReader({ frame: (frame) => this.#take(decodeForHost(frame)) });
    this.box = new SimulatedBox(options);
  }

  /** Sequence of the last request. */
  get sequence(): number {
    return this.#sequence;
  }

  /** Frame of a request with the next sequence, or with one given. */
  frame<Name extends RequestName>(name: Name, fields: Fields<Name>, sequence?: number): Uint8Array {
    if (sequence === undefined) this.#sequence = (this.#sequence + 1) & 0xff;
    const message = { kind: 'request', name, sequence: sequence ?? this.#sequence, fields } as const;
    if (!isRequest(message)) throw new Error('unreachable');
    return encodeFrame(message);
  }

  /** A frame that no honest host would send: any type, any bytes as its fields, the CRC right. */
  anyFrame(type: number, fieldBytes: readonly number[]): Uint8Array {
    this.#sequence = (this.#sequence + 1) & 0xff;
    const writer = new FrameWriter();
    writer.begin(type, this.#sequence);
    fieldBytes.forEach((byte, index) => writer.view.setUint8(HEAD_BYTES + index, byte));
    return writer.finish(HEAD_BYTES + fieldBytes.length);
  }

  /** Sends a request and lives on until its answer is there; `silent` when none comes. */
  ask<Name extends RequestName>(name: Name, fields: Fields<Name>): Outcome {
    return this.deliver(this.frame(name, fields));
  }

  /** Sends bytes as they are and waits for the answer to the last sequence. */
  deliver(bytes: Uint8Array): Outcome {
    this.#answer = undefined;
    this.box.receive(bytes);
    for (let waitedMs = 0; waitedMs < ANSWER_MS; waitedMs += STEP_MS) {
      this.box.advance(STEP_MS);
      const answer = this.#received();
      if (answer?.sequence === this.#sequence) return answer.outcome;
    }
    return { refused: 'silent' };
  }

  // Through a method, because the compiler cannot see that advancing the world brings an answer.
  #received(): Received | undefined {
    return this.#answer;
  }

  hello(hostNonce = 1): Outcome {
    return this.ask('hello', { protocolMajorMin: 1, protocolMajorMax: 1, hostNonce, hostDay: TODAY });
  }

  arm(jobKind: JobKind = 'thermal', tighter: Partial<Fields<'arm'>> = {}): Outcome {
    const own = this.ask('jobLimits', { channel: 0, jobKind: jobKinds[jobKind] });
    return this.ask('arm', {
      channel: 0,
      jobKind: jobKinds[jobKind],
      currentLimitMilliamp: own.currentLimitMilliamp ?? 0,
      elementPowerLimitMilliwatt: own.elementPowerLimitMilliwatt ?? 0,
      totalPowerLimitMilliwatt: own.totalPowerLimitMilliwatt ?? 0,
      supplyLimitMillivolt: own.supplyLimitMillivolt ?? 0,
      floorMilliohm: own.floorMilliohm ?? 0,
      floorTimeMs: own.floorTimeMs ?? 0,
      leaseMs: 1500,
      originalLeastMilliohm: 0,
      ...tighter,
    });
  }

  /** Element table as the box tells it, residual last. */
  table(): number[] {
    return Array.from(
      { length: RESIDUAL_ROW + 1 },
      (_, index) => this.ask('element', { index }).milliohm ?? NaN,
    );
  }

  /** Greedy contacts for about so much: good enough to drive with, the host's exact search is elsewhere. */
  maskFor(
    ohm: number,
    table: readonly number[],
  ): { readonly contactMask: number; readonly milliohm: number } {
    const residualMilliohm = table[RESIDUAL_ROW]!;
    let rest = ohm * 1000 - residualMilliohm;
    let milliohm = residualMilliohm;
    let contactMask = contactBits.allMask;
    for (let index = elements.length - 1; index >= 0; index -= 1) {
      if (table[index]! > rest) continue;
      rest -= table[index]!;
      milliohm += table[index]!;
      contactMask &= ~(1 << index);
    }
    return { contactMask, milliohm };
  }

  /** The fields of a setting. */
  setting(ohm: number, table: readonly number[], leaseMs = 1500): Fields<'set'> {
    const { contactMask, milliohm } = this.maskFor(ohm, table);
    const complementMask = ~contactMask & 0xffff;
    return { channel: 0, contactMask, complementMask, resistanceMilliohm: milliohm, leaseMs };
  }

  set(ohm: number, table: readonly number[]): Outcome {
    return this.ask('set', this.setting(ohm, table));
  }

  beat(): Outcome {
    return this.ask('heartbeat', { channel: 0 });
  }

  /** Lives on for a while with heartbeats. */
  live(forMs: number): Outcome {
    const untilMs = this.box.nowMs + forMs;
    let last = this.beat();
    while (this.box.nowMs < untilMs) {
      this.box.advance(Math.min(400, untilMs - this.box.nowMs));
      last = this.beat();
    }
    return last;
  }

  /** State by name, from a heartbeat. */
  state(): string {
    return stateName(this.beat().state ?? -1) ?? 'unknown';
  }

  /** True when the output contact is open in the world, whatever the box says. */
  get isOutputOpen(): boolean {
    return !Number.isFinite(this.box.world.pathOhm);
  }

  /** Greeted, armed, driving so many ohms. */
  static driving(ohm: number, options: BenchOptions & { readonly jobKind?: JobKind } = {}): Bench {
    const bench = new Bench(options);
    bench.hello();
    const table = bench.table();
    const armed = bench.arm(options.jobKind ?? 'thermal');
    if (armed.refused !== undefined) throw new Error(`arm refused: ${armed.refused} ${armed.detail}`);
    bench.box.advance(200);
    const made = bench.set(ohm, table);
    if (made.refused !== undefined) throw new Error(`set refused: ${made.refused} ${made.detail}`);
    return bench;
  }

  #take(message: ReturnType<typeof decodeForHost>): void {
    switch (message.kind) {
      case 'answer':
        this.#answer = { sequence: message.sequence, outcome: plain(message) };
        return;
      case 'refused': {
        told.refusals.add(message.fields.refusalCode);
        const refused = refusalName(message.fields.refusalCode) ?? 'unknown';
        this.#answer = { sequence: message.sequence, outcome: { refused, detail: message.fields.detail } };
        return;
      }
      case 'event':
        told.faults.add(message.fields.faultCode);
        if (message.sequence !== this.lastEventSequence) this.events.push(message.fields);
        this.lastEventSequence = message.sequence;
        return;
      case 'unreadable':
        throw new Error(`the box sent what the host cannot read: ${message.code} ${message.field}`);
    }
  }
}

const plain = ({ fields }: AnyAnswer): Outcome => ({ ...fields });
