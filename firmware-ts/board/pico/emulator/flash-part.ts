import { Random } from './random';
import type { Clock } from './rp2040';

/**
 * Serial flash of the usual 2 MB kind. Commands and times: data sheet of the W25Q16JV that the module carries, from
 * memory; sector erase 45 ms typical and 400 ms at most, page program 0.4 and 3 ms.
 */
const commands = {
  pageProgram: 0x02,
  read: 0x03,
  writeDisable: 0x04,
  readStatus1: 0x05,
  writeEnable: 0x06,
  sectorErase: 0x20,
  readStatus2: 0x35,
  uniqueId: 0x4b,
  blockErase: 0xd8,
} as const;

const SECTOR_BYTES = 4096;
const BLOCK_BYTES = 65_536;
const PAGE_BYTES = 256;
const STATUS_BUSY = 1;
const STATUS_WRITE_ENABLED = 2;
/** Quad enable: set at the factory on these parts, so that the second boot stage does not write it. */
const STATUS2_QUAD = 2;
const UNIQUE_ID = [0xe6, 0x61, 0x40, 0x12, 0x9d, 0x7c, 0x35, 0x2a] as const;

export type FlashTimes = { readonly eraseMs: number; readonly programMs: number };

/** What the memory would hold had the power gone in the middle of an operation. */
export type PowerCut = { readonly kind: 'erase' | 'program'; readonly memory: Uint8Array };

/** The flash chip behind its serial port. */
export class FlashPart {
  /** Erases and page programs since start. */
  operationCount = 0;
  /** Told of every operation, before it is done, what a power cut in the middle of it would leave. */
  onOperation: ((cut: PowerCut) => void) | undefined;
  readonly #memory: Uint8Array;
  readonly #clock: Clock;
  readonly #times: FlashTimes;
  readonly #random = new Random(7);
  #input: number[] = [];
  #isEnabled = false;
  #busyUntilNanos = 0;

  constructor(memory: Uint8Array, clock: Clock, times: FlashTimes = { eraseMs: 45, programMs: 0.4 }) {
    this.#memory = memory;
    this.#clock = clock;
    this.#times = times;
  }

  /** Chip select goes low. */
  select(): void {
    this.#input = [];
  }

  /** Chip select goes high: what was sent takes effect. */
  deselect(): void {
    const [command] = this.#input;
    if (command === commands.writeEnable) this.#isEnabled = true;
    if (command === commands.writeDisable) this.#isEnabled = false;
    if (command === commands.sectorErase) this.#erase(SECTOR_BYTES);
    if (command === commands.blockErase) this.#erase(BLOCK_BYTES);
    if (command === commands.pageProgram) this.#program();
    this.#input = [];
  }

  /** One byte out, one byte back. */
  transfer(byte: number): number {
    this.#input.push(byte);
    const [command] = this.#input;
    const count = this.#input.length;
    if (command === commands.readStatus1 && count > 1) return this.#status();
    if (command === commands.readStatus2 && count > 1) return STATUS2_QUAD;
    if (command === commands.uniqueId && count > 5) return UNIQUE_ID[(count - 6) % UNIQUE_ID.length] ?? 0;
    if (command === commands.read && count > 4) return this.#memory[this.#address() + count - 5] ?? 0xff;
    return 0;
  }

  #status(): number {
    const isBusy = this.#clock.nanos < this.#busyUntilNanos;
    return (isBusy ? STATUS_BUSY : 0) | (this.#isEnabled ? STATUS_WRITE_ENABLED : 0);
  }

  #address(): number {
    const [, high = 0, middle = 0, low = 0] = this.#input;
    return (high << 16) | (middle << 8) | low;
  }

  /** Erased bits are ones; cut off in the middle, some have become ones and some have not. */
  #erase(byteCount: number): void {
    if (!this.#isEnabled || this.#input.length < 4) return;
    const start = this.#address() & ~(byteCount - 1);
    this.#operate('erase', (memory, isCut) => {
      for (let at = start; at < start + byteCount; at += 1) {
        memory[at] = isCut ? (memory[at] ?? 0xff) | this.#random.byte() : 0xff;
      }
    });
  }

  /** Programming turns ones to zeros and wraps inside its page; cut off, some bits are still ones. */
  #program(): void {
    if (!this.#isEnabled || this.#input.length < 5) return;
    const start = this.#address();
    const bytes = this.#input.slice(4);
    this.#operate('program', (memory, isCut) => {
      const page = start & ~(PAGE_BYTES - 1);
      for (const [index, byte] of bytes.entries()) {
        const at = page + ((start + index) % PAGE_BYTES);
        memory[at] = (memory[at] ?? 0xff) & (isCut ? byte | this.#random.byte() : byte);
      }
    });
  }

  #operate(kind: PowerCut['kind'], change: (memory: Uint8Array, isCut: boolean) => void): void {
    this.#isEnabled = false;
    this.operationCount += 1;
    if (this.onOperation !== undefined) {
      const memory = this.#memory.slice();
      change(memory, true);
      this.onOperation({ kind, memory });
    }
    change(this.#memory, false);
    const lastsMs = kind === 'erase' ? this.#times.eraseMs : this.#times.programMs;
    this.#busyUntilNanos = this.#clock.nanos + lastsMs * 1e6;
  }
}
