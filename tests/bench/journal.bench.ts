import { mkdir, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, it } from 'vitest';
import { openBench, type OpenJob } from '../../host/bench';
import type { EventBody } from '../../host/job';
import { JOURNAL_FILE, JobList, journalLine } from '../../host/store';
import { opened, stamped, sweepStarted } from '../job/sample';
import { scratchFolder } from '../store/scratch';
import { FakeBox } from './fake-box';
import { deskOf, ME, slowThermal } from './setup';
import { addRow } from './table';
import { VirtualClock } from './virtual-clock';

const part = 'journal';
const ROUNDS = 9;
const LONG_JOB_EVENTS = 20_000;
const USUAL_JOB_EVENTS = 60;
const JOBS = 400;
const HOUR_MS = 3_600_000;

/** One sweep after the other, four steps each, with what a seek, a slip and a second look leave behind. */
const sweepOf = (sweep: number): EventBody[] => {
  const sweepId = `w${sweep}`;
  const idOf = (step: number): string => `${sweepId}s${step}`;
  const steps = sweepStarted.steps.map((step, index) => ({ ...step, stepId: idOf(index + 1) }));
  const at = { sweepId, resistanceOhm: 84, uncertaintyOhm: 0.05 };
  const stepBodies = (step: number): EventBody[] => [
    ...(['below', 'above', 'below', 'on'] as const).map((needle): EventBody => ({
      kind: 'needle-seen',
      ...at,
      stepId: idOf(step),
      needle,
    })),
    {
      kind: 'reading',
      ...at,
      readingId: `${sweepId}r${step}`,
      stepId: idOf(step),
      reading: 50 + step,
      leg: step === 4 ? 'down' : 'up',
      waitedMs: 60_000,
      method: 'seek',
    },
  ];
  return [
    { ...sweepStarted, sweepId, steps },
    ...[1, 2, 3, 4].flatMap(stepBodies),
    { kind: 'reading-struck', readingId: `${sweepId}r2`, reason: 'parallax' },
    { kind: 'reading-restored', readingId: `${sweepId}r2` },
    { kind: 'sweep-finished', sweepId, complete: true },
    { kind: 'note', text: 'needle swings with the fan' },
  ];
};

const longJob = (length: number): string => {
  const bodies: EventBody[] = [opened, { kind: 'check-answered', question: 'lights', answer: 'yes' }];
  for (let sweep = 1; bodies.length < length; sweep += 1) bodies.push(...sweepOf(sweep));
  return stamped(bodies.slice(0, length), ME).map(journalLine).join('');
};

/** A job that was left an hour ago. */
const putJob = async (jobsFolder: string, name: string, text: string): Promise<void> => {
  const path = join(jobsFolder, name, JOURNAL_FILE);
  await mkdir(join(jobsFolder, name), { recursive: true });
  await writeFile(path, text);
  const hourAgo = new Date(Date.now() - HOUR_MS);
  await utimes(path, hourAgo, hourAgo);
};

/** `cpuMs`: what the whole process worked in that time, whatever else the machine was busy with. */
type Time = { readonly ms: number; readonly cpuMs: number };

const US_PER_MS = 1_000;
const stopwatch = (): (() => Time) => {
  const startMs = performance.now();
  const start = process.cpuUsage();
  return () => {
    const { user, system } = process.cpuUsage(start);
    return { ms: performance.now() - startMs, cpuMs: (user + system) / US_PER_MS };
  };
};

const TICK_MS = 100;
let longestGap: Time = { ms: 0, cpuMs: 0 };

/** Runs beside a timer and keeps the longest time in which the timer was not heard. */
const timed = async <Result>(action: () => Promise<Result>): Promise<{ time: Time; result: Result }> => {
  let sinceTick = stopwatch();
  const heard = (): void => {
    const gap = sinceTick();
    sinceTick = stopwatch();
    longestGap = {
      ms: Math.max(longestGap.ms, gap.ms),
      cpuMs: Math.max(longestGap.cpuMs, gap.cpuMs),
    };
  };
  const ticking = setInterval(heard, TICK_MS);
  const sinceStart = stopwatch();
  const result = await action();
  const time = sinceStart();
  heard();
  clearInterval(ticking);
  return { time, result };
};

const median = (values: readonly number[]): number =>
  [...values].sort((one, other) => one - other)[Math.floor(values.length / 2)] ?? NaN;

const inWords = ({ ms, cpuMs }: Time): string => `${ms.toFixed(0)} ms (${cpuMs.toFixed(0)} ms of work)`;

const addTime = (what: string, times: readonly Time[], goal?: string): void =>
  addRow({
    part,
    what,
    measured: inWords({
      ms: median(times.map(({ ms }) => ms)),
      cpuMs: median(times.map(({ cpuMs }) => cpuMs)),
    }),
    ...(goal === undefined ? {} : { goal }),
  });

const shownEvents = LONG_JOB_EVENTS.toLocaleString('en-US');

const SENDER = { kind: 'describe-sender', title: 'another', model: 'table', unit: 'degC' } as const;

type LongJobTimes = { readonly [What in 'open' | 'newest' | 'sender' | 'oldest']: Time[] };

/** The newest entry, one that bears on the senders' numbers, and the very first answer. */
const undoThrice = async (desk: OpenJob, times: LongJobTimes): Promise<void> => {
  const undone = async (undoes?: number): Promise<Time> => {
    const { time, result } = await timed(() => desk.submit({ kind: 'undo', undoes }, ME));
    if (result.kind === 'refused') throw new Error(result.message);
    return time;
  };
  times.newest.push(await undone());
  await desk.submit(SENDER, ME);
  times.sender.push(await undone());
  times.oldest.push(await undone(2));
};

describe('a journal', () => {
  it('of a long job is opened and taken back in', async () => {
    const times: LongJobTimes = { open: [], newest: [], sender: [], oldest: [] };
    const jobsFolder = await scratchFolder();
    const text = longJob(LONG_JOB_EVENTS);
    for (let round = 0; round < ROUNDS; round += 1) {
      await putJob(jobsFolder, 'long', text);
      const clock = new VirtualClock();
      const bench = openBench({ jobsFolder, link: new FakeBox(clock, slowThermal), clock });
      const open = await timed(() => deskOf(bench.openJob('long')));
      const desk = open.result;
      if (desk.events.length !== LONG_JOB_EVENTS) throw new Error(`${desk.events.length} events`);
      times.open.push(open.time);
      await undoThrice(desk, times);
      await bench.close();
    }
    addTime(`open a job of ${shownEvents} events`, times.open, '< 1000 ms');
    addTime('undo in it, answered from the disk', times.newest, '< 50 ms');
    addTime("undo in it, a sender's description", times.sender, '< 50 ms');
    addTime('undo in it, the first answer of all', times.oldest, '< 50 ms');
  });

  it('of each of many jobs is listed', async () => {
    const times: { [Which in 'first' | 'second' | 'restarted']: Time[] } = {
      first: [],
      second: [],
      restarted: [],
    };
    const text = longJob(USUAL_JOB_EVENTS);
    for (let round = 0; round < ROUNDS; round += 1) {
      const jobsFolder = await scratchFolder();
      for (let job = 0; job < JOBS; job += 1) await putJob(jobsFolder, `job-${job}`, text);
      const jobList = new JobList(jobsFolder);
      for (const [which, list] of [
        ['first', jobList],
        ['second', jobList],
        ['restarted', new JobList(jobsFolder)],
      ] as const) {
        const { time, result } = await timed(() => list.list());
        if (result.jobs.length !== JOBS) throw new Error(`${result.jobs.length} jobs`);
        times[which].push(time);
      }
    }
    const listing = `list ${JOBS} jobs of ${USUAL_JOB_EVENTS} events`;
    addTime(`${listing}, each read for the first time`, times.first);
    addTime(`${listing}, again`, times.second, '< 200 ms');
    addTime(`${listing}, after a restart`, times.restarted, '< 200 ms');
  });

  it('leaves the main thread to the box', () => {
    addRow({
      part,
      what: `longest silence of a ${TICK_MS} ms timer in all of this`,
      measured: inWords(longestGap),
      goal: '< 300 ms',
    });
  });
});
