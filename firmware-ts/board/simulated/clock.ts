import type { Random } from './random';

type Entry = {
  readonly id: number;
  readonly atMs: number;
  readonly callback: () => void;
  readonly isFirmware: boolean;
};

/** Where the board's count of milliseconds begins, and whether it is a signed number of 32 bits, which wraps. */
export type TickOptions = { readonly startMs?: number; readonly isSigned?: boolean };

/** Virtual time and an ordered list of what happens when. Nothing happens but by `advanceTo`. */
export class VirtualClock {
  readonly #random: Random;
  readonly #startMs: number;
  readonly #isSigned: boolean;
  readonly #entries: Entry[] = [];
  #nowMs = 0;
  #nextId = 1;

  constructor(random: Random, { startMs = 0, isSigned = false }: TickOptions = {}) {
    this.#random = random;
    this.#startMs = startMs;
    this.#isSigned = isSigned;
  }

  /** What the firmware is told: whole milliseconds since some start, as the board counts them. */
  get ticks(): number {
    const ms = Math.floor(this.#startMs + this.#nowMs);
    return this.#isSigned ? ms | 0 : ms;
  }

  /** Exact simulated time; the firmware sees whole milliseconds only. */
  get nowMs(): number {
    return this.#nowMs;
  }

  /** An event of the world, at its exact time. */
  at(atMs: number, callback: () => void): number {
    return this.#insert(atMs, callback, false);
  }

  /** A timer of the firmware: like the real runtime's it may fire up to a millisecond early. */
  setTimer(callback: () => void, delayMs: number): number {
    const early = Math.min(delayMs, this.#random.between(0, 0.9));
    return this.#insert(this.#nowMs + delayMs - early, callback, true);
  }

  /** An event of the firmware at its exact time: the end of what keeps the chip busy. A reset forgets it. */
  wakeAt(atMs: number, callback: () => void): number {
    return this.#insert(atMs, callback, true);
  }

  clear(id: number): void {
    const index = this.#entries.findIndex((entry) => entry.id === id);
    if (index >= 0) this.#entries.splice(index, 1);
  }

  /** Forgets every timer of the firmware, as a reset does. */
  clearTimers(): void {
    for (let index = this.#entries.length - 1; index >= 0; index -= 1) {
      if (this.#entries[index]!.isFirmware) this.#entries.splice(index, 1);
    }
  }

  advanceTo(untilMs: number): void {
    for (
      let first = this.#entries[0];
      first !== undefined && first.atMs <= untilMs;
      first = this.#entries[0]
    ) {
      this.#entries.shift();
      this.#nowMs = Math.max(this.#nowMs, first.atMs);
      first.callback();
    }
    this.#nowMs = Math.max(this.#nowMs, untilMs);
  }

  /** Time that a call of the firmware takes: the world goes on, no timer of the firmware runs. */
  spend(ms: number): void {
    const untilMs = this.#nowMs + ms;
    for (;;) {
      const index = this.#entries.findIndex(({ isFirmware }) => !isFirmware);
      const entry = this.#entries[index];
      if (entry === undefined || entry.atMs > untilMs) break;
      this.#entries.splice(index, 1);
      this.#nowMs = Math.max(this.#nowMs, entry.atMs);
      entry.callback();
    }
    this.#nowMs = Math.max(this.#nowMs, untilMs);
  }

  #insert(atMs: number, callback: () => void, isFirmware: boolean): number {
    const id = this.#nextId;
    this.#nextId += 1;
    let index = this.#entries.length;
    while (index > 0 && this.#entries[index - 1]!.atMs > atMs) index -= 1;
    this.#entries.splice(index, 0, { id, atMs, callback, isFirmware });
    return id;
  }
}
