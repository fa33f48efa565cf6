import { systemClock, type LinkClock } from '../link';

/** The link's timers and the time of day for the journal, passed in so that tests do not wait. */
export type BenchClock = LinkClock & {
  /** Time of day, ISO 8601 with milliseconds, UTC. */
  nowIso(): string;
};

export const systemBenchClock: BenchClock = { ...systemClock, nowIso: () => new Date().toISOString() };

/** Waits by a clock. Answers false as soon as the wait is called off. */
export const wait = (clock: LinkClock, delayMs: number, signal: AbortSignal): Promise<boolean> =>
  new Promise((resolve) => {
    if (signal.aborted) {
      resolve(false);
      return;
    }
    const end = (isOver: boolean): void => {
      cancel();
      signal.removeEventListener('abort', calledOff);
      resolve(isOver);
    };
    const calledOff = (): void => end(false);
    const cancel = clock.after(delayMs, () => end(true));
    signal.addEventListener('abort', calledOff);
  });
