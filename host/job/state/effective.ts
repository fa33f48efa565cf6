import type { EventKind, JobEvent } from '../schema/events';

/**
 * What a person said can be taken back; what the box did and what was driven cannot. A photograph is deleted, and its
 * bytes with it: there is no way back to it.
 */
const UNDOABLE: ReadonlySet<EventKind> = new Set<EventKind>([
  'job-changed',
  'check-answered',
  'check-measured',
  'check-tested',
  'check-skipped',
  'repair-made',
  'as-found',
  'check-concluded',
  'reading',
  'needle-seen',
  'needle-noted',
  'reading-struck',
  'reading-restored',
  'step-skipped',
  'sweep-shortened',
  'sender-described',
  'sender-point',
  'sender-point-struck',
  'self-heating',
  'working-current',
  'trim-requested',
  'trim-chosen',
  'network-fitted',
  'proof-limit',
  'proof-pair',
  'proof-pair-struck',
  'adjustment-made',
  'note',
  'undone',
]);

export const isUndoable = (event: JobEvent): boolean => UNDOABLE.has(event.kind);

/**
 * The events that still count, the newest first. An `undone` takes back an EARLIER event; taking back an `undone` brings
 * that event back: read this way, each `undone` is known to count or not before what it names is reached.
 */
export function* effectiveFromNewest(events: readonly JobEvent[]): Generator<JobEvent, void> {
  const undone = new Set<number>();
  for (let index = events.length - 1; index >= 0; index -= 1) {
    const event = events[index]!;
    if (undone.has(event.n) && isUndoable(event)) continue;
    if (event.kind === 'undone' && event.undoes < event.n) undone.add(event.undoes);
    yield event;
  }
}

/** The events that still count, in their order. */
export const effectiveEvents = (events: readonly JobEvent[]): JobEvent[] =>
  [...effectiveFromNewest(events)].reverse();
