import { ABSENT_MS } from '../rules';

/**
 * Who is there. The link keeps the box's lease alive as long as the program runs; a program alone is not a person, so
 * the bench opens the output by itself when the screen that drives the sweep has gone.
 */
export class Presence {
  readonly #lastSeenMs = new Map<string, number>();
  readonly #attending = new Map<string, number>();

  /** A sign of life of a screen. */
  seen(by: string, nowMs: number): void {
    this.#lastSeenMs.set(by, nowMs);
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

  isPresent(by: string, nowMs: number): boolean {
    if (this.#attending.has(by)) return true;
    const seenMs = this.#lastSeenMs.get(by);
    return seenMs !== undefined && nowMs - seenMs <= ABSENT_MS;
  }

  /** Everyone who is there, by the alphabet. */
  everyone(nowMs: number): string[] {
    const names = new Set([...this.#attending.keys(), ...this.#lastSeenMs.keys()]);
    return [...names].filter((by) => this.isPresent(by, nowMs)).sort();
  }
}
