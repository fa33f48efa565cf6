import { stat } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { foldJob, type JobEvent } from '../../job';
import { JOURNAL_FILE, readJournal } from '../../store';
import { readPhotographs, type PhotographFile } from '../../store/photographs/photograph-files';
import { InputError } from '../input-error';

/** A job as its folder or its journal names it, looked at and neither locked nor changed. */
export type JobOnDisk = {
  readonly folder: string;
  readonly events: readonly JobEvent[];
  readonly photographs: () => Promise<readonly PhotographFile[]>;
};

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
  const { events } = journal;
  return {
    folder,
    events,
    photographs: async () => {
      const state = foldJob(events);
      return state === undefined ? [] : readPhotographs(folder, state);
    },
  };
}
