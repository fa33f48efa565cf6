import { performance } from 'node:perf_hooks';
import type { LinkClock } from './types';

/** The machine's own monotonic clock; a change of the time of day does not disturb it. */
export const systemClock: LinkClock = {
  nowMs: () => performance.now(),
  after(delayMs, action) {
    const timer = setTimeout(action, delayMs);
    return () => clearTimeout(timer);
  },
};
