import { createHash } from 'node:crypto';
import { constants } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { cardsFromJob, slipFromJob, type Card, type Licence, type Slip } from '../../catalogue';
import type { Refused } from '../../core/result';
import { foldJob, type JobEvent, type JobState } from '../../job';
import { refuse } from '../../refusals';
import { parseJournal } from '../journal-text';
import { JOURNAL_FILE, notReadable, WITHOUT_WAITING } from '../read-journal';

/** What a job has for the catalogue. */
export type JobCards = {
  readonly kind: 'job-cards';
  readonly jobHash: string;
  readonly cards: readonly Card[];
  readonly slip: Slip | undefined;
};

type JobText = {
  readonly job: JobState;
  readonly events: readonly JobEvent[];
  /** The journal as it lies on the disk: its first line names the job for ever. */
  readonly text: string;
};

/** The cards of a job. Refuses CATALOGUE_NOTHING_FINISHED. */
export function cardsOfJob(
  { job, events, text }: JobText,
  making: { readonly program: string; readonly licence: Licence },
): JobCards | Refused<'CATALOGUE_NOTHING_FINISHED'> {
  const first = text.slice(0, text.indexOf('\n') + 1);
  const jobHash = createHash('sha256').update(first, 'utf8').digest('hex');
  const cards = cardsFromJob(job, events, { jobHash, ...making });
  if (cards.length === 0) return refuse('CATALOGUE_NOTHING_FINISHED', { title: job.title });
  return { kind: 'job-cards', jobHash, cards, slip: slipFromJob(job) };
}

/**
 * The cards of a job's folder, as its journal stands on the disk. They are private until a person says otherwise.
 * Refuses as `cardsOfJob` and `readJournal`, and JOURNAL_LINE_NEWER: what is not understood is not kept by halves.
 */
export async function cardsOfFolder(folder: string, program: string): Promise<JobCards | Refused> {
  const file = join(folder, JOURNAL_FILE);
  let bytes: Buffer;
  try {
    bytes = await readFile(file, { flag: constants.O_RDONLY | WITHOUT_WAITING });
  } catch (error) {
    return notReadable(file, error);
  }
  const journal = parseJournal(bytes, file);
  if (journal.kind === 'refused') return journal;
  if (journal.newer !== undefined) return journal.newer;
  const job = foldJob(journal.events);
  if (job === undefined) return refuse('JOURNAL_NOT_A_JOB', { where: file });
  return cardsOfJob(
    { job, events: journal.events, text: bytes.toString('utf8') },
    { program, licence: 'private' },
  );
}
