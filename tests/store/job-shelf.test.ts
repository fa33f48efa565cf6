import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  archiveJob,
  deleteJob,
  exampleJob,
  JOURNAL_FILE,
  JobList,
  lockJob,
  restoreJob,
} from '../../host/store';
import { journalText } from './sample-journal';
import { hopedFor, scratchFolder } from './scratch';

const jobsWith = async (...names: readonly string[]): Promise<string> => {
  const jobs = await scratchFolder();
  for (const name of names) {
    await mkdir(join(jobs, name));
    await writeFile(join(jobs, name, JOURNAL_FILE), journalText);
  }
  return jobs;
};
const textOf = (...path: readonly string[]): Promise<string> => readFile(join(...path, JOURNAL_FILE), 'utf8');
const listed = async (jobs: string): Promise<string[]> =>
  (await new JobList(jobs).list()).jobs.map(({ jobId }) => jobId).sort();

describe('a job that is deleted', () => {
  it('leaves the list, lies whole among the deleted ones, and comes back as it was', async () => {
    const jobs = await jobsWith('one', 'two');
    const { name } = hopedFor(await deleteJob(jobs, 'one'), 'moved');
    expect(await listed(jobs)).toEqual(['two']);
    expect(await readdir(join(jobs, '.deleted', name))).toEqual([JOURNAL_FILE]);
    expect(await textOf(jobs, '.deleted', name)).toBe(journalText);
    expect(hopedFor(await restoreJob(jobs, name), 'moved').jobId).toBe('one');
    expect(await listed(jobs)).toEqual(['one', 'two']);
    expect(await textOf(jobs, 'one')).toBe(journalText);
    expect(await readdir(join(jobs, 'one'))).toEqual([JOURNAL_FILE]);
  });

  it('takes the place of no other: a second one of its name is kept too, and both come back', async () => {
    const jobs = await jobsWith('one');
    const first = hopedFor(await deleteJob(jobs, 'one'), 'moved').name;
    await mkdir(join(jobs, 'one'));
    await writeFile(join(jobs, 'one', JOURNAL_FILE), journalText);
    const second = hopedFor(await deleteJob(jobs, 'one'), 'moved').name;
    expect(second).not.toBe(first);
    const back = [await restoreJob(jobs, second), await restoreJob(jobs, first)].map(
      (each) => hopedFor(each, 'moved').jobId,
    );
    expect(new Set(back).size).toBe(2);
    expect(await listed(jobs)).toEqual([...back].sort());
  });

  it('stays where it is, unlocked, when it cannot be moved; and while another program writes it', async () => {
    const jobs = await jobsWith('one');
    await writeFile(join(jobs, '.deleted'), 'a file where the folder should be');
    expect(await deleteJob(jobs, 'one')).toMatchObject({ kind: 'refused', code: 'JOB_NOT_MOVED' });
    expect(await readdir(join(jobs, 'one'))).toEqual([JOURNAL_FILE]);
    const lock = hopedFor(await lockJob(join(jobs, 'one')), 'lock');
    expect(await deleteJob(jobs, 'one')).toMatchObject({ kind: 'refused', code: 'JOB_IN_USE' });
    await lock.release();
    expect(await listed(jobs)).toEqual(['one']);
  });

  it.each(['', '..', '.deleted', 'a/b', 'no-such-job'])(
    'is a job and nothing else that lies there: %j',
    async (name) => {
      const jobs = await jobsWith('one');
      expect((await deleteJob(jobs, name)).kind).toBe('refused');
      expect((await restoreJob(jobs, name)).kind).toBe('refused');
      expect((await archiveJob(jobs, name, true)).kind).toBe('refused');
      expect(await listed(jobs)).toEqual(['one']);
    },
  );

  it('is missed in words when it is no longer there', async () => {
    const jobs = await jobsWith();
    expect(await restoreJob(jobs, 'gone')).toMatchObject({ kind: 'refused', code: 'DELETED_MISSING' });
  });
});

describe('a job that is archived', () => {
  it('says so in the list, keeps its journal and its place, and can be taken back', async () => {
    const jobs = await jobsWith('one', 'two');
    expect(await archiveJob(jobs, 'two', true)).toEqual({ kind: 'moved' });
    expect(await archiveJob(jobs, 'two', true)).toEqual({ kind: 'moved' });
    const marks = async (): Promise<object> =>
      Object.fromEntries(
        (await new JobList(jobs).list()).jobs.map(({ jobId, archived }) => [jobId, archived]),
      );
    expect(await marks()).toEqual({ one: undefined, two: true });
    expect(await textOf(jobs, 'two')).toBe(journalText);
    await archiveJob(jobs, 'two', false);
    expect(await marks()).toEqual({ one: undefined, two: undefined });
  });
});

describe('the example', () => {
  it('is copied once, marked, and then the one that is meant, with what was entered in it since', async () => {
    const [jobs, source] = [await jobsWith(), await jobsWith('harrow')];
    const { jobId } = hopedFor(await exampleJob(jobs, join(source, 'harrow')), 'copied');
    expect(await new JobList(jobs).list()).toMatchObject({
      jobs: [{ jobId, example: true }],
      unreadable: [],
    });
    await writeFile(join(jobs, jobId, JOURNAL_FILE), journalText.split('\n').slice(0, 2).join('\n') + '\n');
    expect(await exampleJob(jobs, join(source, 'harrow'))).toEqual({ kind: 'copied', jobId });
    expect((await new JobList(jobs).list()).jobs[0]?.lastN).toBe(2);
  });

  it('is finished by the next tap when a crash left it half made', async () => {
    const [jobs, source] = [await jobsWith(), await jobsWith('harrow')];
    await mkdir(join(jobs, 'example-harrow'));
    await writeFile(join(jobs, 'example-harrow', `${JOURNAL_FILE}.making`), journalText.slice(0, 40));
    const { jobId } = hopedFor(await exampleJob(jobs, join(source, 'harrow')), 'copied');
    expect(await textOf(jobs, jobId)).toBe(journalText);
    expect(await readdir(join(jobs, jobId))).not.toContain(`${JOURNAL_FILE}.making`);
  });

  it('is refused in words where the program came without it, or nothing can be kept', async () => {
    const jobs = await jobsWith('one');
    expect(await exampleJob(jobs, join(jobs, 'nowhere'))).toMatchObject({ code: 'EXAMPLE_MISSING' });
    await writeFile(join(jobs, 'example-one'), 'a file where the folder should be');
    expect(await exampleJob(jobs, join(jobs, 'one'))).toMatchObject({ code: 'JOBS_FOLDER' });
  });
});
