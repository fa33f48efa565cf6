import { converter, pins, railSense } from '../reference-design';
import type { BootCause, Device } from '../../device';
import type {
  AnalogOptions,
  DigitalBankOptions,
  DigitalOptions,
  I2COptions,
  SerialOptions,
} from '../../ecma419';
import type { World } from './world';

/** What the transmit side of the first board's serial port takes at once. */
const SERIAL_ROOM_BYTES = 128;
/** One byte at 115200 baud. */
const BYTE_MS = 0.0868;
const USUAL_SERIAL = 0x53494d31;

export type BoardOptions = {
  readonly world: World;
  readonly calibrationSectors: Device['calibrationSectors'];
  readonly bootNonce: number;
  readonly cause: BootCause;
  readonly restartCount: number;
  readonly boxSerial?: number | undefined;
  /** Bytes that the firmware sends. */
  readonly sent: (bytes: Uint8Array) => void;
};

/** One life of the board from reset to reset: the ECMA-419 classes and system that the firmware is given. */
export class SimulatedBoard {
  readonly device: Device;
  readonly #world: World;
  readonly #incoming: number[] = [];
  #serial: SerialOptions | undefined;
  #isAlive = true;

  constructor(options: BoardOptions) {
    this.#world = options.world;
    this.device = this.#makeDevice(options);
  }

  /** The chip stops: timers and callbacks of this life never run again, outputs float. */
  stop(): void {
    this.#isAlive = false;
    this.#world.clock.clearTimers();
    this.#world.releaseOutputs();
  }

  /** Bytes arrive on the serial line, at the speed of the line. */
  receive(bytes: Uint8Array): void {
    for (let from = 0; from < bytes.length; from += SERIAL_ROOM_BYTES) {
      const chunk = bytes.slice(from, from + SERIAL_ROOM_BYTES);
      const atMs = this.#world.clock.nowMs + (from + chunk.length) * BYTE_MS;
      this.#world.clock.at(atMs, () => {
        if (!this.#isAlive) return;
        this.#incoming.push(...chunk);
        this.#serial?.onReadable(this.#incoming.length);
      });
    }
  }

  #makeDevice({ calibrationSectors, bootNonce, cause, restartCount, boxSerial, sent }: BoardOptions): Device {
    const world = this.#world;
    return {
      io: {
        Digital: this.#digital(),
        DigitalBank: digitalBank(world),
        Analog: analog(world),
        I2C: i2c(world),
        Serial: this.#serialClass(sent),
      },
      system: {
        now: () => world.clock.ticks,
        set: (callback, delayMs) => world.clock.setTimer(callback, delayMs),
        clear: (timer) => {
          if (typeof timer === 'number') world.clock.clear(timer);
        },
      },
      calibrationSectors,
      boxSerial: boxSerial ?? USUAL_SERIAL,
      boot: { nonce: bootNonce, cause, restartCount },
      isSimulated: true,
    };
  }

  #digital(): Device['io']['Digital'] {
    const world = this.#world;
    const levels = { low: 0, high: 0 };
    const drive = (pin: number, value: number): void => {
      if (pin === pins.deadManPulse) return world.rail.drive(value);
      if (pin === pins.ohmmeterLow) levels.low = value;
      if (pin === pins.ohmmeterHigh) levels.high = value;
      if (levels.low === 1) world.sourceOn('low');
      else if (levels.high === 1) world.sourceOn('high');
      else world.sourceOff();
    };
    return class {
      static readonly Input = 0;
      static readonly InputPullUp = 1;
      static readonly Output = 2;
      readonly #options: DigitalOptions;
      constructor(options: DigitalOptions) {
        this.#options = options;
      }
      read(): number {
        if (this.#options.pin === pins.hardwareTrip) return world.rail.isTripped ? 0 : 1;
        return world.converters[1].hasResult ? 0 : 1;
      }
      write(value: number): void {
        drive(this.#options.pin, value);
      }
      close(): void {
        // The firmware never closes a pin.
      }
    };
  }

  #serialClass(sent: (bytes: Uint8Array) => void): Device['io']['Serial'] {
    const incoming = this.#incoming;
    const world = this.#world;
    const isAlive = (): boolean => this.#isAlive;
    const register = (options: SerialOptions): void => {
      this.#serial = options;
    };
    return class {
      readonly #options: SerialOptions;
      #roomBytes = SERIAL_ROOM_BYTES;
      #busyUntilMs = 0;
      constructor(options: SerialOptions) {
        this.#options = options;
        register(options);
        // The standard forbids a callback from inside the constructor.
        world.clock.at(world.clock.nowMs, () => isAlive() && options.onWritable(SERIAL_ROOM_BYTES));
      }
      read(buffer: ArrayBuffer): void {
        if (buffer.byteLength > incoming.length) throw new RangeError('read: more than has arrived');
        new Uint8Array(buffer).set(incoming.splice(0, buffer.byteLength));
      }
      write(bytes: ArrayBuffer): void {
        if (bytes.byteLength > this.#roomBytes) throw new RangeError('write: no room');
        this.#roomBytes -= bytes.byteLength;
        const doneMs = Math.max(this.#busyUntilMs, world.clock.nowMs) + bytes.byteLength * BYTE_MS;
        this.#busyUntilMs = doneMs;
        world.clock.at(doneMs, () => {
          if (!isAlive()) return;
          sent(new Uint8Array(bytes));
          this.#roomBytes += bytes.byteLength;
          this.#options.onWritable(this.#roomBytes);
        });
      }
      close(): void {
        // Opened once at start and never closed: the first board cannot open it again.
      }
    };
  }
}

function digitalBank(world: World): Device['io']['DigitalBank'] {
  return class {
    static readonly Input = 0;
    static readonly InputPullUp = 1;
    static readonly Output = 2;
    readonly #options: DigitalBankOptions;
    constructor(options: DigitalBankOptions) {
      this.#options = options;
    }
    write(bits: number): void {
      world.driveBank(bits & this.#options.pins);
    }
    close(): void {
      world.driveBank(0);
    }
  };
}

function analog(world: World): Device['io']['Analog'] {
  return class {
    readonly resolution = railSense.bits;
    readonly #options: AnalogOptions;
    constructor(options: AnalogOptions) {
      this.#options = options;
    }
    read(): number {
      return this.#options.pin === pins.railSense ? world.rail.code : 0;
    }
    close(): void {
      // Nothing to release.
    }
  };
}

/** The first board's runtime waits this long for a transfer unless it is told otherwise. */
const I2C_TIMEOUT_MS = 200;

const timeoutMsOf = (options: I2COptions): number =>
  'timeout' in options && typeof options.timeout === 'number' ? options.timeout : I2C_TIMEOUT_MS;

function i2c(world: World): Device['io']['I2C'] {
  return class {
    readonly #chip: World['converters'][0];
    readonly #timeoutMs: number;
    constructor(options: I2COptions) {
      const { address } = options;
      this.#timeoutMs = timeoutMsOf(options);
      this.#chip = world.converters[address === converter.addresses[0] ? 0 : 1];
    }
    read(byteLength: number): ArrayBuffer {
      this.#transfer();
      return this.#chip.read(byteLength);
    }
    write(bytes: ArrayBuffer): void {
      this.#transfer();
      this.#chip.write(new Uint8Array(bytes));
    }
    /** A bus that hangs keeps the whole program waiting, then the runtime throws. */
    #transfer(): void {
      if (world.busHangMs <= 0) return;
      world.clock.spend(Math.min(world.busHangMs, this.#timeoutMs));
      throw new Error('I2C: time-out');
    }
    close(): void {
      // Nothing to release.
    }
  };
}
