import type { JobEvent } from './events';
import type { Struck } from './state';

/** Drops the kind: the state keeps what was said, by whom and when. */
export const kept = <Event extends JobEvent>(event: Event): Omit<Event, 'kind'> => {
  const { kind, ...rest } = event;
  return rest;
};

/** Marks the entries that `isMeant` as struck, and leaves the others as they are. */
export const strike = <Entry extends Struck>(
  entries: readonly Entry[],
  isMeant: (entry: Entry) => boolean,
  reason: string,
): Entry[] => entries.map((entry) => (isMeant(entry) ? { ...entry, struckBecause: reason } : entry));
