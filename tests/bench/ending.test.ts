import { cp, mkdir, writeFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { openBench } from '../../host/bench';
import { runningSweep } from '../../host/job';
import { deskOf, ME, opening, slowThermal, testBench, type TestBench } from './setup';
import { FakeBox } from './fake-box';
import { runUntil, VirtualClock } from './virtual-clock';
import { scratchFolder } from '../store/scratch';

const stepSweep = {
  kind: 'start-sweep',
  choice: { mode: 'step-and-read', refinements: 0, repeats: 0 },
} as const;

const drivingBench = async (): Promise<TestBench> => {
  const t = await testBench();
  await t.do(stepSweep);
  await t.asked();
  expect(t.box.isOpen).toBe(false);
  return t;
};

describe('a bench that is closed while the box drives', () => {
  it('opens the output though a job failed to open before, and though its screen goes at the same moment', async () => {
    const t = await drivingBench();
    await mkdir(`${t.jobsFolder}/damaged`);
    await writeFile(`${t.jobsFolder}/damaged/job.ndjson`, 'not a journal\n');
    expect(await t.bench.openJob('damaged')).toMatchObject({ kind: 'refused' });
    t.leave();
    await t.bench.close();
    expect(t.box.isOpen).toBe(true);
  });

  it('opens the output before anything is waited for', async () => {
    const t = await drivingBench();
    const closing = t.bench.close();
    expect(t.box.isOpen).toBe(true);
    await closing;
    await t.bench.close();
  });

  it('lets nobody drive or open a job any more', async () => {
    const t = await drivingBench();
    const closing = t.bench.close();
    expect(await t.bench.openJob('anything')).toMatchObject({ kind: 'refused', code: 'HOST_ENDING' });
    expect(await t.refused(stepSweep)).not.toBe('accepted');
    await closing;
    expect(t.box.isOpen).toBe(true);
  });
});

/** A clock whose time of day fails once: whatever asks for it throws, as a disk that fails at a bad moment does. */
class FailingClock extends VirtualClock {
  failsNext = false;

  override nowIso(): string {
    if (!this.failsNext) return super.nowIso();
    this.failsNext = false;
    throw new Error('EIO: i/o error');
  }
}

const failingBench = async () => {
  const clock = new FailingClock();
  const box = new FakeBox(clock, slowThermal);
  const jobsFolder = await scratchFolder();
  const bench = openBench({ jobsFolder, link: box, clock });
  return { clock, box, jobsFolder, bench };
};

describe('a job that threw while it was worked with', () => {
  it('is refused with its folder and the reason when it threw at opening, and opens once that is mended', async () => {
    const { clock, box, bench, jobsFolder } = await failingBench();
    const made = await deskOf(bench.createJob(opening, ME));
    made.attend(ME);
    const started = await made.submit(stepSweep, ME);
    expect(started).toMatchObject({ kind: 'accepted' });
    const { jobId } = made;
    await made.written();
    const copy = `${jobsFolder}/copy`;
    await mkdir(copy);
    await cp(`${jobsFolder}/${jobId}/job.ndjson`, `${copy}/job.ndjson`);
    // The sweep of the copy is running, so that opening it has to write that it waits for a person.
    clock.failsNext = true;
    const refused = await bench.openJob('copy');
    expect(refused).toMatchObject({ kind: 'refused', code: 'JOB_NOT_OPENED' });
    expect('message' in refused ? refused.message : '').toMatch(/copy: EIO: i\/o error\. Mend that/);
    const again = await deskOf(bench.openJob('copy'));
    expect(again.jobId).toBe('copy');
    await bench.close();
    expect(box.isOpen).toBe(true);
  });

  it('opens the output when a write throws, tells the screens why, and keeps the pause for when it can write', async () => {
    const { clock, box, bench } = await failingBench();
    const desk = await deskOf(bench.createJob(opening, ME));
    desk.attend(ME);
    await desk.submit(stepSweep, ME);
    await runUntil(clock, () => desk.idle(), {
      withinMs: 400_000,
      isDone: () => desk.live.waiting.kind === 'answer',
    });
    expect(box.isOpen).toBe(false);
    const works = clock.nowIso.bind(clock);
    let hasThrown = false;
    clock.nowIso = () => {
      const isWriting = new Error().stack?.includes('store/journal') ?? false;
      if (!isWriting || hasThrown) return works();
      hasThrown = true;
      throw new Error('EIO: i/o error');
    };
    const refused = await desk.submit({ kind: 'add-note', text: 'a note' }, ME);
    expect(refused).toMatchObject({ kind: 'refused', code: 'JOURNAL_WRITE_FAILED' });
    expect(refused.kind === 'refused' ? refused.message : '').toContain(desk.jobId);
    expect(box.isOpen).toBe(true);
    const { waiting } = desk.live;
    expect(waiting.kind === 'person' ? waiting.reason : waiting.kind).toContain('EIO');
    expect(await desk.submit({ kind: 'add-note', text: 'a note' }, ME)).toMatchObject({ kind: 'accepted' });
    expect(runningSweep(desk.state)).toBeUndefined();
    expect(box.isOpen).toBe(true);
    await bench.close();
  });
});

describe('a box that comes back', () => {
  it('still driving what it was told before the line broke is opened before anything else', async () => {
    const t = await drivingBench();
    t.box.loseLine();
    await t.pass(100);
    expect(t.box.isOpen).toBe(false);
    t.box.replug();
    expect(t.box.isOpen).toBe(true);
  });
});

describe('a computer that stands still', () => {
  it('longer than the box waits opens the output and says so', async () => {
    const t = await drivingBench();
    t.clock.jump(t.clock.nowMs() + 2_300);
    await t.pass(1_000);
    expect(t.box.isOpen).toBe(true);
    const status = t.desk.state.sweeps.at(-1)?.status;
    expect(status?.kind === 'paused' ? status.reason : status?.kind).toMatch(/stood still for 2\.[34] s/);
  });

  it('for a second goes on driving', async () => {
    const t = await drivingBench();
    t.clock.jump(t.clock.nowMs() + 1_000);
    await t.pass(1_000);
    expect(t.box.isOpen).toBe(false);
  });
});

describe('a screen that throws at its news', () => {
  it('keeps neither the output closed nor the others from theirs', async () => {
    const t = await drivingBench();
    t.desk.subscribe(() => {
      throw new Error('no such screen');
    });
    let heard = 0;
    t.desk.subscribe(() => (heard += 1));
    await t.do({ kind: 'pause-sweep' });
    await t.pass(1_000);
    expect(t.box.isOpen).toBe(true);
    expect(heard).toBeGreaterThan(0);
  });
});

describe('a job that nobody looks at any more', () => {
  it('is given back to other programs after a minute, and opens again when it is asked for', async () => {
    const t = await testBench();
    const { jobId } = t.desk;
    const elsewhere = openBench({ jobsFolder: t.jobsFolder, link: t.box, clock: t.clock });
    t.leave();
    await t.pass(50_000);
    expect(await t.bench.openJob(jobId)).toBe(t.desk);
    await t.pass(90_000);
    await expect.poll(() => elsewhere.openJob(jobId)).toMatchObject({ jobId });
    await elsewhere.close();
    const again = await deskOf(t.bench.openJob(jobId));
    expect(again).not.toBe(t.desk);
    expect(await again.submit({ kind: 'add-note', text: 'a note' }, ME)).toMatchObject({ kind: 'accepted' });
  });

  it('stays open while a sweep waits in it for a person who is there', async () => {
    const t = await drivingBench();
    await t.pass(150_000);
    expect(t.box.isOpen).toBe(false);
    expect(await t.bench.openJob(t.desk.jobId)).toBe(t.desk);
  });

  it('is not written to by being looked at, however long the break was', async () => {
    const t = await testBench();
    const before = t.desk.events.length;
    t.clock.jump(t.clock.nowMs() + 40 * 3_600_000);
    t.desk.seen('phone');
    await t.pass(10_000);
    await t.crash();
    expect(t.desk.events.length).toBe(before);
  });
});
