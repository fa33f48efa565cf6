import { z } from 'zod';
import { version } from '../../../package.json';
import { asJson } from '../../catalogue/document';
import { canonicalJson } from '../../catalogue/canonical';
import type { JobEvent } from '../../job';
import type { JobOnDisk } from '../input/job-journal';
import type { RecordModel } from '../../record/model/record-model';
import { recordOfJournal } from '../../record/record-file';
import { typedMark, type RecordMark } from '../../record/record-mark';
import { belongingOf, belongingOfFile, type Belonging } from '../../record/verify';
import { findingsOfJob } from '../../server/findings/findings-of-job';
import { BELONGING } from '../../words/record';
import type { Report, Surroundings } from '../command';
import { InputError, RefusedError } from '../input-error';

/**
 * Whether a record belongs to a job. Refuses (exit 3) a record of another job, one whose entries are no longer those of
 * the journal, and a file that bears the right sum and is not what this program makes of the job.
 */
export async function verifyRecord(
  named: string,
  job: JobOnDisk,
  surroundings: Surroundings,
): Promise<Report> {
  const { events } = job;
  const typed = typedMark(named);
  const bytes = typed === undefined ? await bytesOf(named, surroundings) : undefined;
  const found =
    typed !== undefined ? belongingOf(typed, events) : belongingOfFile(bytes ?? new Uint8Array(), events);
  if (found.kind !== 'belongs') return notIts(found, named);
  const drawn = bytes === undefined ? undefined : await sameFile(bytes, found.mark, job);
  if (drawn === false) throw new RefusedError('RECORD_ALTERED', BELONGING.altered);
  const since = kindsOf(found.since);
  const first =
    found.since.length > 0
      ? BELONGING.earlier(found.since.length, since.map(({ kind, count }) => `${count} ${kind}`).join(', '))
      : drawn === true
        ? found.mark.paper === undefined
          ? BELONGING.sameData
          : BELONGING.same
        : BELONGING.current;
  const { program } = found.mark;
  const other = program !== undefined && program !== version ? [BELONGING.otherProgram(program)] : [];
  return {
    text: [first, ...other],
    json: {
      schema: 'needlewright/record-verify/1',
      kind: 'record-verified',
      belongs: true,
      entries: found.mark.entries,
      sum: found.mark.sum,
      same_file: drawn ?? null,
      since: since.map(({ kind, count }) => ({ kind: kind.replaceAll(' ', '-'), count })),
    },
  };
}

async function bytesOf(path: string, { readFile }: Surroundings): Promise<Uint8Array> {
  try {
    return await readFile(path);
  } catch (error) {
    throw new InputError(
      `it could not be read (${error instanceof Error ? error.message : String(error)}); ${BELONGING.noRecord}`,
      { file: path },
      { cause: error },
    );
  }
}

function notIts(found: Exclude<Belonging, { kind: 'belongs' }>, file: string): never {
  switch (found.kind) {
    case 'no-record':
      throw new InputError(BELONGING.noRecord, { file });
    case 'other-job':
      throw new RefusedError(
        'RECORD_OF_ANOTHER_JOB',
        BELONGING.otherJob(found.mark.jobId ?? '', found.jobId),
      );
    case 'journal-changed':
      throw new RefusedError('RECORD_JOURNAL_CHANGED', BELONGING.changed(found.mark.entries, found.entries));
  }
}

/** Whether the file is what this program makes of the job as it then was; undefined where that cannot be told. */
async function sameFile(
  bytes: Uint8Array,
  { entries, paper, program }: RecordMark,
  job: JobOnDisk,
): Promise<boolean | undefined> {
  if (program !== version) return undefined;
  const photographs = await job.photographs();
  const { events } = job;
  const record = recordOfJournal({
    events,
    findings: findingsOfJob,
    program: version,
    entries,
    photographs,
  });
  // A photograph that was deleted since cannot be drawn again.
  if (record?.isWhole === false) return undefined;
  if (record === undefined) return false;
  return paper === undefined
    ? sameData(bytes, record.model)
    : Buffer.from(await record.pdf(paper)).equals(Buffer.from(bytes));
}

/** What `record --json` says beside the record itself. */
const BESIDE = ['schema', 'sheets', 'written'];

/** Whether data says what the record says, in whatever order; the schema was read already. */
function sameData(bytes: Uint8Array, model: RecordModel): boolean {
  const read = z.record(z.string(), z.unknown()).safeParse(JSON.parse(new TextDecoder().decode(bytes)));
  const bare = (data: Readonly<Record<string, unknown>>): string =>
    canonicalJson(asJson(Object.fromEntries(Object.entries(data).filter(([key]) => !BESIDE.includes(key)))));
  const own: Readonly<Record<string, unknown>> = { ...model };
  try {
    return read.success && bare(read.data) === bare(own);
  } catch (error) {
    // What has no canonical form was never written by this program.
    if (error instanceof RangeError) return false;
    throw error;
  }
}

function kindsOf(events: readonly JobEvent[]): { readonly kind: string; readonly count: number }[] {
  const counts = new Map<string, number>();
  for (const { kind } of events) {
    const words = kind.replaceAll('-', ' ');
    counts.set(words, (counts.get(words) ?? 0) + 1);
  }
  return [...counts].map(([kind, count]) => ({ kind, count }));
}
