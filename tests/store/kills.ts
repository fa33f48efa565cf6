import { spawn } from 'node:child_process';
import { basename, dirname, join } from 'node:path';
import { mkdir, writeFile } from 'node:fs/promises';
import { createInterface } from 'node:readline';
import { expect } from 'vitest';
import { foldJob, jobEvent, type JobEvent } from '../../host/job';
import { JOURNAL_FILE, JobList, openJournal, readJournal } from '../../host/store';
import { builtProgram } from './programs';
import { journalText, nowIso } from './sample-journal';
import { hopedFor, scratchFolder } from './scratch';

/** What is under way when the kill comes. */
export const ways = ['append', 'undo', 'recover', 'append, listed'] as const;
export type Way = (typeof ways)[number];

const MOST_LINES = 12;
const LONGEST_DELAY_MS = 3;

/**
 * Starts the program; kills it a drawn moment after a drawn number of lines, and answers what it acknowledged. `heard`
 * is called at each line.
 */
const killed = async (
  [program, folder, way]: readonly [string, string, Way],
  uniform: () => number,
  heard: (acknowledged: JobEvent) => void,
): Promise<readonly JobEvent[]> => {
  const child = spawn(process.execPath, [program, folder, way.split(',')[0] ?? '']);
  const ended = new Promise<NodeJS.Signals | null>((resolve) =>
    child.on('close', (_code, signal) => resolve(signal)),
  );
  const acknowledged: JobEvent[] = [];
  let errors = '';
  child.stderr.on('data', (data: Buffer) => (errors += data.toString()));
  const killAt = 1 + Math.floor(uniform() * MOST_LINES);
  const delayMs = uniform() * LONGEST_DELAY_MS;
  for await (const line of createInterface({ input: child.stdout })) {
    const event = jobEvent.parse(JSON.parse(line));
    acknowledged.push(event);
    heard(event);
    if (acknowledged.length === killAt) setTimeout(() => child.kill('SIGKILL'), delayMs);
  }
  expect([await ended, errors]).toEqual(['SIGKILL', '']);
  return acknowledged;
};

/** Another program lists the jobs all the while: it sees at least what was acknowledged before it looked. */
const listsWhile = async (
  folder: string,
  isOver: () => boolean,
  acknowledgedN: () => number,
): Promise<void> => {
  const list = new JobList(dirname(folder));
  do {
    const n = acknowledgedN();
    const { jobs, unreadable } = await list.list();
    expect(unreadable).toEqual([]);
    expect(jobs.map(({ jobId }) => jobId)).toEqual([basename(folder)]);
    expect(jobs[0]?.lastN).toBeGreaterThanOrEqual(n);
  } while (!isOver());
};

/** One kill: every acknowledged event is in the file afterwards, in its place, and the job opens and goes on. */
async function survivesKill(parts: readonly [string, string, Way], uniform: () => number): Promise<void> {
  const [, folder, way] = parts;
  let acknowledgedN = 0;
  let isOver = false;
  const killing = killed(parts, uniform, ({ n }) => (acknowledgedN = n)).finally(() => (isOver = true));
  const listing =
    way === 'append, listed'
      ? listsWhile(
          folder,
          () => isOver,
          () => acknowledgedN,
        )
      : undefined;
  const [acknowledged] = await Promise.all([killing, listing]);
  const read = hopedFor(await readJournal(folder), 'journal').events;
  for (const event of acknowledged) expect(read[event.n - 1]).toEqual(event);
  const journal = hopedFor(await openJournal(folder, nowIso), 'open-journal');
  expect(journal.trouble).toBeUndefined();
  expect(journal.events.slice(0, read.length)).toEqual(read);
  expect(foldJob(journal.events)?.lastN).toBe(journal.events.length);
  const after = hopedFor(await journal.append([{ kind: 'note', text: 'after' }], 'phone'), 'appended');
  await journal.close();
  const { events } = hopedFor(await readJournal(folder), 'journal');
  expect(events.at(-1)).toEqual(after.events[0]);
}

const KILLS_A_JOB = 20;

/** Kills the program `count` times, each time as it goes on with what the kill before left. */
export async function survivesKills(way: Way, count: number, uniform: () => number): Promise<void> {
  const program = await builtProgram('killed-program', await scratchFolder());
  let folder = '';
  for (let round = 0; round < count; round += 1) {
    if (round % KILLS_A_JOB === 0) {
      folder = join(await scratchFolder(), 'job');
      await mkdir(folder);
      await writeFile(join(folder, JOURNAL_FILE), journalText);
    }
    await survivesKill([program, folder, way], uniform);
  }
}
