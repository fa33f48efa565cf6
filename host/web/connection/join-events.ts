import type { JobEvent } from '../../job/schema/events';

/**
 * Adds what arrived to what is there: in order of number, each once. What would leave a hole is not taken (undefined),
 * so that the screen asks again from the number it has.
 */
export function joinEvents(
  known: readonly JobEvent[],
  arrived: readonly JobEvent[],
): readonly JobEvent[] | undefined {
  const joined = [...known];
  for (const event of [...arrived].sort((one, other) => one.n - other.n)) {
    if (event.n <= joined.length) continue;
    if (event.n !== joined.length + 1) return undefined;
    joined.push(event);
  }
  return joined.length === known.length ? known : joined;
}
