import { converter, pins } from '../../../firmware-ts/board/reference-design';
import { busWords } from '../../../firmware-ts/meter/converter';
import type { Device } from '../../../firmware-ts/main';
import type { Analog, Digital, DigitalBank, I2C, Serial } from '../../../firmware-ts/ecma419';
import { RAIL_FAILS, at, busStates, calls, deeds } from './wire';

/** What the receive side of the first board's serial port holds; more is lost. */
const FIFO_BYTES = 128;
const SECTOR_BYTES = 4096;
const causes = ['power', 'watchdog', 'brown-out'] as const;

type BusWrite = { readonly chip: 0 | 1; readonly bytes: ArrayBuffer };

/** What a callback did, taken apart. */
export type Done = {
  readonly busWrites: BusWrite[];
  readonly effects: (() => void)[];
  timerMs: number | undefined;
  readBytes: number;
  sentBytes: number;
  timedOutMs: number;
  isConversionStarted: boolean;
  hasPulse: boolean;
  isFresh: boolean;
};

/** What the engine noted, read from its beginning to its end. */
class Notes {
  readonly #view: DataView;
  #place = 0;

  constructor(bytes: Uint8Array) {
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  }

  get isAtEnd(): boolean {
    return this.#place >= this.#view.byteLength;
  }

  number(): number {
    this.#place += 4;
    return this.#view.getUint32(this.#place - 4);
  }

  bytes(): Uint8Array<ArrayBuffer> {
    const length = this.number();
    const from = this.#view.byteOffset + this.#place;
    this.#place += length;
    return Uint8Array.from(new Uint8Array(this.#view.buffer, from, length));
  }
}

/** The board's classes as seen from outside the engine: what may be read before a callback, and what it did after it. */
export class WorldIo {
  readonly #device: Device;
  readonly #post: (call: 'timer' | 'readable' | 'writable') => void;
  readonly #buses: readonly [I2C, I2C];
  readonly #results: (Uint8Array | undefined)[] = [undefined, undefined];
  readonly #pins = new Map<number, Digital>();
  readonly #bank: DigitalBank;
  readonly #rail: Analog;
  readonly #trip: Digital;
  readonly #serial: Serial;
  readonly #received: number[] = [];
  #roomBytes = 0;

  readonly #isBusHung: () => boolean;

  constructor(
    { device, isBusHung }: { readonly device: Device; readonly isBusHung: () => boolean },
    post: (call: 'timer' | 'readable' | 'writable') => void,
  ) {
    const { io } = device;
    this.#device = device;
    this.#post = post;
    this.#isBusHung = isBusHung;
    const bus = (address: number): I2C =>
      new io.I2C({ data: pins.meterData, clock: pins.meterClock, hz: 400_000, address });
    this.#buses = [bus(converter.addresses[0]), bus(converter.addresses[1])];
    this.#bank = new io.DigitalBank({ pins: 0xffff << pins.elements[0], mode: io.DigitalBank.Output });
    this.#rail = new io.Analog({ pin: pins.railSense });
    this.#trip = new io.Digital({ pin: pins.hardwareTrip, mode: io.Digital.InputPullUp });
    this.#serial = new io.Serial({
      receive: pins.serialReceive,
      transmit: pins.serialTransmit,
      baud: 115_200,
      format: 'buffer',
      onReadable: (count) => this.#arrived(count),
      onWritable: (count) => {
        this.#roomBytes = count;
        this.#post('writable');
      },
    });
  }

  get receivedCount(): number {
    return this.#received.length;
  }

  /** Everything a callback may read, as it is now. */
  inputs(call: number, extra: readonly number[] = this.#received): Uint8Array {
    const bytes = new Uint8Array(at.bytes + extra.length);
    const view = new DataView(bytes.buffer);
    bytes[at.call] = call;
    bytes[at.tripLine] = this.#trip.read();
    for (const chip of [0, 1] as const) this.#look(chip, bytes);
    bytes[at.readyLine] = this.#results[1] === undefined ? 1 : 0;
    view.setUint16(at.rail, this.#railCode());
    view.setFloat64(at.now, this.#device.system.now());
    view.setUint16(at.count, call === calls.writable ? this.#roomBytes : this.#received.length);
    bytes.set(extra, at.bytes);
    return bytes;
  }

  /** The same for the start: why, and what is stored. */
  bootInputs(): Uint8Array {
    const { boot, boxSerial, isSimulated, calibrationSectors } = this.#device;
    const u32 = (value: number): number[] => [24, 16, 8, 0].map((shift) => (value >>> shift) & 0xff);
    const values = calibrationSectors.flatMap((sector) => {
      const stored = sector.read(SECTOR_BYTES);
      const bytes = stored === undefined ? new Uint8Array(0) : new Uint8Array(stored);
      return [bytes.length >> 8, bytes.length & 0xff, ...bytes];
    });
    return this.inputs(calls.boot, [
      causes.indexOf(boot.cause),
      boot.restartCount,
      ...u32(boot.nonce),
      ...u32(boxSerial),
      isSimulated ? 1 : 0,
      ...values,
    ]);
  }

  /** Takes the notes of a callback apart. */
  read(notes: Uint8Array): Done {
    const done: Done = {
      busWrites: [],
      effects: [],
      timerMs: undefined,
      readBytes: 0,
      sentBytes: 0,
      timedOutMs: 0,
      isConversionStarted: false,
      hasPulse: false,
      isFresh: false,
    };
    const rest = new Notes(notes);
    done.readBytes = rest.number();
    while (!rest.isAtEnd) this.#deed(rest, done);
    this.#received.splice(0, done.readBytes);
    return done;
  }

  startTimers({ timerMs }: Done): void {
    if (timerMs !== undefined) this.#device.system.set(() => this.#post('timer'), timerMs);
  }

  doBus({ busWrites }: Done): void {
    if (this.#isBusHung()) return;
    for (const { chip, bytes } of busWrites) {
      try {
        this.#buses[chip].write(bytes);
      } catch {
        // The firmware was told before: it looked at a bus in the same state.
      }
    }
  }

  doPins({ effects }: Done): void {
    for (const effect of effects) effect();
  }

  #look(chip: 0 | 1, bytes: Uint8Array): void {
    const bus = this.#buses[chip];
    if (this.#isBusHung()) {
      bytes[at.bus[chip]] = busStates.hangs;
      return;
    }
    try {
      if (this.#results[chip] === undefined && this.#asked(bus)) {
        bus.write(Uint8Array.of(busWords.askResult).buffer);
        this.#results[chip] = new Uint8Array(bus.read(3));
      }
      bytes[at.bus[chip]] = busStates.works;
    } catch {
      bytes[at.bus[chip]] = busStates.noAcknowledge;
    }
    const result = this.#results[chip];
    if (result === undefined) return;
    bytes[at.converters[chip]] = 1;
    bytes.set(result, at.converters[chip] + 1);
  }

  #railCode(): number {
    try {
      return this.#rail.read();
    } catch {
      return RAIL_FAILS;
    }
  }

  #asked(bus: I2C): boolean {
    bus.write(Uint8Array.of(busWords.askStatus).buffer);
    return (new Uint8Array(bus.read(1))[0]! & busWords.readyBit) !== 0;
  }

  #arrived(count: number): void {
    for (let index = 0; index < count; index += 1) {
      const byte = new Uint8Array(1);
      this.#serial.read(byte.buffer);
      if (this.#received.length < FIFO_BYTES) this.#received.push(byte[0]!);
    }
    this.#post('readable');
  }

  #pin(pin: number): Digital {
    const { Digital: Class } = this.#device.io;
    const known = this.#pins.get(pin) ?? new Class({ pin, mode: Class.Output });
    this.#pins.set(pin, known);
    return known;
  }

  #deed(notes: Notes, done: Done): void {
    switch (notes.number()) {
      case deeds.bank: {
        const bits = notes.number();
        done.effects.push(() => this.#bank.write(bits));
        return;
      }
      case deeds.pin: {
        const [pin, value] = [notes.number(), notes.number()];
        done.hasPulse ||= pin === pins.deadManPulse;
        done.effects.push(() => this.#pin(pin).write(value));
        return;
      }
      case deeds.busWrite:
        return this.#busWrite(notes.number() === 0 ? 0 : 1, notes.bytes(), done);
      case deeds.timer:
        done.timerMs = notes.number();
        return;
      case deeds.serialWrite: {
        const bytes = notes.bytes();
        done.sentBytes += bytes.length;
        done.effects.push(() => this.#serial.write(bytes.buffer));
        return;
      }
      case deeds.busRead:
        this.#results[notes.number()] = undefined;
        done.isFresh = true;
        return;
      case deeds.busTimedOut:
        done.timedOutMs += notes.number();
        return;
      case deeds.sector: {
        // At once: it is what the next boot must find even if the power goes now.
        const sector = this.#device.calibrationSectors[notes.number() === 0 ? 0 : 1];
        return sector.write(notes.bytes().buffer);
      }
      default:
        throw new Error('the engine noted what nobody knows');
    }
  }

  #busWrite(chip: 0 | 1, bytes: Uint8Array<ArrayBuffer>, done: Done): void {
    const [command = 0] = bytes;
    // What is asked before a reading was asked already, when the callback's inputs were laid out.
    if ([busWords.askResult, busWords.askStatus, busWords.askIdentity].includes(command)) return;
    if (busWords.isStart(bytes)) {
      done.isConversionStarted = true;
      this.#results[chip] = undefined;
    }
    done.busWrites.push({ chip, bytes: bytes.buffer });
  }
}
