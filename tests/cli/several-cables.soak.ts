import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { commandLine } from '../support/command-line';
import { hasSocat } from '../support/pty';
import {
  postTo,
  presentScreen,
  startProgram,
  urlOf,
  type PresentScreen,
  type RunningProgram,
} from '../support/running-host';
import { watchedBox, type WatchedBox } from '../support/watched-box';

const SCREEN = 'bench screen';
const SERIALS = [2041, 2042, 2043, 2044] as const;
const Made = z.object({ jobId: z.string() });
const Job = z.object({
  live: z.looseObject({
    link: z.looseObject({
      state: z.string(),
      choices: z.array(z.object({ boxSerial: z.number(), berth: z.number() })).optional(),
    }),
    waiting: z.looseObject({ kind: z.string(), stepId: z.string().optional() }),
    trip: z.looseObject({}).optional(),
  }),
  state: z.looseObject({
    readings: z.array(z.looseObject({ reading: z.number() })),
    sweeps: z.array(z.looseObject({ status: z.looseObject({ kind: z.string() }) })),
  }),
});
const Stopped = z.object({
  outcome: z.string(),
  boxes: z.array(z.object({ boxSerial: z.number().optional(), outcome: z.string() })),
});

const Ports = z.object({
  boxes: z.array(z.object({ path: z.string(), box_serial: z.number().nullable() })),
});

type Driven = { readonly url: string; readonly jobId: string; readonly screen: PresentScreen };

/** Looks twice a second: a busy machine is asked no more than it can answer. */
const polled = <Value>(look: () => Promise<Value>) => expect.poll(look, { interval: 500 });

const openingOf = (serial: number) => ({
  title: `Fuel gauge of box ${serial}`,
  vehicle: 'Marlow Tourer (1958)',
  place: 'bench',
  simulated: true,
  gauge: {
    quantity: 'fuel',
    mechanism: 'two-coil',
    unit: '%',
    marks: [
      { label: 'E', reading: 0, angleFraction: 0 },
      { label: 'F', reading: 100, angleFraction: 1 },
    ],
  },
});

/** Two resistances, no wait: what is read is not what this is about. */
const START = {
  kind: 'start-sweep',
  choice: { mode: 'step-and-read', resistancesOhm: [300, 200], legs: 'up', settleMs: 0, refinements: 0 },
};

describe.runIf(hasSocat())('four boxes at four cables', () => {
  const jobsFolder = mkdtempSync(join(tmpdir(), 'needlewright-cables-'));
  const ends: (() => unknown)[] = [];
  const boxes: WatchedBox[] = [];
  beforeAll(async () => {
    for (const serial of SERIALS) boxes.push(await watchedBox('two-coil-fuel', serial, serial));
  });
  afterEach(async () => {
    for (const end of ends.splice(0).reverse()) await end();
  });
  afterAll(async () => {
    for (const box of boxes) await box.unplug();
    rmSync(jobsFolder, { recursive: true, force: true });
  });

  const startHost = async (): Promise<RunningProgram & { readonly url: string }> => {
    const ports = boxes.flatMap(({ path }) => ['--port', path]);
    const host = startProgram(['serve', ...ports, '--listen', '127.0.0.1:0', '--jobs', jobsFolder, '--json']);
    ends.push(async () => {
      host.child.kill('SIGKILL');
      await host.ended;
    });
    return { ...host, url: await urlOf(host) };
  };
  const jobAt = async (url: string, jobId: string) =>
    Job.parse(await (await fetch(`${url}/api/jobs/${jobId}`)).json());

  /**
   * Does what a person at this job would do until its needle is asked for: a box that another host left tripped is
   * cleared, and so is one that a machine too busy for a heartbeat let trip. What is waited for stays.
   */
  const untilAsked = ({ url, jobId, screen }: Driven): Promise<unknown> =>
    polled(async () => {
      const { live, state } = await jobAt(url, jobId);
      if (live.waiting.kind !== 'answer' && live.waiting.kind !== 'moving') {
        if (live.trip !== undefined) screen.say({ kind: 'command', id: 9, command: { kind: 'clear-trip' } });
        const command = state.sweeps.length === 0 ? START : { kind: 'resume-sweep' };
        if (state.sweeps.at(-1)?.status.kind !== 'running') screen.say({ kind: 'command', id: 1, command });
      }
      return live.waiting.kind;
    }).toBe('answer');

  /** Every box is said to be on a job's gauge, drives it, and its needle is asked for. */
  const allDriving = async (url: string): Promise<readonly Driven[]> => {
    const jobs: Driven[] = [];
    for (const serial of SERIALS) {
      const { jobId } = Made.parse(await postTo(`${url}/api/jobs`, openingOf(serial)));
      const screen = await presentScreen(url, jobId, SCREEN);
      ends.push(screen.leave);
      await polled(async () =>
        (await jobAt(url, jobId)).live.link.choices?.map(({ boxSerial }) => boxSerial),
      ).toContain(serial);
      await postTo(`${url}/api/jobs/${jobId}/box`, { boxSerial: serial });
      jobs.push({ url, jobId, screen });
    }
    for (const job of jobs) await untilAsked(job);
    return jobs;
  };

  it('are told apart by their numbers before any host serves them', async () => {
    const paths = boxes.map(({ path }) => path);
    const argv = ['ports', '--json', ...paths.flatMap((path) => ['--port', path])];
    // On a busy machine a box may take longer to answer than it is waited for.
    await expect
      .poll(async () => Ports.parse((await commandLine(argv)).json()).boxes.map((each) => each.box_serial))
      .toEqual([...SERIALS]);
  });

  it('are each driven for their own gauge; killed in the middle nothing is lost, all open, and each is asked for anew', async () => {
    const host = await startHost();
    const jobs = await allDriving(host.url);
    for (const [at, job] of jobs.entries())
      await polled(async () => {
        await untilAsked(job);
        const { live, state } = await jobAt(job.url, job.jobId);
        const command = { kind: 'give-reading', stepId: live.waiting.stepId, reading: 10 + at };
        if (state.readings.length === 0) job.screen.say({ kind: 'command', id: 2, command });
        return state.readings.length;
      }).toBe(1);
    await Promise.all(boxes.map((box) => box.untilDriving()));
    host.child.kill('SIGKILL');
    // Nobody told them to: each box's own guard does it.
    await Promise.all(boxes.map((box) => box.untilOpenForGood()));
    const next = await startHost();
    for (const [at, { jobId }] of jobs.entries()) {
      await expect
        .poll(async () => (await jobAt(next.url, jobId)).live.link.choices?.map(({ boxSerial }) => boxSerial))
        .toEqual([...SERIALS]);
      expect((await jobAt(next.url, jobId)).state.readings.map(({ reading }) => reading)).toEqual([10 + at]);
    }
  });

  it('open on one STOP while one of them is dead: the others confirm, the dead one is named', async () => {
    const host = await startHost();
    await allDriving(host.url);
    const [dead, ...others] = boxes;
    await dead?.freeze();
    const { stopToken } = z
      .object({ stopToken: z.string() })
      .parse(await (await fetch(`${host.url}/api/greeting`)).json());
    const expected = SERIALS.map((boxSerial, at) => ({
      boxSerial,
      outcome: at === 0 ? 'box-silent' : 'box-confirmed-open',
    }));
    // Pressed again where a box was too busy to answer in time, as anybody would who reads that it was silent.
    await polled(async () =>
      Stopped.parse(await postTo(`${host.url}/api/stop`, { token: stopToken })),
    ).toEqual({
      outcome: 'box-silent',
      boxes: expected,
    });
    await Promise.all(others.map((box) => box.untilOpenForGood()));
    await dead?.thaw();
    await dead?.untilOpenForGood();
  });
});
