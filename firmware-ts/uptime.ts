import type { System } from './device';

/** What lies between two counts of the runtime, ms: right across every wrap, as long as it is less than 24.8 days. */
export const ticksBetween = (earlier: number, later: number): number => (later - earlier) | 0;

/**
 * Milliseconds that never wrap and never go back. The runtime's count is a 32-bit number, signed on the first board: it
 * jumps to -2^31 after 24.9 days. Nothing else in the firmware reads the runtime's count, so every other difference of
 * times is one of plain numbers.
 */
export class Uptime {
  readonly #system: System;
  #ticks: number;
  #ms: number;

  constructor(system: System) {
    this.#system = system;
    this.#ticks = system.now();
    this.#ms = this.#ticks >>> 0;
  }

  /** To be asked more often than every 24 days; the main loop asks in every turn. */
  now(): number {
    const ticks = this.#system.now();
    const stepMs = ticksBetween(this.#ticks, ticks);
    // A count that is none is passed over. One that goes back is a fault of the runtime: time goes on from there, for if it
    // waited until the count had caught up, every guard would sleep that long.
    if (stepMs === 0) return this.#ms;
    this.#ticks = ticks;
    if (stepMs > 0) this.#ms += stepMs;
    return this.#ms;
  }
}
