import { systemClock } from './clock';
import type { LinkClock } from './types';

export type Ended<Value> =
  | { readonly kind: 'done'; readonly value: Value }
  | { readonly kind: 'failed'; readonly why: string }
  | { readonly kind: 'late' };

/**
 * One step of an ending: waits for `work` no longer than `limitMs`. A step that throws, rejects or never comes back is an
 * answer as any other, so that it cannot keep the next step from being made. Never rejects.
 */
export function within<Value>(
  limitMs: number,
  work: () => Promise<Value>,
  clock: LinkClock = systemClock,
): Promise<Ended<Value>> {
  return new Promise((resolve) => {
    const cancel = clock.after(limitMs, () => resolve({ kind: 'late' }));
    const end = (ended: Ended<Value>): void => {
      cancel();
      resolve(ended);
    };
    // In a function of its own, since work may throw before it has made a promise.
    void (async () => {
      try {
        end({ kind: 'done', value: await work() });
      } catch (error) {
        end({ kind: 'failed', why: error instanceof Error ? error.message : String(error) });
      }
    })();
  });
}

export type EndingStep = { readonly what: string; readonly work: () => Promise<unknown> };

/** Makes each step by itself, one after the other. Answers what did not end well, a sentence each. */
export async function inOrder(
  steps: readonly EndingStep[],
  limitMs: number,
  clock: LinkClock = systemClock,
): Promise<string[]> {
  const troubles: string[] = [];
  for (const { what, work } of steps) {
    const ended = await within(limitMs, work, clock);
    if (ended.kind === 'failed') troubles.push(`${what}: ${ended.why}`);
    if (ended.kind === 'late') troubles.push(`${what}: not done within ${limitMs / 1000} s`);
  }
  return troubles;
}
