import { mkdir, open, rename, rm, rmdir } from 'node:fs/promises';
import { homedir } from 'node:os';
import { basename, join } from 'node:path';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import { JOURNAL_SCHEMA, type JobEvent, type Opening } from '../job';
import { troubleSentence } from './file-trouble';
import { journalLine } from './journal-line';
import { JOURNAL_FILE } from './read-journal';
import { syncFolder } from './sync-folder';

/** Where jobs are kept unless told otherwise: the environment first, then the person's home folder. */
export const defaultJobsFolder = (env: Readonly<Record<string, string | undefined>>): string =>
  join(env.NEEDLEWRIGHT_HOME ?? join(homedir(), 'needlewright'), 'jobs');

const LONGEST_SLUG = 60;

/** A folder name a person recognises and every file system takes: "2026-03-01-harrow-six-reads-high". */
export const folderNameFor = (title: string, atIso: string): string => {
  const slug = title
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, LONGEST_SLUG)
    .replace(/^-+|-+$/g, '');
  return `${atIso.slice(0, 'yyyy-mm-dd'.length)}-${slug === '' ? 'job' : slug}`;
};

/** What every usual file system takes; Linux: NAME_MAX of limits.h. */
const LONGEST_NAME_BYTES = 255;

/** A job id is the name of a folder right inside the jobs folder, and of nothing else. */
export const jobFolder = (jobsFolder: string, jobId: string): string | Refused<'JOB_ID'> => {
  const told = jobId.slice(0, LONGEST_SLUG);
  if (jobId === '' || jobId.startsWith('.') || /[/\\\p{Cc}]/u.test(jobId) || basename(jobId) !== jobId)
    return refuse('JOB_ID', { jobId: told, isTooLong: false });
  return Buffer.byteLength(jobId) > LONGEST_NAME_BYTES
    ? refuse('JOB_ID', { jobId: told, isTooLong: true })
    : join(jobsFolder, jobId);
};

const isTaken = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && (error.code === 'EEXIST' || error.code === 'ENOTEMPTY');

/** Takes the first free name; making the folder is what claims it. */
const claimName = async (jobsFolder: string, wanted: string): Promise<string> => {
  for (let attempt = 1; ; attempt += 1) {
    const jobId = attempt === 1 ? wanted : `${wanted}-${attempt}`;
    try {
      await mkdir(join(jobsFolder, jobId));
      return jobId;
    } catch (error) {
      if (!isTaken(error)) throw error;
    }
  }
};

const MAKING_FILE = `${JOURNAL_FILE}.making`;

const writeThrough = async (path: string, content: string): Promise<void> => {
  const file = await open(path, 'wx');
  try {
    await file.writeFile(content);
    await file.sync();
  } finally {
    await file.close();
  }
};

/**
 * Makes a job's folder with its first event in it; the journal appears whole or not at all.
 * Refuses: JOBS_FOLDER when the folder cannot be made or written, with the reason.
 */
export const createJobFolder = async (
  jobsFolder: string,
  opening: Opening,
  stamp: { readonly atIso: string; readonly by: string },
): Promise<{ readonly kind: 'created'; readonly jobId: string } | Refused<'JOBS_FOLDER'>> => {
  let folder: string | undefined;
  try {
    await mkdir(jobsFolder, { recursive: true });
    const jobId = await claimName(jobsFolder, folderNameFor(opening.title, stamp.atIso));
    folder = join(jobsFolder, jobId);
    const first: JobEvent = {
      n: 1,
      at: stamp.atIso,
      by: stamp.by,
      kind: 'job-opened',
      schema: JOURNAL_SCHEMA,
      jobId,
      ...opening,
    };
    const making = join(folder, MAKING_FILE);
    await writeThrough(making, journalLine(first));
    await rename(making, join(folder, JOURNAL_FILE));
    await syncFolder(folder);
    await syncFolder(jobsFolder);
    return { kind: 'created', jobId };
  } catch (error) {
    if (folder !== undefined) await unmake(folder);
    return refuse('JOBS_FOLDER', { why: troubleSentence(jobsFolder, 'no job was made', error) });
  }
};

/** A folder that was claimed for nothing holds at most what was being made; one with a journal in it stays. */
const unmake = async (folder: string): Promise<void> => {
  try {
    await rm(join(folder, MAKING_FILE), { force: true });
    await rmdir(folder);
  } catch {
    // What a dead disk does not give back is listed with its reason.
  }
};
