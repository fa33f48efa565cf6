import type { LinkClock } from '../../link';

const TICK_MS = 100;

/**
 * Notices that this program itself stood still: a timer that comes far too late. While it stood still it sent no
 * heartbeats, so the box has opened its output by itself.
 */
export class StallWatch {
  readonly #clock: LinkClock;
  readonly #ticked: (passedMs: number) => void;
  #cancel: (() => void) | undefined;

  /** `ticked` is told at every tick how long it is since the one before. */
  constructor(clock: LinkClock, ticked: (passedMs: number) => void) {
    this.#clock = clock;
    this.#ticked = ticked;
  }

  start(): void {
    if (this.#cancel === undefined) this.#next();
  }

  end(): void {
    this.#cancel?.();
    this.#cancel = undefined;
  }

  #next(): void {
    const sinceMs = this.#clock.nowMs();
    this.#cancel = this.#clock.after(TICK_MS, () => {
      this.#next();
      this.#ticked(this.#clock.nowMs() - sinceMs);
    });
  }
}
