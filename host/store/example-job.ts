import { mkdir, open, readFile, rename, stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import { troubleSentence } from './file-trouble';
import { putMark } from './job-shelf';
import { JOURNAL_FILE } from './read-journal';
import { syncFolder } from './sync-folder';

/**
 * A finished job to look at, copied from `source` (a folder with a journal) among the jobs and marked as an example; one
 * that is there already is the one that is meant. Its journal appears whole or not at all.
 * Refuses: JOBS_FOLDER (the copy cannot be made), EXAMPLE_MISSING (the program came without it).
 */
export async function exampleJob(
  jobsFolder: string,
  source: string,
): Promise<{ readonly kind: 'copied'; readonly jobId: string } | Refused<'JOBS_FOLDER' | 'EXAMPLE_MISSING'>> {
  const jobId = `example-${basename(source)}`;
  const folder = join(jobsFolder, jobId);
  const isThere = await stat(join(folder, JOURNAL_FILE)).catch(() => undefined);
  if (isThere !== undefined) return { kind: 'copied', jobId };
  const journal = await readFile(join(source, JOURNAL_FILE)).catch(() => undefined);
  if (journal === undefined) return refuse('EXAMPLE_MISSING', { path: source });
  try {
    await mkdir(folder, { recursive: true });
    await putMark(folder, 'example');
    const making = join(folder, `${JOURNAL_FILE}.making`);
    const file = await open(making, 'w');
    try {
      await file.writeFile(journal);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(making, join(folder, JOURNAL_FILE));
    await syncFolder(folder);
    await syncFolder(jobsFolder);
    return { kind: 'copied', jobId };
  } catch (error) {
    return refuse('JOBS_FOLDER', { why: troubleSentence(folder, 'no example was made', error) });
  }
}
