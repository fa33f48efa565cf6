import { mkdir, open, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import * as fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { opening } from '../../host/job';
import {
  createJobFolder,
  defaultJobsFolder,
  folderNameFor,
  jobFolder,
  JobList,
  JOURNAL_FILE,
  openJournal,
} from '../../host/store';
import { coolantGauge } from '../job/sample';
import { hopedFor, scratchFolder } from './scratch';

const start = opening.parse({
  title: 'Harrow Six reads high',
  gauge: coolantGauge,
  vehicle: 'Harrow Six saloon (1964)',
  place: 'car',
  simulated: false,
});
const stamp = { atIso: '2026-03-01T09:30:00.000Z', by: 'laptop' };

describe('job folders', () => {
  it('are named so that a person recognises them, and never twice the same', async () => {
    const jobs = join(await scratchFolder(), 'jobs');
    const made = await Promise.all(Array.from({ length: 4 }, () => createJobFolder(jobs, start, stamp)));
    expect(made.map((each) => (each.kind === 'created' ? each.jobId : each.code)).sort()).toEqual([
      '2026-03-01-harrow-six-reads-high',
      '2026-03-01-harrow-six-reads-high-2',
      '2026-03-01-harrow-six-reads-high-3',
      '2026-03-01-harrow-six-reads-high-4',
    ]);
  });

  it('hold one readable line when made', async () => {
    const jobs = await scratchFolder();
    const { jobId } = hopedFor(await createJobFolder(jobs, start, stamp), 'created');
    const line = await readFile(join(jobs, jobId, JOURNAL_FILE), 'utf8');
    expect(line).toMatch(/^\{"n":1,"at":"2026-03-01T09:30:00.000Z","by":"laptop","kind":"job-opened".*\}\n$/);
    await hopedFor(await openJournal(join(jobs, jobId), () => stamp.atIso), 'open-journal').close();
  });

  it('are listed newest first, with those that cannot be read and why', async () => {
    const jobs = await scratchFolder();
    await createJobFolder(jobs, start, stamp);
    await createJobFolder(
      jobs,
      { ...start, title: 'Tern 1100 fuel' },
      { ...stamp, atIso: '2026-03-02T08:00:00.000Z' },
    );
    await mkdir(join(jobs, 'broken'));
    await writeFile(join(jobs, 'broken', JOURNAL_FILE), 'no journal\n');
    await writeFile(join(jobs, 'a-file.txt'), '');
    const { jobs: listed, unreadable } = await new JobList(jobs).list();
    expect(listed.map((job) => job.jobId)).toEqual([
      '2026-03-02-tern-1100-fuel',
      '2026-03-01-harrow-six-reads-high',
    ]);
    expect(unreadable).toMatchObject([{ folder: 'broken', code: 'JOURNAL_DAMAGED' }]);
  });

  it('in a folder that does not exist are none', async () => {
    const nowhere = new JobList(join(await scratchFolder(), 'nowhere'));
    expect(await nowhere.list()).toEqual({ jobs: [], unreadable: [] });
  });

  it('that cannot be made are refused with the reason', async () => {
    const file = join(await scratchFolder(), 'a-file');
    await writeFile(file, '');
    expect(await createJobFolder(file, start, stamp)).toMatchObject({ kind: 'refused', code: 'JOBS_FOLDER' });
  });

  it('leave nothing behind where the disk is full, and say so in words', async () => {
    const folder = await scratchFolder();
    const handle = await open(join(folder, 'any'), 'w');
    await handle.close();
    const full = Object.assign(new Error('ENOSPC: no space left on device'), { code: 'ENOSPC' });
    const write = vi.spyOn(Object.getPrototypeOf(handle), 'writeFile').mockRejectedValue(full);
    const refused = await createJobFolder(folder, start, stamp);
    write.mockRestore();
    expect(refused).toMatchObject({ code: 'JOBS_FOLDER' });
    if (refused.kind === 'refused')
      expect(refused.message).toMatch(
        /no job was made, the disk is full \(ENOSPC\)\. Make room on the disk\. Or/,
      );
    expect(await readdir(folder)).toEqual(['any']);
    expect(await createJobFolder(folder, start, stamp)).toMatchObject({ kind: 'created' });
  });

  it.each(['', '..', '.', '../x', 'a/b', 'a\\b', '.hidden', 'a\0b'])(
    'never lie outside the jobs folder: %j',
    (id) => {
      expect(jobFolder('/jobs', id)).toMatchObject({ kind: 'refused', code: 'JOB_ID' });
    },
  );

  it('get names every file system takes, whatever the title', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 200 }), (title) => {
        expect(folderNameFor(title, stamp.atIso)).toMatch(
          /^2026-03-01-[a-z0-9](?:[a-z0-9-]{0,58}[a-z0-9])?$/,
        );
      }),
    );
  });

  it('are where the environment says, or in the home folder', () => {
    expect(defaultJobsFolder({ NEEDLEWRIGHT_HOME: '/bench' })).toBe(join('/bench', 'jobs'));
    expect(defaultJobsFolder({})).toMatch(/needlewright.jobs$/);
  });
});
