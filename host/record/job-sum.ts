import { createHash } from 'node:crypto';
import { canonicalJson } from '../catalogue/canonical';
import { asJson } from '../catalogue/document';
import { foldJob, type JobEvent, type JobState } from '../job';
import type { JournalSum } from './model/record-model';

/** Making a record changes nothing of what it says: the next one is the same, byte for byte. */
const isSaid = ({ kind }: JobEvent): boolean => kind !== 'record-made';

/** The entries that a record speaks of. */
export const saidEvents = (events: readonly JobEvent[]): readonly JobEvent[] => events.filter(isSaid);

/**
 * A sum over the first so many of them, which any change of one changes. Source: SHA-256 (FIPS 180-4) over the entries
 * in canonical form (RFC 8785), one a line.
 */
export function journalSum(events: readonly JobEvent[], entries = saidEvents(events).length): JournalSum {
  const hash = createHash('sha256');
  for (const event of saidEvents(events).slice(0, entries)) hash.update(`${canonicalJson(asJson(event))}\n`);
  return { entries, sha256: hash.digest('hex') };
}

/** The job as a record sees it: after its first so many entries. */
export const stateForRecord = (events: readonly JobEvent[], entries?: number): JobState | undefined =>
  foldJob(saidEvents(events).slice(0, entries));
