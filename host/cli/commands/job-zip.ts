import { resolve } from 'node:path';
import { version } from '../../../package.json';
import { recordOfJournal } from '../../record/record-file';
import { findingsOfJob } from '../../server/findings/findings-of-job';
import { defaultJobsFolder, jobFolder } from '../../store';
import { jobFromZip, jobZip, unpackJob } from '../../store/job-zip';
import type { Report, Surroundings } from '../command';
import { InputError } from '../input-error';
import { readBytes } from '../input/input-file';
import { readJobFrom } from '../input/job-journal';
import type { Arguments } from '../options';
import { writeNew } from '../output/new-file';

/** `job export DIR FILE.zip` and `job import FILE.zip [DIR]`; undefined for a job that is named alone. */
export async function packedJob(given: Arguments, surroundings: Surroundings): Promise<Report | undefined> {
  const [deed, from, to, ...more] = given.words;
  if (from === undefined) return undefined;
  if (deed === 'export' && to !== undefined && more.length === 0) return exported(from, to);
  if (deed === 'import' && more.length === 0) return imported(from, to, surroundings);
  throw new InputError(
    'one job is named by its folder; to pack it: export DIR FILE.zip, to unpack it: import FILE.zip [DIR], to keep a picture with it: photograph DIR FILE',
  );
}

async function exported(named: string, file: string): Promise<Report> {
  const job = await readJobFrom(named);
  const { folder, events } = job;
  const photographs = await job.photographs();
  const record = recordOfJournal({ events, findings: findingsOfJob, program: version, photographs });
  if (record === undefined) throw new InputError('this is not the journal of a job', { file: named });
  const packed = await jobZip(folder, {
    'record.pdf': await record.pdf('a4'),
    'record.json': `${JSON.stringify(record.model, null, 2)}\n`,
  });
  if ('why' in packed) throw new InputError(packed.why, { file: named });
  await writeNew(file, packed);
  return {
    text: [`${file}: ${events.length} entries, ${packed.length} bytes`],
    json: {
      ...{ schema: 'needlewright/job-export/1', kind: 'job-exported', file },
      ...{ events: events.length, bytes: packed.length },
    },
  };
}

async function imported(
  file: string,
  named: string | undefined,
  surroundings: Surroundings,
): Promise<Report> {
  const job = await jobFromZip(await readBytes(file, surroundings));
  if (job.kind === 'no-job-zip') throw new InputError(job.why, { file });
  const folder =
    named === undefined ? jobFolder(defaultJobsFolder(surroundings.environment), job.jobId) : resolve(named);
  if (typeof folder !== 'string') throw new InputError(folder.message, { file });
  const refused = await unpackJob(job, folder);
  if (refused !== undefined) throw new InputError(refused.why, { file: folder });
  return {
    text: [`${folder}: the job ${job.jobId}`],
    json: {
      schema: 'needlewright/job-import/1',
      ...{ kind: 'job-imported', job: folder, job_id: job.jobId },
    },
  };
}
