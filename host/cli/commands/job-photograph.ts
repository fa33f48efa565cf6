import { basename, dirname, join, resolve } from 'node:path';
import { OpenJob, openBench } from '../../bench';
import { photographSubjects } from '../../job/schema/photograph-subjects';
import { absentLink } from '../../link';
import { JOURNAL_FILE } from '../../store';
import type { Report, Surroundings } from '../command';
import type { AnswerOf } from '../output/schemas';
import { readBytes } from '../input/input-file';
import { isThere } from '../input/job-place';
import { InputError, RefusedError } from '../input-error';
import type { Arguments, OptionTable } from '../options';

export const PHOTOGRAPH_OPTIONS = {
  of: { kind: 'choice', choices: photographSubjects, help: 'photograph: what it is of; other when left out' },
  title: { kind: 'text', value: 'TEXT', help: 'photograph: what is written below it' },
} as const satisfies OptionTable;

/** What is wrong with the file itself is bad input; all else is refused of the job. */
const OF_THE_FILE = new Set(['PHOTOGRAPH_NO_PICTURE', 'PHOTOGRAPH_TOO_LARGE', 'PHOTOGRAPH_TOO_SMALL']);

/**
 * `job photograph DIR FILE`: keeps a photograph with a job as the page does, its pixels alone and within the same limits.
 * Undefined where the words say something else.
 */
export async function photographedJob(
  given: Arguments,
  by: string,
  surroundings: Surroundings,
): Promise<Report | undefined> {
  const [deed, named, file, ...more] = given.words;
  if (deed !== 'photograph') {
    const stray = Object.keys(PHOTOGRAPH_OPTIONS).find((name) => given.text(name) !== undefined);
    if (stray !== undefined) throw new InputError(`--${stray} belongs to: job photograph DIR FILE`);
    return undefined;
  }
  if (named === undefined || file === undefined || more.length > 0)
    throw new InputError('a photograph is kept with a job: job photograph DIR FILE.jpg [--of gauge]');
  const folder = resolve(named);
  if (!(await isThere(join(folder, JOURNAL_FILE))))
    throw new InputError('there is no job here; --open makes one', { file: named });
  const bytes = await readBytes(file, surroundings);
  const of = photographSubjects.find((each) => each === given.text('of')) ?? 'other';
  const title = given.text('title');
  const bench = openBench({ jobsFolder: dirname(folder), link: absentLink() });
  try {
    const job = await bench.openJob(basename(folder));
    if (!(job instanceof OpenJob)) throw new InputError(job.message, { file: named });
    const before = job.state.photographs.length;
    const added = await job.photographs.add({ bytes, of, ...(title === undefined ? {} : { title }) }, by);
    if (added.kind === 'refused' && OF_THE_FILE.has(added.code))
      throw new InputError(added.message, { file });
    if (added.kind === 'refused') throw new RefusedError(added.code, `${named}: ${added.message}`);
    // The same picture of the same thing is kept once.
    const kept = job.state.photographs[before];
    const answer: AnswerOf<'job-photograph'> = {
      ...{ schema: 'needlewright/job-photograph/1', kind: 'photograph-added', job: folder, of },
      ...{ photograph_id: kept?.photographId ?? null, file: kept?.file ?? null },
    };
    return {
      text: [
        kept === undefined
          ? `${file}: the job has this photograph already`
          : `${file}: kept as ${kept.file}, without place, camera or words`,
      ],
      json: answer,
    };
  } finally {
    await bench.close();
  }
}
