import { FlashCache } from './flash-cache';
import { FlashPart } from './flash-part';
import { FlashPort } from './flash-port';
import type { Segment } from './image';
import type { Clock, EmulatorModule, Rp2040 } from './rp2040';

/** The second boot stage lies at the start of the flash; the boot ROM itself is used for its functions only. */
const FLASH_START = 0x1000_0000;
const SSI_PERIPHERAL = 0x1_8000;
const QSPI_PINS_PERIPHERAL = 0x4_0018;
const WATCHDOG_PERIPHERAL = 0x4_0058;

export type ChipParts = {
  readonly emulator: EmulatorModule;
  readonly bootRom: Uint32Array;
  readonly image: readonly Segment[];
  /**
   * Core clocks that one miss of the flash cache costs; 0 = flash as fast as RAM. 28 clocks of the flash (6 of address,
   * 2 of mode, 4 idle, 16 of data on four wires) at half the core's clock are 56; with a transfer already under way it is less, and 50 is the default.
   */
  readonly missClocks: number;
  /** Where the interpreter begins; without it callbacks are not timed. */
  readonly interpreterEntry?: number;
};

/** Where the box keeps its calibration: the last 32 KB of the 2 MB flash, behind any image. */
const STORAGE_OFFSET = 0x1f_8000;
const FLASH_BYTES = 0x20_0000;

/** What a start of the chip begins with: the clock, and what the end of the flash held. */
export type ChipStart = { readonly nanos: number; readonly storage?: Uint8Array };

const silent = {
  debug: () => undefined,
  info: () => undefined,
  warn: () => undefined,
  error: () => undefined,
};

/** The controller: core, flash and time. */
export class Chip {
  readonly clock: Clock;
  readonly rp2040: Rp2040;
  readonly flashPart: FlashPart;
  /** A callback of the firmware ran from when to when; needs `interpreterEntry`. */
  onCallback: (fromNanos: number, toNanos: number) => void = () => undefined;
  /** The chip wants to start anew: an exception that nobody caught, or no memory. */
  onReset: () => void = () => undefined;
  isOff = false;
  readonly #cache = new FlashCache();
  readonly #missNanos: number;
  readonly #entry: number;
  /** Stack pointer and time at which the callback began. */
  #stackAtEntry = 0;
  #enteredAtNanos: number | undefined;

  constructor(parts: ChipParts, start: ChipStart) {
    const { emulator, bootRom, image, missClocks } = parts;
    const { clock, rp2040 } = new emulator.Simulator();
    this.clock = clock;
    this.rp2040 = rp2040;
    rp2040.logger = silent;
    rp2040.loadBootrom(bootRom);
    for (const { offset, bytes } of image) rp2040.flash.set(bytes, offset);
    if (start.storage !== undefined) rp2040.flash.set(start.storage, STORAGE_OFFSET);
    this.#entry = parts.interpreterEntry ?? -1;
    this.#missNanos = (missClocks * 1e9) / rp2040.clkSys;
    if (missClocks > 0) this.#watchReads();
    clock.tick(start.nanos);
    this.flashPart = new FlashPart(rp2040.flash, clock);
    this.#connectFlash();
    this.#watchResets();
    rp2040.core.PC = FLASH_START;
  }

  get nowMs(): number {
    return this.clock.nanos / 1e6;
  }

  /** The end of the flash, as it is now or as a power cut left it, for a later start. */
  storage(memory: Uint8Array = this.rp2040.flash): Uint8Array {
    return memory.slice(STORAGE_OFFSET, FLASH_BYTES);
  }

  /** Lets time pass until then, or until the chip restarts itself. */
  runUntil(nanos: number): void {
    const { clock, rp2040 } = this;
    const { core } = rp2040;
    const cycleNanos = 1e9 / rp2040.clkSys;
    while (clock.nanos < nanos && !this.isOff) {
      if (core.waiting) {
        const next = clock.nanosToNextAlarm;
        clock.tick(next > 0 ? Math.min(next, nanos - clock.nanos) : nanos - clock.nanos);
        continue;
      }
      if (core.PC === this.#entry && this.#enteredAtNanos === undefined) this.#enter(core.SP);
      clock.tick(core.executeInstruction() * cycleNanos + this.#stall());
      if (this.#enteredAtNanos !== undefined && core.SP >= this.#stackAtEntry)
        this.#leave(this.#enteredAtNanos);
    }
  }

  #enter(stack: number): void {
    this.#stackAtEntry = stack;
    this.#enteredAtNanos = this.clock.nanos;
  }

  #leave(enteredAtNanos: number): void {
    this.#enteredAtNanos = undefined;
    this.onCallback(enteredAtNanos, this.clock.nanos);
  }

  #stall(): number {
    const { misses } = this.#cache;
    this.#cache.misses = 0;
    return misses * this.#missNanos;
  }

  #watchReads(): void {
    const { rp2040 } = this;
    const cache = this.#cache;
    for (const name of ['readUint8', 'readUint16', 'readUint32'] as const) {
      const direct = rp2040[name].bind(rp2040);
      rp2040[name] = (address) => {
        cache.read(address);
        return direct(address);
      };
    }
  }

  #connectFlash(): void {
    const port = new FlashPort(this.flashPart);
    this.rp2040.peripherals[SSI_PERIPHERAL] = port;
    this.rp2040.peripherals[QSPI_PINS_PERIPHERAL] = port.pins;
  }

  #watchResets(): void {
    const watchdog = this.rp2040.peripherals[WATCHDOG_PERIPHERAL];
    if (watchdog === undefined || !('onWatchdogTrigger' in watchdog)) return;
    watchdog.onWatchdogTrigger = () => {
      this.isOff = true;
      this.onReset();
    };
  }
}
