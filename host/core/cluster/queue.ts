/** A gauge that wants the one person: its needle is settled, or a step that may be held for seconds only wants to begin. */
export type Waiter = {
  readonly id: string;
  readonly wants: 'reading' | 'short-step';
  /** When it began to wait, ms. */
  readonly sinceMs: number;
  /** A step that is made already and must end then, ms. */
  readonly mustEndMs?: number;
};

const rank = ({ wants, mustEndMs }: Waiter): number => {
  if (mustEndMs !== undefined) return 0;
  return wants === 'short-step' ? 1 : 2;
};

/**
 * Who is next, first to last: what must end, by its end; then a step with a time limit that wants to begin, for it is
 * begun only with the person's eyes on it; then whoever waits longest.
 */
export const readingOrder = (waiters: readonly Waiter[]): readonly Waiter[] =>
  [...waiters].sort(
    (one, other) =>
      rank(one) - rank(other) ||
      (one.mustEndMs ?? one.sinceMs) - (other.mustEndMs ?? other.sinceMs) ||
      (one.id < other.id ? -1 : 1),
  );

/** One reading of a run: what its gauge waited before, and what the person then took for it. */
export type RunReading = { readonly id: string; readonly waitMs: number; readonly readMs: number };

/**
 * No order of reading can be quicker than this, ms: every gauge needs its own waits and readings one after the other, and
 * one person reads one needle at a time. Source: critical path and single machine, the two usual lower bounds.
 */
export const leastRunMs = (readings: readonly RunReading[], changesMs: number): number => {
  const chains = new Map<string, number>();
  for (const { id, waitMs, readMs } of readings) chains.set(id, (chains.get(id) ?? 0) + waitMs + readMs);
  const person = readings.reduce((sum, { readMs }) => sum + readMs, changesMs);
  return Math.max(person, 0, ...chains.values());
};
