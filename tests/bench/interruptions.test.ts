import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { curveReadings, runningSweep } from '../../host/job';
import { openBench } from '../../host/bench';
import { deskOf, ME, opening, testBench, type TestBench } from './setup';

const stepSweep = {
  kind: 'start-sweep',
  choice: { mode: 'step-and-read', refinements: 0, repeats: 0 },
} as const;

const sweepingBench = async (): Promise<TestBench> => {
  const t = await testBench();
  await t.do(stepSweep);
  await t.read();
  await t.asked();
  return t;
};

const pausedBecause = (t: TestBench): string => {
  const status = t.desk.state.sweeps.at(-1)?.status;
  return status?.kind === 'paused' ? status.reason : `not paused: ${status?.kind}`;
};

describe('the stop control', () => {
  it('opens the output before anything that waits in line, and pauses the sweep', async () => {
    const t = await sweepingBench();
    const slow = t.desk.submit({ kind: 'add-note', text: 'a note in front of it' }, ME);
    const outcome = t.desk.stop('phone');
    expect(t.box.isOpen).toBe(true);
    expect(await outcome).toBe('box-confirmed-open');
    await slow;
    expect(pausedBecause(t)).toBe('stopped by phone');
    await t.pass(120_000);
    expect(t.box.isOpen).toBe(true);
  });

  it('stops a move that is under way', async () => {
    const t = await testBench();
    await t.do(stepSweep);
    await t.pass(30);
    await t.desk.stop(ME);
    await t.pass(120_000);
    expect(t.box.isOpen).toBe(true);
    expect(t.desk.live.waiting.kind).toBe('nothing');
  });

  it('is stronger than a start that waits in line or is on its way to the disk', async () => {
    for (const microtasks of [0, 40]) {
      const t = await testBench();
      const starting = t.desk.submit(stepSweep, ME);
      for (let passed = 0; passed < microtasks; passed += 1) await Promise.resolve();
      await t.desk.stop('phone');
      expect(await starting).toMatchObject({ kind: 'refused', code: 'STOPPED' });
      await t.pass(120_000);
      expect(t.box.driven).toEqual([]);
      expect(runningSweep(t.desk.state)).toBeUndefined();
      if (microtasks > 0) expect(pausedBecause(t)).toBe('stopped before anything was driven');
      await t.do(microtasks > 0 ? { kind: 'resume-sweep' } : stepSweep);
      await t.asked();
      expect(t.box.isOpen).toBe(false);
    }
  });

  it('pressed by two people, again and again, is one event', async () => {
    const t = await sweepingBench();
    await Promise.all([
      t.bench.stopAll('phone'),
      t.bench.stopAll(ME),
      t.desk.stop('tablet'),
      t.desk.stop(ME),
    ]);
    expect(await t.bench.stopAll('phone')).toBe('box-confirmed-open');
    expect(t.box.isOpen).toBe(true);
    expect(t.kinds().filter((kind) => kind === 'stopped')).toHaveLength(1);
    expect(pausedBecause(t)).toBe('stopped by phone');
  });

  it('for every box opens what any job drives, and is stronger than a start in any other', async () => {
    const t = await sweepingBench();
    const other = await deskOf(t.bench.createJob(opening, 'phone'));
    const starting = other.submit(stepSweep, 'phone');
    expect(await t.bench.stopAll('phone')).toBe('box-confirmed-open');
    expect(await starting).toMatchObject({ kind: 'refused' });
    await t.pass(120_000);
    expect(t.box.isOpen).toBe(true);
    await t.do({ kind: 'resume-sweep' });
    await t.asked();
    expect(t.box.isOpen).toBe(false);
    await t.bench.stopAll('phone');
    expect(t.box.isOpen).toBe(true);
    expect(t.kinds().filter((kind) => kind === 'stopped')).toHaveLength(2);
  });

  it('says so when no box answers', async () => {
    const t = await sweepingBench();
    t.box.unplug();
    expect(await t.desk.stop(ME)).toBe('no-box');
  });

  it('goes on at the same step when the person resumes', async () => {
    const t = await sweepingBench();
    const stepId = await t.asked();
    await t.desk.stop(ME);
    await t.do({ kind: 'resume-sweep' });
    expect(await t.asked()).toBe(stepId);
    expect(t.box.isOpen).toBe(false);
  });
});

describe('a trip while driving', () => {
  it('is in the journal with its reason and remedy, and nothing is driven until it was cleared and resumed', async () => {
    const t = await sweepingBench();
    t.box.trip('CURRENT_HIGH', 312, 250);
    await t.pass(120_000);
    expect(t.desk.state.trip).toMatchObject({ code: 'CURRENT_HIGH', measured: 312, limit: 250 });
    expect(t.desk.live.trip?.reason).toContain('312 mA');
    expect(t.desk.live.box.state).toBe('tripped');
    expect(t.box.isOpen).toBe(true);
    expect(await t.refused({ kind: 'resume-sweep' })).toBe('TRIPPED');
    await t.do({ kind: 'clear-trip' });
    await t.pass(120_000);
    expect(t.box.isOpen).toBe(true);
    await t.do({ kind: 'resume-sweep' });
    await t.read();
    expect(curveReadings(t.desk.state)).toHaveLength(2);
    expect(t.desk.live.trip).toBeUndefined();
  });

  it('is shown and cleared as the box has it, when it tripped again while the program was away', async () => {
    const t = await sweepingBench();
    t.box.trip('SUPPLY_HIGH', 17_000, 16_000);
    await t.pass(1_000, () => t.desk.state.trip !== undefined);
    await t.crash();
    t.box.trip('WATCHDOG_RESET', 1, 0);
    await t.pass(1_000, () => t.desk.live.box.state === 'tripped');
    expect(t.desk.state.trip?.code).toBe('SUPPLY_HIGH');
    expect(t.desk.live.trip?.code).toBe('WATCHDOG_RESET');
    expect(await t.refused({ kind: 'clear-trip' })).toBe('accepted');
    await t.pass(1_000, () => t.desk.live.box.state === 'safe');
    await t.do({ kind: 'resume-sweep' });
    await t.asked();
    expect(t.box.isOpen).toBe(false);
  });

  it('keeps every reading that was given before', async () => {
    const t = await sweepingBench();
    const before = curveReadings(t.desk.state);
    t.box.trip('DEAD_MAN', 1_600, 1_500);
    await t.pass(1_000);
    expect(curveReadings(t.desk.state)).toEqual(before);
  });
});

describe('a box that goes away', () => {
  it('pauses the sweep, says why, and drives nothing when it is back until a person resumes', async () => {
    const t = await sweepingBench();
    t.box.unplug();
    await t.pass(5_000);
    expect(pausedBecause(t)).toContain('unplugged');
    expect(t.desk.live.link).toMatchObject({ state: 'failed' });
    expect(await t.refused({ kind: 'resume-sweep' })).toBe('BOX_NOT_LIVE');
    const driven = t.box.driven.length;
    t.box.replug(true);
    await t.pass(120_000);
    expect(t.box.driven).toHaveLength(driven);
    await t.do({ kind: 'resume-sweep' });
    await t.read();
    expect(curveReadings(t.desk.state)).toHaveLength(2);
  });

  it('makes a job SIMULATED for good when it is a simulated one', async () => {
    const t = await sweepingBench();
    expect(t.desk.state.simulated).toBe(true);
    expect(t.kinds().filter((kind) => kind === 'box-connected')).toHaveLength(1);
  });
});

describe('the program ending in the middle of a sweep', () => {
  it('loses no reading, and drives nothing when started again until a person resumes', async () => {
    const t = await sweepingBench();
    const before = curveReadings(t.desk.state);
    const stepId = await t.asked();
    await t.crash();
    expect(curveReadings(t.desk.state)).toEqual(before);
    const driven = t.box.driven.length;
    await t.pass(200_000);
    expect(t.box.driven).toHaveLength(driven);
    expect(t.box.isOpen).toBe(true);
    await t.do({ kind: 'resume-sweep' });
    expect(await t.asked()).toBe(stepId);
  });

  it('without a word leaves a sweep that waits for a person', async () => {
    const t = await sweepingBench();
    // A copy of the journal as a crash leaves it: sweep started, never paused.
    const other = await testBench();
    const { cp } = await import('node:fs/promises');
    const from = `${t.jobsFolder}/${t.desk.jobId}/job.ndjson`;
    const { mkdir } = await import('node:fs/promises');
    await mkdir(`${other.jobsFolder}/crashed`);
    await cp(from, `${other.jobsFolder}/crashed/job.ndjson`);
    const desk = await deskOf(other.bench.openJob('crashed'));
    expect(runningSweep(desk.state)).toBeUndefined();
    expect(desk.state.sweeps[0]?.status).toMatchObject({ kind: 'paused' });
    expect(desk.live.owedPause).toMatch(/closed while its sweep ran/);
    // To look writes nothing; who goes on writes first that it stood still, and does not call it the program's start.
    await other.pass(30_000);
    const written = (): string => readFileSync(`${other.jobsFolder}/crashed/job.ndjson`, 'utf8');
    expect(written()).toBe(readFileSync(from, 'utf8'));
    desk.attend(ME);
    expect((await desk.submit({ kind: 'resume-sweep' }, ME)).kind).toBe('accepted');
    const since = desk.events.slice(t.desk.events.length).map((event) => event.kind);
    expect(since).toEqual(['sweep-paused', 'sweep-resumed']);
    expect(written()).not.toContain('started again');
    expect(desk.live.owedPause).toBeUndefined();
    expect(curveReadings(desk.state)).toEqual(curveReadings(t.desk.state));
  });
});

describe('nobody at the gauge', () => {
  it('opens the output when the screen that drives the sweep has gone, though others are still there', async () => {
    const t = await sweepingBench();
    // Looks on all the time: being there is not being at the gauge.
    t.desk.attend('laptop 2');
    t.leave();
    await t.pass(8_000);
    expect(t.box.isOpen).toBe(true);
    expect(pausedBecause(t)).toContain(`"${ME}"`);
  });

  it('keeps driving while one of two who share a name is there, however often the other takes leave', async () => {
    const t = await sweepingBench();
    t.desk.attend(ME);
    t.leave();
    t.leave();
    await t.pass(8_000);
    expect(t.box.isOpen).toBe(false);
  });

  it('keeps driving when another screen has taken over before', async () => {
    const t = await sweepingBench();
    t.desk.attend('phone');
    await t.do({ kind: 'take-over' }, 'phone');
    t.leave();
    await t.pass(8_000);
    expect(t.box.isOpen).toBe(false);
    expect(t.desk.state.attending).toBe('phone');
  });

  it('opens the output when a question stays unanswered for minutes', async () => {
    const t = await sweepingBench();
    await t.pass(170_000);
    expect(t.box.isOpen).toBe(false);
    await t.pass(20_000);
    expect(t.box.isOpen).toBe(true);
    expect(pausedBecause(t)).toContain('no answer for 3 minutes');
  });
});

describe('two people at one step', () => {
  it('are told apart by the journal: the first answer counts, the second is kept and its giver is told', async () => {
    const t = await sweepingBench();
    const stepId = await t.asked();
    const [first, second] = await Promise.all([
      t.desk.submit({ kind: 'give-reading', stepId, reading: 66 }, 'phone'),
      t.desk.submit({ kind: 'give-reading', stepId, reading: 71 }, 'tablet'),
    ]);
    expect(first.kind).toBe('accepted');
    expect(second).toMatchObject({ kind: 'refused', code: 'ANSWER_SUPERSEDED' });
    expect(second.kind === 'refused' ? second.message : '').toContain('"phone" (66 degC)');
    const last = t.desk.state.readings.at(-1);
    expect(last).toMatchObject({ reading: 66, by: 'phone' });
    expect(t.desk.state.superseded).toMatchObject([
      { by: 'tablet', reading: 71, byReadingId: last?.readingId },
    ]);
    expect(t.desk.state.readings.filter((reading) => reading.stepId === stepId)).toHaveLength(1);
  });
});

describe('one box, several jobs', () => {
  it('drives one of them at a time', async () => {
    const t = await sweepingBench();
    const other = await deskOf(t.bench.createJob({ ...opening, title: 'Tern 1100' }, ME));
    expect(await other.submit(stepSweep, ME)).toMatchObject({ kind: 'refused', code: 'BOX_BUSY' });
    await t.do({ kind: 'pause-sweep' });
    expect(await other.submit(stepSweep, ME)).toMatchObject({ kind: 'accepted' });
  });

  it('drives one of them when two are started at once', async () => {
    const t = await testBench();
    const other = await deskOf(t.bench.createJob({ ...opening, title: 'Tern 1100' }, ME));
    const [one, second] = await Promise.all([t.desk.submit(stepSweep, ME), other.submit(stepSweep, ME)]);
    expect(one).toMatchObject({ kind: 'accepted' });
    expect(second).toMatchObject({ kind: 'refused', code: 'BOX_BUSY' });
    expect([t.desk.isDriving, other.isDriving]).toEqual([true, false]);
  });

  it('gives everyone who opens a job the same desk, and another program one to look at', async () => {
    const t = await testBench();
    expect(await t.bench.openJob(t.desk.jobId)).toBe(t.desk);
    const elsewhere = openBench({ jobsFolder: t.jobsFolder, link: t.box, clock: t.clock });
    const watching = await deskOf(elsewhere.openJob(t.desk.jobId));
    expect(watching.events).toEqual(t.desk.events);
    const mine = t.box.requests.length;
    expect(await watching.submit(stepSweep, 'phone')).toMatchObject({ kind: 'refused', code: 'JOB_IN_USE' });
    expect(t.box.requests).toHaveLength(mine);
    expect(t.desk.events).toHaveLength(1);
    expect(await elsewhere.openJob('nothing')).toMatchObject({ kind: 'refused', code: 'JOURNAL_MISSING' });
    await elsewhere.close();
  });
});

describe('what a screen sees', () => {
  it('is every event in the order of the journal, and frames that follow them', async () => {
    const t = await testBench();
    const seen: number[] = [];
    const frames: number[] = [];
    t.desk.subscribe((news) => {
      if (news.kind === 'events') seen.push(...news.events.map((event) => event.n));
      else frames.push(news.frame.lastN);
    });
    await t.do(stepSweep);
    await t.read();
    await t.pass(1_000);
    expect(seen).toEqual(t.desk.events.slice(1).map((event) => event.n));
    expect(frames.at(-1)).toBe(t.desk.state.lastN);
    expect([...frames].sort((a, b) => a - b)).toEqual(frames);
  });
});
