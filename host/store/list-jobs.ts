import { constants, type BigIntStats } from 'node:fs';
import { readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';
import { foldJob, jobSummary, type JobEvent, type JobListing, type JobSummary } from '../job';
import { shelfMarks } from './job-shelf';
import { JOURNAL_FILE, notReadable, readJournal } from './read-journal';
import { jobSummaryOf } from '../words/job-summary';

/** What was last read of each journal, so that a list need not read them all again. May be removed at any time. */
const SUMMARIES_FILE = '.summaries.json';

const keptSummaries = z.strictObject({
  /** The program that wrote it: another one may say the same facts in other words. */
  program: z.string(),
  jobs: z.record(z.string(), z.strictObject({ file: z.string(), summary: jobSummary })),
});
type KeptSummaries = z.infer<typeof keptSummaries>;

type Listed =
  | { readonly kind: 'job'; readonly summary: JobSummary; readonly file: string | undefined }
  | { readonly kind: 'unreadable'; readonly code: string; readonly message: string };

/** A file that was written a moment ago may be written again within the same tick of the disk's clock. */
const TOO_FRESH_MS = 2_000;

/** Any write, replacement or restored copy changes one of these. */
const markOf = ({ ino, size, mtimeNs, ctimeNs }: BigIntStats): string =>
  [ino, size, mtimeNs, ctimeNs].join(' ');

const isFresh = ({ mtimeMs }: BigIntStats): boolean => Math.abs(Date.now() - Number(mtimeMs)) < TOO_FRESH_MS;

const programMark = async (): Promise<string> => {
  const found = await stat(fileURLToPath(import.meta.url), { bigint: true }).catch(() => undefined);
  return found === undefined ? '' : markOf(found);
};

const summaryOf = (jobId: string, events: readonly JobEvent[]): JobSummary | undefined => {
  const state = foldJob(events);
  return state && jobSummaryOf(jobId, state);
};

const readSummaries = async (path: string, program: string): Promise<KeptSummaries['jobs']> => {
  try {
    const text = await readFile(path, { encoding: 'utf8', flag: constants.O_RDONLY | constants.O_NONBLOCK });
    const kept = keptSummaries.safeParse(JSON.parse(text));
    return kept.success && kept.data.program === program ? kept.data.jobs : {};
  } catch {
    return {};
  }
};

/** Saves reading next time. Where nothing can be written (a read-only medium) the next list reads again. */
const keepSummaries = async (path: string, kept: KeptSummaries): Promise<void> => {
  const making = `${path}.${process.pid}.making`;
  try {
    await writeFile(making, JSON.stringify(kept));
    await rename(making, path);
  } catch {
    await rm(making, { force: true }).catch(() => undefined);
  }
};

/** The jobs of one folder. A journal is read when it is not the one that was read last time, and not otherwise. */
export class JobList {
  readonly #jobsFolder: string;
  readonly #path: string;
  #known: KeptSummaries['jobs'] | undefined;
  #turn: Promise<unknown> = Promise.resolve();

  constructor(jobsFolder: string) {
    this.#jobsFolder = jobsFolder;
    this.#path = join(jobsFolder, SUMMARIES_FILE);
  }

  /** Every job, newest first; those that cannot be read with the reason. A missing folder has no jobs. */
  list(): Promise<JobListing> {
    const listing = this.#turn.then(() => this.#list());
    this.#turn = listing.catch(() => undefined);
    return listing;
  }

  async #list(): Promise<JobListing> {
    const entries = await readdir(this.#jobsFolder, { withFileTypes: true }).catch(() => []);
    const folders = entries.filter((entry) => entry.isDirectory() && !entry.name.startsWith('.'));
    const program = await programMark();
    const known = (this.#known ??= await readSummaries(this.#path, program));
    const files = await Promise.all(
      folders.map(async ({ name }) => ({
        name,
        file: await this.#stat(name),
        marks: await shelfMarks(join(this.#jobsFolder, name)),
      })),
    );
    const listing: JobListing = { jobs: [], unreadable: [] };
    const now: KeptSummaries['jobs'] = {};
    for (const { name, file, marks } of files) {
      const found = await this.#look(name, file, known[name]);
      if (found.kind === 'unreadable') {
        listing.unreadable.push({ folder: name, code: found.code, message: found.message });
        continue;
      }
      listing.jobs.push({ ...found.summary, ...marks });
      if (found.file !== undefined) now[name] = { file: found.file, summary: found.summary };
    }
    const isNews = JSON.stringify(now) !== JSON.stringify(known);
    this.#known = now;
    if (isNews) await keepSummaries(this.#path, { program, jobs: now });
    listing.jobs.sort((a, b) => b.lastAt.localeCompare(a.lastAt) || a.jobId.localeCompare(b.jobId));
    return listing;
  }

  async #look(
    name: string,
    file: BigIntStats | Extract<Listed, { kind: 'unreadable' }>,
    known: KeptSummaries['jobs'][string] | undefined,
  ): Promise<Listed> {
    if ('kind' in file) return file;
    const mark = markOf(file);
    if (known?.file === mark) return { kind: 'job', summary: known.summary, file: mark };
    const text = await readJournal(join(this.#jobsFolder, name));
    if (text.kind === 'refused') return { ...text, kind: 'unreadable' };
    const summary = summaryOf(name, text.events);
    if (summary === undefined)
      return { kind: 'unreadable', code: 'JOURNAL_NOT_A_JOB', message: `${name}: no job was opened in it` };
    const after = await this.#stat(name);
    const isSettled = !('kind' in after) && markOf(after) === mark && !isFresh(after);
    return { kind: 'job', summary, file: isSettled ? mark : undefined };
  }

  async #stat(name: string): Promise<BigIntStats | Extract<Listed, { kind: 'unreadable' }>> {
    const path = join(this.#jobsFolder, name, JOURNAL_FILE);
    try {
      return await stat(path, { bigint: true });
    } catch (error) {
      return { ...notReadable(path, error), kind: 'unreadable' };
    }
  }
}
