import { basename, dirname, join, resolve } from 'node:path';
import { OpenJob, openBench } from '../../bench';
import {
  explain,
  jobCommand,
  opening as openingSchema,
  type JobCommand,
  type Opening,
  type TrimCandidate,
} from '../../job';
import { chosenFrom } from '../../job/state/chosen';
import { absentLink } from '../../link';
import { trimFinding } from '../../server/findings/findings';
import { tasksOf } from '../../server/findings/tasks';
import { JOURNAL_FILE } from '../../store';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../command';
import { InputError, RefusedError, refusedError } from '../input-error';
import { parseJson, readText } from '../input/input-file';
import { createJobAt, isThere } from '../input/job-place';
import { PHOTOGRAPH_OPTIONS, photographedJob } from './job-photograph';
import { packedJob } from './job-zip';
import { jobReport } from '../output/job-report';
import type { Arguments } from '../options';

const DEFAULT_BY = 'terminal';

/** Shows a job, and takes entries for it from files: everything a page can enter that needs no box. */
export const jobCommandLine: Command = {
  name: 'job',
  summary: 'show a job; open one, make entries in it, choose its trim, without a box',
  usage:
    'DIR [--open OPENING.json] [--tell COMMANDS.ndjson] [--choose-trim] | export DIR FILE.zip | import FILE.zip [DIR] | photograph DIR FILE [--of SUBJECT]',
  example: 'needlewright job export jobs/harrow-six harrow-six.zip',
  details: [
    'With a folder alone: what stands in the job.',
    'export writes the whole job as one zip (journal, schema, readings as CSV, record, photographs); import makes it again from one.',
    'photograph keeps a JPEG or PNG with the job as the page does: place, camera and words are taken out; at most 2 MB and',
    '4,000 pixels a side, 12 in a job. Say what it is of (--of) and what is written below it (--title).',
    '--open makes the job from one JSON document (title, vehicle, place, complaint, simulated, gauge).',
    '--tell makes the entries of a file, one JSON command a line, in order, and stops at the first that is refused.',
    '--choose-trim searches the network that was requested for the sender of the job and enters the recommended one.',
  ],
  options: {
    open: { kind: 'text', value: 'FILE', help: 'make the job first' },
    tell: { kind: 'text', value: 'FILE', help: 'entries to make' },
    'choose-trim': { kind: 'flag', help: 'enter the recommended network' },
    by: { kind: 'text', value: 'NAME', help: `who makes the entries; "${DEFAULT_BY}" when left out` },
    ...PHOTOGRAPH_OPTIONS,
    ...JSON_OPTION,
  },
  words: { least: 1, most: 3 },
  run,
};

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  const by = given.text('by') ?? DEFAULT_BY;
  const packed = (await photographedJob(given, by, surroundings)) ?? (await packedJob(given, surroundings));
  if (packed !== undefined) return packed;
  const folder = resolve(given.words[0] ?? '.');
  const openFile = given.text('open');
  // Files are read before anything is written, so that a bad one leaves no half-made job.
  const opening =
    openFile === undefined ? undefined : openingFromText(openFile, await readText(openFile, surroundings));
  const tellFile = given.text('tell');
  const commands =
    tellFile === undefined ? [] : commandsFromText(tellFile, await readText(tellFile, surroundings));
  if (opening !== undefined) await createJobAt(folder, opening, by);
  else if (!(await isThere(join(folder, JOURNAL_FILE)))) {
    throw new InputError('there is no job here; --open makes one', { file: given.words[0] });
  }
  const bench = openBench({ jobsFolder: dirname(folder), link: absentLink() });
  try {
    const desk = await bench.openJob(basename(folder));
    if (!(desk instanceof OpenJob)) throw new InputError(desk.message);
    for (const { command, row } of commands) await enter(desk, by, command, { file: tellFile, row });
    if (given.flag('choose-trim'))
      await enter(desk, by, { kind: 'choose-trim', candidate: recommended(desk) }, {});
    return jobReport(desk.state, folder);
  } finally {
    await bench.close();
  }
}

function openingFromText(file: string, text: string): Opening {
  const read = openingSchema.safeParse(parseJson(file, text));
  if (!read.success) throw new InputError(explain(read.error), { file });
  return read.data;
}

type Entry = { readonly command: JobCommand; readonly row: number };

function commandsFromText(file: string, text: string): Entry[] {
  return text
    .split('\n')
    .map((line, index) => ({ line, row: index + 1 }))
    .filter(({ line }) => line.trim() !== '' && !line.startsWith('#'))
    .map(({ line, row }) => {
      const read = jobCommand.safeParse(parseJson(`${file}, row ${row}`, line));
      if (!read.success) throw new InputError(explain(read.error), { file, row });
      return { command: read.data, row };
    });
}

type EntryPlace = { readonly file?: string | undefined; readonly row?: number };

async function enter(desk: OpenJob, by: string, command: JobCommand, place: EntryPlace): Promise<void> {
  const result = await desk.submit(command, by);
  if (result.kind !== 'refused') return;
  const where = place.file === undefined ? '' : `${place.file}, row ${place.row}: `;
  throw new RefusedError(result.code, `${where}${result.message}`);
}

/** The recommended network of the trim that was requested last. */
function recommended(desk: OpenJob): TrimCandidate {
  const { trim } = tasksOf(desk.state);
  if (trim === undefined) {
    throw new RefusedError(
      'NOTHING_TO_TRIM',
      'a trim needs readings of the gauge, points of a sender and a request-trim entry',
    );
  }
  const { trimmed } = trimFinding(trim);
  if (trimmed.kind === 'refused') throw refusedError(trimmed);
  const best = trimmed.candidates[trimmed.recommended];
  if (best === undefined) throw new RefusedError('NOTHING_TO_TRIM', 'no network was found');
  return chosenFrom(best);
}
