import type { BenchClock } from '../../host/bench';

type Timer = { readonly dueMs: number; readonly order: number; readonly action: () => void };

/** Time that moves only when a test moves it. The time of day moves with it. */
export class VirtualClock implements BenchClock {
  #nowMs = 1_000;
  #order = 0;
  #timers: Timer[] = [];

  nowMs(): number {
    return this.#nowMs;
  }

  nowIso(): string {
    return new Date(Date.UTC(2026, 2, 1, 9) + this.#nowMs).toISOString();
  }

  after(delayMs: number, action: () => void): () => void {
    const timer = { dueMs: this.#nowMs + Math.max(0, delayMs), order: this.#order++, action };
    this.#timers.push(timer);
    return () => {
      this.#timers = this.#timers.filter((each) => each !== timer);
    };
  }

  /** Runs the next timer that is due within `withinMs`; answers false when there is none. */
  step(withinMs: number): boolean {
    const [next] = [...this.#timers].sort((a, b) => a.dueMs - b.dueMs || a.order - b.order);
    if (next === undefined || next.dueMs > this.#nowMs + withinMs) return false;
    this.#timers = this.#timers.filter((each) => each !== next);
    this.#nowMs = Math.max(this.#nowMs, next.dueMs);
    next.action();
    return true;
  }

  /** Moves on without a timer. */
  jump(toMs: number): void {
    this.#nowMs = Math.max(this.#nowMs, toMs);
  }
}

const macrotask = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/**
 * Lets time pass until `isDone`, or until `withinMs` are over; after each timer everything that waits for the disk is
 * awaited, so that virtual time never overtakes real writing. Answers whether it was done.
 */
export const runUntil = async (
  clock: VirtualClock,
  idle: () => Promise<void>,
  { withinMs, isDone = () => false }: { readonly withinMs: number; readonly isDone?: () => boolean },
): Promise<boolean> => {
  const endMs = clock.nowMs() + withinMs;
  for (;;) {
    await idle();
    await macrotask();
    await idle();
    if (isDone()) return true;
    if (!clock.step(endMs - clock.nowMs())) break;
  }
  clock.jump(endMs);
  return isDone();
};
