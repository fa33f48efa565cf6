import { rename, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import type { Refused } from '../../core/result';
import { OpenJob, openBench, type Bench } from '../../bench';
import type { Opening } from '../../job';
import type { BoxLink } from '../../link';
import { createJobFolder, defaultJobsFolder, JOURNAL_FILE } from '../../store';
import type { Surroundings } from '../command';
import { InputError, RefusedError } from '../input-error';
import type { Arguments } from '../options';

export type OpenedJob = {
  readonly bench: Bench;
  readonly desk: OpenJob;
  readonly folder: string;
  readonly isNew: boolean;
};

export type JobPlace = {
  readonly link: BoxLink;
  readonly needleSpeed: number;
  readonly by: string;
  /** Only asked for when the job is not there yet. */
  readonly opening: () => Promise<Opening>;
};

/** The job of `--job DIR`, made there when it is not, or a new one among all jobs. */
export async function openJobFrom(
  given: Arguments,
  surroundings: Surroundings,
  place: JobPlace,
): Promise<OpenedJob> {
  const wanted = given.text('job');
  const isNew = wanted === undefined || !(await isThere(join(resolve(wanted), JOURNAL_FILE)));
  const jobsFolder =
    wanted === undefined
      ? resolve(given.text('jobs') ?? defaultJobsFolder(surroundings.environment))
      : dirname(resolve(wanted));
  const jobId = isNew ? await makeJob(jobsFolder, wanted, place) : basename(resolve(wanted ?? ''));
  const bench = openBench({ jobsFolder, link: place.link, needleSpeed: place.needleSpeed });
  const desk = await bench.openJob(jobId);
  if (!(desk instanceof OpenJob)) return endWith(bench, desk);
  // A sweep writes; a job that can only be read is of no use to it.
  if (desk.trouble !== undefined) return endWith(bench, desk.trouble);
  return { bench, desk, folder: join(jobsFolder, jobId), isNew };
}

async function endWith(bench: Bench, refused: Refused): Promise<never> {
  await bench.close();
  throw new InputError(refused.message);
}

export const isThere = (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );

async function makeJob(jobsFolder: string, wanted: string | undefined, place: JobPlace): Promise<string> {
  const opening = await place.opening();
  if (wanted !== undefined) {
    await createJobAt(resolve(wanted), opening, place.by);
    return basename(resolve(wanted));
  }
  return makeIn(jobsFolder, opening, place.by);
}

/** Makes a job in a folder of the person's own choosing, which must not be there yet. */
export async function createJobAt(folder: string, opening: Opening, by: string): Promise<void> {
  if (await isThere(folder)) {
    throw new InputError('this folder is there already; name one that does not exist yet', { file: folder });
  }
  const jobId = await makeIn(dirname(folder), opening, by);
  // A job is known by its folder, so another name is a rename and nothing else.
  await rename(join(dirname(folder), jobId), folder);
}

async function makeIn(jobsFolder: string, opening: Opening, by: string): Promise<string> {
  const made = await createJobFolder(jobsFolder, opening, { atIso: new Date().toISOString(), by });
  if (made.kind === 'refused') throw new RefusedError(made.code, made.message);
  return made.jobId;
}
