import { mkdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { z } from 'zod';
import { foldJob, jobEvent, type JobState } from '../job';
import { parseJournal } from './journal-text';
import { keptPhotographs, photographSum } from './photographs/photograph-files';
import { plainPicture } from './photographs/plain-picture';
import { JOURNAL_FILE } from './read-journal';
import { namesIn, unzip, zipOf, type ZipFiles } from './catalogue/zip';

/** The most that a job unpacks to: a journal of 100,000 entries has 30 MB, a photograph at most a few. */
const MOST_BYTES = 256 * 2 ** 20;
const MOST_NAMES = 1_000;

export type JobZipRefused = { readonly kind: 'no-job-zip'; readonly why: string };
const noJob = (why: string): JobZipRefused => ({ kind: 'no-job-zip', why });

const README = `One job of Needlewright, whole.

${JOURNAL_FILE}         every entry, one JSON object a line: the job itself
${JOURNAL_FILE}.schema  JSON Schema of one entry (each line has its checksum "crc" beside it)
readings.csv       the readings of the gauge, for a spreadsheet
record.pdf         the record as it was when this file was made
record.json        the same as data

"needlewright job import FILE.zip FOLDER" makes the job again from it.
`;

/** What a spreadsheet would take for a formula; no person's words are to be run. */
const LIKE_A_FORMULA = /^[=+\-@\t\r]/;

const cell = (value: string | number | undefined): string => {
  const said = String(value ?? '');
  const text = typeof value === 'string' && LIKE_A_FORMULA.test(said) ? `'${said}` : said;
  return /[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
};

function readingsCsv({ readings, gauge }: JobState): string {
  const head = ['resistance_ohm', 'reading', 'unit', 'leg', 'at_stop', 'supply_V', 'struck', 'at', 'by'];
  const rows = readings.map((each) =>
    [
      each.resistanceOhm,
      each.reading,
      gauge.unit,
      each.leg,
      each.atStop,
      each.supplyVolt,
      each.struckBecause,
      each.at,
      each.by,
    ].map(cell),
  );
  return [head, ...rows].map((row) => `${row.join(',')}\n`).join('');
}

/** A job's folder as one archive: the same job gives the same bytes. `files`: what was made of it beside (the record). */
export async function jobZip(folder: string, files: ZipFiles): Promise<Uint8Array | JobZipRefused> {
  const bytes = await readFile(join(folder, JOURNAL_FILE));
  const state = stateOf(bytes);
  if ('why' in state) return state;
  const photographs: Record<string, Uint8Array> = {};
  for (const { file, sha256 } of keptPhotographs(state)) {
    const picture = await readFile(join(folder, basename(file))).catch(() => undefined);
    if (picture === undefined || photographSum(picture) !== sha256)
      return noJob(`its photograph ${file} is not there, or is another one now`);
    photographs[`photographs/${basename(file)}`] = picture;
  }
  return zipOf({
    'README.txt': README,
    [JOURNAL_FILE]: bytes,
    [`${JOURNAL_FILE}.schema`]: `${JSON.stringify(z.toJSONSchema(jobEvent), null, 2)}\n`,
    'readings.csv': readingsCsv(state),
    ...files,
    ...photographs,
  });
}

function stateOf(bytes: Uint8Array): JobState | JobZipRefused {
  const journal = parseJournal(bytes, JOURNAL_FILE);
  if (journal.kind === 'refused') return noJob(journal.message);
  if (journal.newer !== undefined) return noJob(journal.newer.message);
  if (journal.cutTail !== undefined) return noJob('its last entry is cut off');
  return foldJob(journal.events) ?? noJob('its journal opens no job');
}

export type JobFromZip = {
  readonly kind: 'job';
  readonly jobId: string;
  readonly journal: Uint8Array;
  readonly photographs: readonly { readonly file: string; readonly bytes: Uint8Array }[];
};

/**
 * The job in an archive, checked before a byte of it is written: nothing is taken but the journal and the photographs
 * that it names, each under its own plain name. Refuses what leads out of a folder, names one file twice, unpacks to more
 * than a job can be, holds a journal or a photograph that is not whole, or a photograph that says more than its picture.
 */
export async function jobFromZip(bytes: Uint8Array): Promise<JobFromZip | JobZipRefused> {
  const names = namesIn(bytes);
  if ('why' in names) return noJob(names.why);
  if (names.length > MOST_NAMES) return noJob(`it holds more than ${MOST_NAMES} files`);
  const odd = names.find(
    (name) => !/^[^/\\:\p{Cc}]+(?:\/[^/\\:\p{Cc}]+)?$/u.test(name) || name.split('/').includes('..'),
  );
  if (odd !== undefined)
    return noJob(`the name ${JSON.stringify(odd.slice(0, 80))} in it leads out of a folder`);
  if (new Set(names.map((name) => name.toLowerCase())).size < names.length)
    return noJob('it names a file twice');
  const found = unzip(
    bytes,
    names.filter((name) => name === JOURNAL_FILE || name.startsWith('photographs/')),
    MOST_BYTES,
  );
  if (found.kind === 'too-large')
    return noJob(`${found.name} unpacks to more than ${MOST_BYTES / 2 ** 20} MB`);
  if (found.kind === 'damaged') return noJob(`it is a damaged zip (${found.why})`);
  const journal = found.files.get(JOURNAL_FILE);
  if (journal === undefined) return noJob(`there is no ${JOURNAL_FILE} in it`);
  const state = stateOf(journal);
  if ('why' in state) return state;
  const photographs = [];
  for (const { file, sha256 } of keptPhotographs(state)) {
    const picture = found.files.get(`photographs/${basename(file)}`);
    if (picture === undefined || photographSum(picture) !== sha256 || basename(file) === JOURNAL_FILE)
      return noJob(`the photograph ${file} is not in it, or is another one`);
    const plain = await plainPicture(picture);
    if (plain.kind === 'refused' || !plain.bytes.equals(picture))
      return noJob(
        `the photograph ${file} in it is no plain picture: a camera's notes are still in it, or it is damaged`,
      );
    photographs.push({ file: basename(file), bytes: picture });
  }
  return { kind: 'job', jobId: state.jobId, journal, photographs };
}

/** Makes the job's folder, whole or not at all. Refuses a folder that is there. */
export async function unpackJob(job: JobFromZip, folder: string): Promise<JobZipRefused | undefined> {
  const making = join(dirname(folder), `.${basename(folder)}.importing-${process.pid}`);
  try {
    await mkdir(making, { recursive: true });
    await writeFile(join(making, JOURNAL_FILE), job.journal, { flag: 'wx' });
    for (const { file, bytes } of job.photographs) await writeFile(join(making, file), bytes, { flag: 'wx' });
    // Making it first keeps a folder that is there from being replaced: an empty one alone gives way.
    await mkdir(folder);
    await rename(making, folder);
    return undefined;
  } catch (error) {
    await rm(making, { recursive: true, force: true });
    const isThere =
      error instanceof Error && 'code' in error && (error.code === 'EEXIST' || error.code === 'ENOTEMPTY');
    return noJob(
      isThere
        ? 'this folder is there already; name one that does not exist yet'
        : `it could not be written (${error instanceof Error ? error.message : String(error)})`,
    );
  }
}
