import type { JobEvent } from '../job';
import { journalSum, saidEvents } from './job-sum';
import { readMark, type RecordMark } from './record-mark';

/** Whether a record belongs to a journal as it stands. */
export type Belonging =
  /** `since`: what was entered after it was made, oldest first. */
  | { readonly kind: 'belongs'; readonly mark: RecordMark; readonly since: readonly JobEvent[] }
  | { readonly kind: 'no-record' }
  | { readonly kind: 'other-job'; readonly mark: RecordMark; readonly jobId: string }
  /** Entries that it speaks of are not there any more, or are others now. */
  | { readonly kind: 'journal-changed'; readonly mark: RecordMark; readonly entries: number };

/** The mark of a record against the entries of a journal. Source: `journalSum`. */
export function belongingOf(mark: RecordMark, events: readonly JobEvent[]): Belonging {
  const said = saidEvents(events);
  const [first] = events;
  const jobId = first?.kind === 'job-opened' ? first.jobId : '';
  const { entries, sha256 } = journalSum(events, mark.entries);
  // A printed sheet names the beginning of the sum only.
  // A record of no entry was never made: its sum would be that of every job.
  const isMade = mark.entries > 0 && entries === mark.entries;
  if (isMade && said.length >= mark.entries && sha256.startsWith(mark.sum))
    return { kind: 'belongs', mark, since: said.slice(mark.entries) };
  if (mark.jobId !== undefined && mark.jobId !== jobId) return { kind: 'other-job', mark, jobId };
  return { kind: 'journal-changed', mark, entries: said.length };
}

export const belongingOfFile = (bytes: Uint8Array, events: readonly JobEvent[]): Belonging => {
  const mark = readMark(bytes);
  return mark === undefined ? { kind: 'no-record' } : belongingOf(mark, events);
};
