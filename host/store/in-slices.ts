import { setImmediate } from 'node:timers/promises';

/** Heartbeats come every few hundred milliseconds, and several journals may be worked on at once. */
const LONGEST_SLICE_MS = 8;

/** Works the steps off in slices: the box's line and the screens go on in between. */
export const inSlices = async <Result>(steps: Generator<undefined, Result>): Promise<Result> => {
  for (let sliceMs = performance.now(); ;) {
    const { done, value } = steps.next();
    if (done === true) return value;
    if (performance.now() - sliceMs < LONGEST_SLICE_MS) continue;
    await setImmediate();
    sliceMs = performance.now();
  }
};
