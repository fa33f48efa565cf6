// Runs inside the XS engine: the firmware on a device that costs next to nothing, because what a callback costs is its time
// on the chip. A command lays out what is true and calls the firmware; another one collects what was done. The world itself
// lives in Node.
import { converter, pins } from '../../../firmware-ts/board/reference-design';
import { busWords } from '../../../firmware-ts/meter/converter';
import { Box } from '../../../firmware-ts/main';
import type { BootCause, Device, Sector } from '../../../firmware-ts/main';
import type { DigitalOptions, I2COptions, SerialOptions } from '../../../firmware-ts/ecma419';
import { RAIL_FAILS, at, busStates, calls, deeds } from './wire';

type Chip = {
  state: number;
  hasResult: boolean;
  readonly result: Uint8Array<ArrayBuffer>;
  timeoutMs: number;
};

const OUT_BYTES = 4096;
const DEFAULT_TIMEOUT_MS = 200;
const causes: readonly BootCause[] = ['power', 'watchdog', 'brown-out'];
const chipAtStart = (): Chip => ({
  state: 0,
  hasResult: false,
  result: new Uint8Array(3),
  timeoutMs: DEFAULT_TIMEOUT_MS,
});
const chips: readonly [Chip, Chip] = [chipAtStart(), chipAtStart()];
const status = { idle: new Uint8Array(1).buffer, ready: Uint8Array.of(busWords.readyBit).buffer };
const identity = Uint8Array.of(busWords.identity).buffer;
const sectors: [ArrayBuffer | undefined, ArrayBuffer | undefined] = [undefined, undefined];
/** What the callback did: a deed, then its numbers or its bytes. */
const done: (number | ArrayBuffer)[] = [];
let received = new Uint8Array(0);
let taken = 0;
let nowMs = 0;
let rail = 0;
let count = 0;
let readyLine = 1;
let tripLine = 1;
let extra = new DataView(new ArrayBuffer(0));
let box: Box | undefined;
let timer: (() => void) | undefined;
let serial: SerialOptions | undefined;

class Digital {
  static readonly Input = 0;
  static readonly InputPullUp = 1;
  static readonly Output = 2;
  readonly #pin: number;
  constructor({ pin }: DigitalOptions) {
    this.#pin = pin;
  }
  read(): number {
    return this.#pin === pins.hardwareTrip ? tripLine : readyLine;
  }
  write(value: number): void {
    done.push(deeds.pin, this.#pin, value);
  }
  close(): void {}
}

class DigitalBank {
  static readonly Input = 0;
  static readonly InputPullUp = 1;
  static readonly Output = 2;
  write(bits: number): void {
    done.push(deeds.bank, bits);
  }
  close(): void {}
}

class Analog {
  readonly resolution = 12;
  read(): number {
    if (rail === RAIL_FAILS) throw new Error('no answer');
    return rail;
  }
  close(): void {}
}

class I2C {
  readonly #which: 0 | 1;
  readonly #chip: Chip;
  constructor(options: I2COptions) {
    this.#which = options.address === converter.addresses[0] ? 0 : 1;
    this.#chip = chips[this.#which];
    this.#chip.timeoutMs = options.timeout ?? DEFAULT_TIMEOUT_MS;
  }
  write(bytes: ArrayBuffer): void {
    if (this.#chip.state !== busStates.works) fail(this.#chip);
    done.push(deeds.busWrite, this.#which, bytes);
  }
  read(byteLength: number): ArrayBuffer {
    const chip = this.#chip;
    if (chip.state !== busStates.works) fail(chip);
    if (byteLength === 1) return chip.hasResult ? status.ready : status.idle;
    done.push(deeds.busRead, this.#which);
    if (this.#which === 1) readyLine = 1;
    return chip.result.buffer;
  }
  close(): void {}
}

/** A chip that is asked who it is. A class of its own, so that the other costs no more than it does on the board. */
class IdentifiedI2C extends I2C {
  #asked = 0;
  override write(bytes: ArrayBuffer): void {
    super.write(bytes);
    this.#asked = new Uint8Array(bytes)[0]!;
  }
  override read(byteLength: number): ArrayBuffer {
    const answer = super.read(byteLength);
    return this.#asked === busWords.askIdentity ? identity : answer;
  }
}

/** A chip that does not acknowledge throws; a bus that hangs does so after its time. */
function fail({ state, timeoutMs }: Chip): never {
  if (state === busStates.hangs) done.push(deeds.busTimedOut, timeoutMs);
  throw new Error('no answer');
}

class Serial {
  constructor(options: SerialOptions) {
    serial = options;
  }
  read(buffer: ArrayBuffer): void {
    if (taken + buffer.byteLength > received.length) throw new RangeError('read: more than has arrived');
    new Uint8Array(buffer)[0] = received[taken]!;
    taken += 1;
  }
  write(bytes: ArrayBuffer): void {
    done.push(deeds.serialWrite, bytes);
  }
  close(): void {}
}

const sector = (which: 0 | 1): Sector => ({
  read: (byteLength) => sectors[which]?.slice(0, byteLength),
  write: (bytes) => {
    sectors[which] = bytes.slice(0);
    done.push(deeds.sector, which, bytes.slice(0));
  },
});

/** Boot data: cause, restarts, nonce and serial (u32), simulated, then the two sectors with their lengths. */
function boot(): void {
  let place = 11;
  for (const which of [0, 1] as const) {
    const length = extra.getUint16(place);
    const from = extra.byteOffset + place + 2;
    const bytes = new Uint8Array(length);
    bytes.set(new Uint8Array(extra.buffer, from, length));
    sectors[which] = length === 0 ? undefined : bytes.buffer;
    place += 2 + length;
  }
  const device: Device = {
    io: {
      Digital,
      DigitalBank,
      Analog,
      I2C: Number.isNaN(busWords.askIdentity) ? I2C : IdentifiedI2C,
      Serial,
    },
    system: {
      now: () => nowMs,
      set: (callback, delayMs) => {
        timer = callback;
        done.push(deeds.timer, delayMs);
      },
      clear: () => undefined,
    },
    calibrationSectors: [sector(0), sector(1)],
    boxSerial: extra.getUint32(6),
    boot: {
      cause: causes[extra.getUint8(0)] ?? 'power',
      restartCount: extra.getUint8(1),
      nonce: extra.getUint32(2),
    },
    isSimulated: extra.getUint8(10) !== 0,
  };
  box = new Box(device);
}

function call(which: number): void {
  switch (which) {
    case calls.boot:
      return boot();
    case calls.timer:
      return timer?.();
    case calls.readable:
      return serial?.onReadable(count);
    case calls.writable:
      return serial?.onWritable(count);
    case calls.spoil: {
      const milliohm = box?.parts.table.milliohm;
      if (milliohm !== undefined) milliohm[3] = milliohm[3]! + 1;
      return;
    }
    default:
      return;
  }
}

/** Lays out what the callback may read. The same work for every call, and so taken off as the base line. */
function layOut(bytes: ArrayBuffer): number {
  const input = new DataView(bytes);
  done.length = 0;
  taken = 0;
  for (let which = 0; which < 2; which += 1) {
    const chip = chips[which]!;
    const from = at.converters[which]!;
    chip.state = input.getUint8(at.bus[which]!);
    chip.hasResult = input.getUint8(from) !== 0;
    for (let index = 0; index < 3; index += 1) chip.result[index] = input.getUint8(from + 1 + index);
  }
  nowMs = input.getFloat64(at.now);
  rail = input.getUint16(at.rail);
  count = input.getUint16(at.count);
  readyLine = input.getUint8(at.readyLine);
  tripLine = input.getUint8(at.tripLine);
  extra = new DataView(bytes, at.bytes);
  received = new Uint8Array(bytes, at.bytes);
  return input.getUint8(at.call);
}

/** Numbers as 32 bits, bytes with their length before them. */
function collected(): ArrayBuffer {
  const out = new DataView(new ArrayBuffer(OUT_BYTES));
  let length = 0;
  const put = (value: number): void => {
    out.setUint32(length, value >>> 0);
    length += 4;
  };
  put(taken);
  for (const one of done) {
    if (typeof one === 'number') put(one);
    else {
      put(one.byteLength);
      new Uint8Array(out.buffer).set(new Uint8Array(one), length);
      length += one.byteLength;
    }
  }
  return out.buffer.slice(0, length);
}

const nothing = new ArrayBuffer(0);

const handleCommand = (bytes: ArrayBuffer): ArrayBuffer => {
  if (bytes.byteLength === 0) return collected();
  call(layOut(bytes));
  return nothing;
};

Object.assign(globalThis, { handleCommand });
