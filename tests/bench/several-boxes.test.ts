import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it, onTestFinished } from 'vitest';
import { openBench, type OpenJob } from '../../host/bench';
import { scratchFolder } from '../store/scratch';
import { FakeBox } from './fake-box';
import { deskOf, ME, opening, slowThermal } from './setup';
import { runUntil, VirtualClock } from './virtual-clock';

const stepSweep = {
  kind: 'start-sweep',
  choice: { mode: 'step-and-read', refinements: 0, repeats: 0, settleMs: 2_000 },
} as const;

/** Boxes by their serial numbers at one bench, a job for each, and somebody who is there. */
const benchOf = async (serials: readonly number[]) => {
  const clock = new VirtualClock();
  const boxes = serials.map((serial) => new FakeBox(clock, slowThermal, serial));
  const [link, ...furtherLinks] = boxes;
  if (link === undefined) throw new Error('no box');
  const bench = openBench({ jobsFolder: join(await scratchFolder(), 'jobs'), link, furtherLinks, clock });
  onTestFinished(() => bench.close());
  const desks: OpenJob[] = [];
  for (const serial of serials)
    desks.push(await deskOf(bench.createJob({ ...opening, title: `of ${serial}` }, ME)));
  const leaving = desks.map((desk) => desk.attend(ME));
  const leave = (): void => leaving.forEach((each) => each());
  const idle = async (): Promise<void> => void (await Promise.all(desks.map((desk) => desk.written())));
  const pass = (withinMs: number, isDone?: () => boolean) =>
    runUntil(clock, idle, { withinMs, ...(isDone ? { isDone } : {}) });
  /** All of them drive their boxes and are asked for their first reading. */
  const drive = async (): Promise<void> => {
    desks.forEach((desk, at) => bench.assignBox(desk.jobId, serials[at]));
    for (const desk of desks) expect(await desk.submit(stepSweep, ME)).toMatchObject({ kind: 'accepted' });
    await pass(400_000, () => desks.every((desk) => desk.live.waiting.kind === 'answer'));
    expect(boxes.map((box) => box.isOpen)).toEqual(boxes.map(() => false));
  };
  return { bench, boxes, desks, pass, drive, leave };
};

describe('several boxes at one bench', () => {
  it('are driven for nobody before somebody has said which box is on which gauge', async () => {
    const { bench, desks, boxes } = await benchOf([7, 8]);
    const refused = await desks[0]!.submit(stepSweep, ME);
    expect(refused).toMatchObject({ kind: 'refused', code: 'WHICH_BOX' });
    expect('message' in refused ? refused.message : '').toContain('number 7, number 8');
    const choices = [
      { boxSerial: 7, berth: 1 },
      { boxSerial: 8, berth: 2 },
    ];
    expect(desks[0]!.live.link).toMatchObject({ state: 'closed', choices });
    // What is on another gauge is not offered; who has a box is asked nothing.
    expect(bench.assignBox(desks[1]!.jobId, 8)).toBe('assigned');
    expect(desks[0]!.live.link.choices).toEqual([choices[0]]);
    expect(desks[1]!.live.link).not.toHaveProperty('choices');
    expect(boxes.flatMap((box) => box.driven)).toEqual([]);
  });

  it('each serve one job, and a job drives its own box and no other', async () => {
    const { bench, boxes, desks, drive } = await benchOf([7, 8, 9, 10]);
    await drive();
    expect(bench.assignBox(desks[1]!.jobId, 7)).toMatchObject({ code: 'JOB_AT_WORK' });
    await desks[1]!.stop(ME);
    expect(boxes.map((box) => box.isOpen)).toEqual([false, true, false, false]);
    expect(bench.assignBox(desks[1]!.jobId, 7)).toMatchObject({ code: 'BOX_GIVEN_AWAY' });
  });

  it('are found again by their numbers when their cables have changed places', async () => {
    const { boxes, desks, drive, pass } = await benchOf([7, 8]);
    await drive();
    for (const box of boxes) box.unplug();
    [boxes[0]!.serial, boxes[1]!.serial] = [8, 7];
    for (const box of boxes) box.replug(true);
    await pass(1_000);
    expect(boxes.map((box) => box.isOpen)).toEqual([true, true]);
    expect(await desks[0]!.submit({ kind: 'resume-sweep' }, ME)).toMatchObject({ kind: 'accepted' });
    await pass(400_000, () => desks[0]!.live.waiting.kind === 'answer');
    expect(boxes.map((box) => box.isOpen)).toEqual([true, false]);
  });

  it('are started by nobody while they are tripped, however lately a job came to them', async () => {
    const { bench, boxes, desks, pass } = await benchOf([7, 8]);
    boxes.forEach((box) => box.tripUnheard('DEAD_MAN'));
    // Before the first heartbeat: only the greeting tells.
    bench.assignBox(desks[0]!.jobId, 7);
    expect(await desks[0]!.submit(stepSweep, ME)).toMatchObject({ kind: 'refused', code: 'TRIPPED' });
    await pass(1_000);
    // After it: a job that comes now has heard none, and what the bench has heard holds for it too.
    bench.assignBox(desks[1]!.jobId, 8);
    expect(desks[1]!.live).toMatchObject({ box: { state: 'tripped' }, trip: { code: 'DEAD_MAN' } });
    expect(await desks[1]!.submit(stepSweep, ME)).toMatchObject({ kind: 'refused', code: 'TRIPPED' });
    for (const desk of desks) {
      expect(await desk.submit({ kind: 'clear-trip' }, ME)).toMatchObject({ kind: 'accepted' });
      await pass(1_000);
      expect(await desk.submit(stepSweep, ME)).toMatchObject({ kind: 'accepted' });
    }
  });

  it('say nothing of the box that was on this gauge before', async () => {
    const { bench, boxes, desks, pass } = await benchOf([7, 8]);
    bench.assignBox(desks[0]!.jobId, 7);
    boxes[0]!.trip('DEAD_MAN', 0, 0);
    await pass(1_000);
    expect(desks[0]!.live.box.state).toBe('tripped');
    bench.assignBox(desks[0]!.jobId, undefined);
    bench.assignBox(desks[0]!.jobId, 8);
    expect(desks[0]!.live.box.state).toBe('safe');
  });

  it('are none of them driven when two call themselves the same', async () => {
    const { desks, bench } = await benchOf([7, 7]);
    bench.assignBox(desks[0]!.jobId, 7);
    expect(await desks[0]!.submit(stepSweep, ME)).toMatchObject({ code: 'BOX_SERIAL_TWICE' });
    bench.assignBox(desks[0]!.jobId, 99);
    expect(await desks[0]!.submit(stepSweep, ME)).toMatchObject({ code: 'BOX_NOT_HERE' });
  });

  it('go on when one of them is pulled out; only its job pauses', async () => {
    const { boxes, desks, drive, pass } = await benchOf([7, 8, 9]);
    await drive();
    boxes[1]!.unplug();
    await pass(2_000);
    expect(desks.map((desk) => desk.isDriving)).toEqual([true, false, true]);
    expect(desks[1]!.events.at(-1)).toMatchObject({ kind: 'box-lost' });
    expect(boxes[0]!.isOpen || boxes[2]!.isOpen).toBe(false);
  });

  it('open all when the person is gone', async () => {
    const { boxes, drive, pass, leave } = await benchOf([7, 8]);
    await drive();
    leave();
    await pass(10_000);
    expect(boxes.map((box) => box.isOpen)).toEqual([true, true]);
  });
});

describe('STOP at several boxes', () => {
  it('opens all and says so of each', async () => {
    const { bench, boxes, drive } = await benchOf([7, 8, 9, 10]);
    await drive();
    expect(await bench.stopEach('phone')).toEqual({
      outcome: 'box-confirmed-open',
      boxes: [7, 8, 9, 10].map((boxSerial) => ({ boxSerial, outcome: 'box-confirmed-open' })),
    });
    expect(boxes.map((box) => box.isOpen)).toEqual([true, true, true, true]);
  });

  it('whatever drives and whatever is dead: opens the others in the same moment, and names the silent', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.constantFrom('mute', 'unplugged', 'well'), { minLength: 2, maxLength: 4 }),
        fc.boolean(),
        async (fates, isDriven) => {
          const serials = fates.map((_, at) => 100 + at);
          const { bench, boxes, drive, pass } = await benchOf(serials);
          if (isDriven) await drive();
          fates.forEach((fate, at) => {
            if (fate === 'mute') boxes[at]!.isMute = true;
            if (fate === 'unplugged') boxes[at]!.loseLine();
          });
          const stopping = bench.stopEach('phone');
          // Not a millisecond has passed: nothing here waits for a dead line.
          const well = boxes.filter((_, at) => fates[at] === 'well');
          expect(well.map((box) => box.isOpen)).toEqual(well.map(() => true));
          await pass(2_000);
          const { outcome, boxes: told } = await stopping;
          expect(outcome).toBe(fates.every((fate) => fate === 'well') ? 'box-confirmed-open' : 'box-silent');
          expect(told).toEqual(
            fates.map((fate, at) => ({
              boxSerial: serials[at],
              outcome: fate === 'well' ? 'box-confirmed-open' : 'box-silent',
            })),
          );
          for (const box of boxes) box.isMute = false;
          await bench.close();
        },
      ),
      { numRuns: 12 },
    );
  });

  it('a bench that ends opens every box before anything is waited for', async () => {
    const { bench, boxes, drive } = await benchOf([7, 8, 9]);
    await drive();
    boxes[0]!.isMute = true;
    const closing = bench.close();
    expect(boxes.slice(1).map((box) => box.isOpen)).toEqual([true, true]);
    boxes[0]!.isMute = false;
    await closing;
  });
});
