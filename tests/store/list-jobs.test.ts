import { appendFile, cp, mkdir, readFile, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { JOURNAL_FILE, JobList, journalLine } from '../../host/store';
import { journal, journalText } from './sample-journal';
import { scratchFolder } from './scratch';

/** Two jobs that were left an hour ago. */
const twoJobs = async (): Promise<string> => {
  const jobs = await scratchFolder();
  for (const name of ['one', 'two']) {
    await mkdir(join(jobs, name));
    await writeFile(join(jobs, name, JOURNAL_FILE), journalText);
    await settle(join(jobs, name));
  }
  return jobs;
};
const settle = async (folder: string): Promise<void> => {
  const hourAgo = new Date(Date.now() - 3_600_000);
  await utimes(join(folder, JOURNAL_FILE), hourAgo, hourAgo);
};
const note = (n: number) =>
  journalLine({ n, at: '2026-03-02T09:00:00.000Z', by: 'phone', kind: 'note', text: 'a' });
const shown = async (jobs: string): Promise<Record<string, number>> => {
  const { jobs: listed } = await new JobList(jobs).list();
  return Object.fromEntries(listed.map(({ jobId, lastN }) => [jobId, lastN]));
};

it('lists from what was read last time, and never says what is not so any more', async () => {
  const jobs = await twoJobs();
  const n = journal.length;
  expect(await shown(jobs)).toEqual({ one: n, two: n });
  const kept = await readFile(join(jobs, '.summaries.json'), 'utf8');
  // The list is made from the summaries: what they say is shown as long as the file is the one that was read.
  await writeFile(join(jobs, '.summaries.json'), kept.replaceAll(`"lastN":${n}`, '"lastN":99'));
  expect(await shown(jobs)).toEqual({ one: 99, two: 99 });
  await appendFile(join(jobs, 'one', JOURNAL_FILE), note(n + 1));
  expect(await shown(jobs)).toEqual({ one: n + 1, two: 99 });
  // Another file of the same length and the same date, as a restored copy has it.
  await cp(join(jobs, 'two'), join(jobs, 'copy'), { recursive: true, preserveTimestamps: true });
  await writeFile(join(jobs, 'two', JOURNAL_FILE), journalText);
  await settle(join(jobs, 'two'));
  expect(await shown(jobs)).toEqual({ one: n + 1, two: n, copy: n });
});

it('is made anew by another program, and from a summary that is no summary', async () => {
  const jobs = await twoJobs();
  await shown(jobs);
  const path = join(jobs, '.summaries.json');
  const kept = await readFile(path, 'utf8');
  await writeFile(
    path,
    kept.replace(/"program":"[^"]*"/, '"program":"another"').replaceAll('"lastN":5', '"lastN":99'),
  );
  expect(await shown(jobs)).toEqual({ one: journal.length, two: journal.length });
  await writeFile(path, '{"jobs":');
  expect(await shown(jobs)).toEqual({ one: journal.length, two: journal.length });
});

it('does not keep what was written a moment ago', async () => {
  const jobs = await twoJobs();
  const now = new Date(Date.now() + 500);
  await utimes(join(jobs, 'one', JOURNAL_FILE), now, now);
  await shown(jobs);
  const kept = await readFile(join(jobs, '.summaries.json'), 'utf8');
  expect(kept).toContain('"two"');
  expect(kept).not.toContain('"one"');
});
