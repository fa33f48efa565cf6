import { constants } from 'node:fs';
import { access, mkdir, readdir, stat } from 'node:fs/promises';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import { fileTrouble, troubleSentence } from './file-trouble';

const OTHER_FOLDER = 'or choose another folder with --jobs';

/** `readOnly`: its jobs can be looked at; none can be made or gone on with, and this is why. */
export type JobsPlace = { readonly kind: 'jobs-place'; readonly readOnly?: string };

/**
 * Looks whether jobs can be kept in a folder, and makes it where there is none. Nothing is written into it.
 * Refuses JOBS_FOLDER: it is no folder, cannot be made, or cannot even be read.
 */
export async function jobsPlace(folder: string): Promise<JobsPlace | Refused<'JOBS_FOLDER'>> {
  try {
    const found = await stat(folder).catch(() => undefined);
    if (found?.isDirectory() === false)
      return refuse('JOBS_FOLDER', { why: `${folder}: jobs are kept in a folder, and this is none.` });
    if (found === undefined) await mkdir(folder, { recursive: true });
    await readdir(folder);
  } catch (error) {
    return refuse('JOBS_FOLDER', { why: troubleSentence(folder, 'jobs cannot be kept here', error) });
  }
  try {
    await access(folder, constants.W_OK);
    return { kind: 'jobs-place' };
  } catch (error) {
    const what = 'read only: its jobs can be looked at, none can be made or gone on with';
    const { cause, code, remedy } = fileTrouble(error);
    return {
      kind: 'jobs-place',
      readOnly: `${folder}: ${what} (${cause}, ${code}); ${remedy}, ${OTHER_FOLDER}`,
    };
  }
}
