import { mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import { hasCode, troubleSentence } from './file-trouble';
import { jobFolder } from './job-folders';
import { LOCK_FILE, lockJob, type LockRefused } from './lock';
import { JOURNAL_FILE } from './read-journal';
import { syncFolder } from './sync-folder';

/** Files without content beside a journal: what they say is of the job's place on the shelf, not of what was measured. */
const SHELF_MARKS = { archived: 'archived', example: 'example' } as const;
export type ShelfMark = keyof typeof SHELF_MARKS;

/** Deleted jobs lie here, whole; a name with a dot in front is never taken for a job. Nothing is ever erased. */
const DELETED_FOLDER = '.deleted';

export type ShelfRefused =
  | Refused<'JOB_ID' | 'JOURNAL_MISSING' | 'JOB_NOT_MOVED' | 'DELETED_MISSING' | 'JOB_AT_WORK'>
  | LockRefused;

const exists = (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );

/** The folder of a job that is there. */
async function folderOf(
  jobsFolder: string,
  jobId: string,
): Promise<string | Refused<'JOB_ID' | 'JOURNAL_MISSING'>> {
  const folder = jobFolder(jobsFolder, jobId);
  if (typeof folder !== 'string') return folder;
  const path = join(folder, JOURNAL_FILE);
  return (await exists(path)) ? folder : refuse('JOURNAL_MISSING', { path, name: JOURNAL_FILE });
}

/** The marks of a job's folder; none where it cannot be read. */
export async function shelfMarks(folder: string): Promise<Partial<Record<ShelfMark, true>>> {
  const names: readonly string[] = await readdir(folder).catch(() => []);
  return {
    ...(names.includes(SHELF_MARKS.archived) ? { archived: true } : {}),
    ...(names.includes(SHELF_MARKS.example) ? { example: true } : {}),
  };
}

/** Puts a mark on a job's folder; one that is there already stays. */
export async function putMark(folder: string, mark: ShelfMark): Promise<void> {
  await (await open(join(folder, SHELF_MARKS[mark]), 'a')).close();
  await syncFolder(folder);
}

/** Takes a job off the list of those at work, or puts it back; its journal is not touched. */
export async function archiveJob(
  jobsFolder: string,
  jobId: string,
  isArchived: boolean,
): Promise<{ readonly kind: 'moved' } | ShelfRefused> {
  const folder = await folderOf(jobsFolder, jobId);
  if (typeof folder !== 'string') return folder;
  try {
    if (isArchived) await putMark(folder, 'archived');
    else await rm(join(folder, SHELF_MARKS.archived), { force: true });
    await syncFolder(folder);
    return { kind: 'moved' };
  } catch (error) {
    return refuse('JOB_NOT_MOVED', { why: troubleSentence(folder, 'the job stays where it is', error) });
  }
}

/**
 * Moves a job's folder, whole and in one step, to the deleted ones. `name`: what it is brought back by. Refuses also
 * JOB_IN_USE: another program writes it.
 */
export async function deleteJob(
  jobsFolder: string,
  jobId: string,
): Promise<{ readonly kind: 'moved'; readonly name: string } | ShelfRefused> {
  const folder = await folderOf(jobsFolder, jobId);
  if (typeof folder !== 'string') return folder;
  const lock = await lockJob(folder);
  if (lock.kind === 'refused') return lock;
  try {
    const shelf = join(jobsFolder, DELETED_FOLDER);
    await mkdir(shelf, { recursive: true });
    const name = await moved(folder, shelf, jobId);
    await rm(join(shelf, name, LOCK_FILE), { force: true });
    await syncFolder(shelf);
    await syncFolder(jobsFolder);
    return { kind: 'moved', name };
  } catch (error) {
    await lock.release();
    return refuse('JOB_NOT_MOVED', { why: troubleSentence(folder, 'the job stays where it is', error) });
  }
}

/** Brings a deleted job back, under its name or, where that is taken meanwhile, the next free one. */
export async function restoreJob(
  jobsFolder: string,
  name: string,
): Promise<{ readonly kind: 'moved'; readonly jobId: string } | ShelfRefused> {
  const shelf = join(jobsFolder, DELETED_FOLDER);
  const folder = jobFolder(shelf, name);
  if (typeof folder !== 'string') return folder;
  if (!(await exists(folder))) return refuse('DELETED_MISSING', { name });
  try {
    const jobId = await moved(folder, jobsFolder, name);
    await syncFolder(shelf);
    await syncFolder(jobsFolder);
    return { kind: 'moved', jobId };
  } catch (error) {
    return refuse('JOB_NOT_MOVED', { why: troubleSentence(folder, 'the job stays deleted', error) });
  }
}

/** Renames a folder into another one under the first free name. Source: rename(2), a folder takes the place of none that holds anything. */
async function moved(folder: string, into: string, wanted: string): Promise<string> {
  for (let attempt = 1; ; attempt += 1) {
    const name = attempt === 1 ? wanted : `${wanted}-${attempt}`;
    if (await exists(join(into, name))) continue;
    try {
      await rename(folder, join(into, name));
      return name;
    } catch (error) {
      if (!hasCode(error, 'EEXIST', 'ENOTEMPTY')) throw error;
    }
  }
}
