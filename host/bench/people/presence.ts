import type { LinkClock } from '../../link';
import { ABSENT_MS } from '../rules';

/**
 * Who is there. The link keeps the box's lease alive as long as the program runs; a program alone is not a person, so
 * the bench opens the output by itself when the screen that drives the sweep has gone.
 */
export class Presence {
  readonly #clock: LinkClock;
  readonly #lastSeenMs = new Map<string, number>();
  readonly #attending = new Map<string, number>();

  /** The clock is the screens': what they send comes at its pace. */
  constructor(clock: LinkClock) {
    this.#clock = clock;
  }

  /** A sign of life of a screen. */
  seen(by: string): void {
    this.#lastSeenMs.set(by, this.#clock.nowMs());
  }

  /** Present until the returned function is called: a program that runs in the same process as the bench. */
  attend(by: string): () => void {
    this.#attending.set(by, (this.#attending.get(by) ?? 0) + 1);
    let hasLeft = false;
    return () => {
      if (hasLeft) return;
      hasLeft = true;
      const left = (this.#attending.get(by) ?? 1) - 1;
      if (left > 0) this.#attending.set(by, left);
      else this.#attending.delete(by);
      this.#lastSeenMs.delete(by);
    };
  }

  /** The screen said goodbye, or its connection broke. */
  gone(by: string): void {
    this.#lastSeenMs.delete(by);
  }

  isPresent(by: string): boolean {
    if (this.#attending.has(by)) return true;
    const seenMs = this.#lastSeenMs.get(by);
    return seenMs !== undefined && this.#clock.nowMs() - seenMs <= ABSENT_MS;
  }

  /** Everyone who is there, by the alphabet. */
  everyone(): string[] {
    const names = new Set([...this.#attending.keys(), ...this.#lastSeenMs.keys()]);
    return [...names].filter((by) => this.isPresent(by)).sort();
  }
}
