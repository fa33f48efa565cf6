import { stat } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import type { JobEvent } from '../../job';
import { JOURNAL_FILE, readJournal } from '../../store';
import { InputError } from '../input-error';

/** A job as its folder or its journal names it, looked at and neither locked nor changed. */
export type JobOnDisk = { readonly folder: string; readonly events: readonly JobEvent[] };

export async function readJobFrom(named: string): Promise<JobOnDisk> {
  const path = resolve(named);
  const isFolder = await stat(path).then(
    (found) => found.isDirectory(),
    () => true,
  );
  const folder = isFolder ? path : dirname(path);
  if (!isFolder && !path.endsWith(JOURNAL_FILE))
    throw new InputError(`a job is named by its folder, or by the ${JOURNAL_FILE} in it`, { file: named });
  const journal = await readJournal(folder);
  if (journal.kind === 'refused') throw new InputError(journal.message, { file: named });
  if (journal.newer !== undefined) throw new InputError(journal.newer.message, { file: named });
  return { folder, events: journal.events };
}
