import type { LinkClock } from '../../host/link';

type Timer = { readonly dueMs: number; readonly order: number; readonly action: () => void };

/** A clock that stands still until told; `advance` runs each timer at its own time and lets promises settle between. */
export class ManualClock implements LinkClock {
  #nowMs = 0;
  #order = 0;
  #timers: Timer[] = [];

  nowMs(): number {
    return this.#nowMs;
  }

  after(delayMs: number, action: () => void): () => void {
    this.#order += 1;
    const timer = { dueMs: this.#nowMs + delayMs, order: this.#order, action };
    this.#timers.push(timer);
    return () => {
      this.#timers = this.#timers.filter((other) => other !== timer);
    };
  }

  get timerCount(): number {
    return this.#timers.length;
  }

  async advance(spanMs: number): Promise<void> {
    const untilMs = this.#nowMs + spanMs;
    await settled();
    for (let next = this.#nextBefore(untilMs); next !== undefined; next = this.#nextBefore(untilMs)) {
      const due = next;
      this.#timers = this.#timers.filter((timer) => timer !== due);
      this.#nowMs = due.dueMs;
      due.action();
      await settled();
    }
    this.#nowMs = untilMs;
  }

  /** The program stands still: nothing runs meanwhile, and then everything that was due runs late, in its order. */
  async stand(spanMs: number): Promise<void> {
    const untilMs = this.#nowMs + spanMs;
    this.#nowMs = untilMs;
    for (let next = this.#nextBefore(untilMs); next !== undefined; next = this.#nextBefore(untilMs)) {
      const due = next;
      this.#timers = this.#timers.filter((timer) => timer !== due);
      due.action();
    }
    await settled();
  }

  #nextBefore(untilMs: number): Timer | undefined {
    return [...this.#timers]
      .sort((a, b) => a.dueMs - b.dueMs || a.order - b.order)
      .find((timer) => timer.dueMs <= untilMs);
  }
}

/** Lets every promise that is ready run on, without any time passing. */
export const settled = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
