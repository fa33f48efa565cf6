import { describe, expect, it, onTestFinished } from 'vitest';
import { Clusters } from '../../host/bench';
import type { ClusterCommand } from '../../host/job';
import { refuse } from '../../host/refusals';
import { answered } from '../support/answer';
import { ME, openedWith, OTHER, SWEEP } from './cluster-screen';

type Opened = Awaited<ReturnType<typeof openedWith>>;

/** All swept in one order, each asked for its first reading. */
const sweeping = async (order: 'free' | 'rounds', count = 2): Promise<Opened> => {
  const c = await openedWith({ seed: 7, count });
  await c.callRoll();
  answered(await c.say({ ...SWEEP, order }));
  await c.until(() => c.desk.gauges.every(({ desk }) => desk.live.waiting.kind === 'answer'));
  return c;
};

const statusOf = (c: Opened, at: number) => c.desk.gauges[at]!.desk.state.sweeps.at(-1)?.status.kind;

const giveTo = (
  c: Opened,
  at: number,
  reading = c.readingAt(at),
): Extract<ClusterCommand, { kind: 'give' }> => {
  const { jobId, desk } = c.desk.gauges[at]!;
  const { waiting } = desk.live;
  if (waiting.kind !== 'answer') throw new Error(waiting.kind);
  return { kind: 'give', jobId, command: { kind: 'give-reading', stepId: waiting.stepId, reading } };
};

describe('a cluster in trouble', () => {
  it('goes on in its round when one box is pulled out, and asks anew which box is where when it is back', async () => {
    const c = await sweeping('rounds', 3);
    c.t.boxes.cutLine(1, true);
    await c.until(() => statusOf(c, 1) === 'paused');
    // The others are read to their ends; nobody waits for the one that is gone.
    while (!c.isIdle()) await c.readOne();
    expect([0, 1, 2].map((at) => statusOf(c, at))).toEqual(['finished', 'paused', 'finished']);
    expect(c.open()).toEqual([true, true, true]);
    c.t.boxes.cutLine(1, false);
    await c.until(() => c.frame().boxes.length === 3);
    expect(c.frame().isCalled).toBe(false);
    answered(await c.say(SWEEP));
    await c.until(c.isIdle);
    expect(c.frame().trouble).toBe(refuse('ROLL_CALL_FIRST', { place: c.desk.gauges[1]!.place }).message);
    expect(c.open()).toEqual([true, true, true]);
    // Its own guard opened it while its cable was out, which its next heartbeat says; a person clears that.
    await c.until(() => c.desk.gauges[1]!.desk.live.trip !== undefined);
    answered(await c.t.until(c.desk.gauges[1]!.desk.submit({ kind: 'clear-trip' }, ME)));
    await c.until(() => c.desk.gauges[1]!.desk.live.box.state === 'safe');
    await c.callRoll();
    answered(await c.say(SWEEP));
    await c.until(() => c.next() !== undefined);
    // Only what was left is swept.
    expect([0, 1, 2].map((at) => statusOf(c, at))).toEqual(['finished', 'running', 'finished']);
    await c.end();
  });

  it('drives nothing when a box calls itself by the number of another', async () => {
    const c = await openedWith({ seed: 9, count: 2 });
    await c.callRoll();
    const real = c.t.bench;
    let isDoubled = false;
    const clusters = new Clusters({
      jobsFolder: c.t.jobsFolder,
      bench: {
        openJob: (jobId) => real.openJob(jobId),
        onStop: (listener) => real.onStop(listener),
        holdBoxes: (title, jobIds) => real.holdBoxes(title, jobIds),
        assignBox: (jobId, serial) => real.assignBox(jobId, serial),
        putInCluster: (jobId, place) => real.putInCluster(jobId, place),
        stopAll: (by) => real.stopAll(by),
        boxes: () => {
          const [first, second] = real.boxes();
          if (!isDoubled || first === undefined || second === undefined) return real.boxes();
          // The impostor answers first.
          return [{ box: second.box, boxSerial: first.boxSerial }, first];
        },
      },
      clock: c.t.clock,
      screenClock: c.t.clock,
      needleSpeed: 60,
    });
    onTestFinished(() => clusters.close());
    await c.desk.close();
    const desk = answered(await clusters.open(c.desk.clusterId));
    const d = { ...c, desk, say: (command: ClusterCommand, by = ME) => desk.submit(command, by) };
    const idle = async (): Promise<void> => {
      for (let count = 0; desk.live.doing.kind !== 'nothing' && count < 100; count += 1) {
        desk.seen(ME);
        await c.t.pass(500);
      }
    };
    isDoubled = true;
    answered(await d.say({ kind: 'call-roll' }));
    await idle();
    expect(desk.live.trouble).toContain('1041');
    expect(c.open()).toEqual([true, true]);
  });

  it('keeps one reading of a needle that is answered twice, by one screen or by two', async () => {
    const c = await sweeping('free');
    const give = giveTo(c, 0);
    const [first, second, other] = await Promise.all([c.say(give), c.say(give), c.say(give, OTHER)]);
    expect(first).toEqual({ kind: 'done' });
    expect(second).toMatchObject({ kind: 'refused' });
    expect(other).toMatchObject({ code: 'CLUSTER_AT_WORK' });
    expect(c.desk.gauges[0]!.desk.state.readings).toHaveLength(1);
    // The needle moves on: nobody is asked, and what is said all the same is not taken.
    expect(await c.say(give)).toMatchObject({ kind: 'refused' });
    expect(c.desk.gauges[0]!.desk.state.readings).toHaveLength(1);
    await c.end();
    expect(c.desk.state.swept[0]).toMatchObject({ readings: 1 });
  });

  it('takes no reading for a gauge that is none of its own', async () => {
    const c = await sweeping('free');
    const give = giveTo(c, 0);
    expect(await c.say({ ...give, jobId: 'somebody-else' })).toMatchObject({
      code: 'CLUSTER_NOT_ASKED',
    });
    await c.end();
  });

  it('opens and forgets a roll call when a second screen stops while a box is asked about', async () => {
    const c = await openedWith({ seed: 10, count: 2 });
    answered(await c.say({ kind: 'call-roll' }));
    await c.until(() => {
      const { doing } = c.frame();
      return doing.kind === 'roll-call' && doing.isAsked;
    });
    const { doing } = c.frame();
    const boxSerial = doing.kind === 'roll-call' ? (doing.boxSerial ?? 0) : 0;
    expect(c.open()).toContain(false);
    expect(
      await c.say({ kind: 'say-moved', boxSerial, moved: { jobId: c.jobIds[0]! } }, OTHER),
    ).toMatchObject({ code: 'CLUSTER_NOT_ASKED' });
    await c.t.until(c.t.bench.stopEach(OTHER));
    await c.until(c.isIdle);
    expect(c.open()).toEqual([true, true]);
    // What is said after it assigns nothing.
    expect(await c.say({ kind: 'say-moved', boxSerial, moved: { jobId: c.jobIds[0]! } })).toMatchObject({
      code: 'CLUSTER_NOT_ASKED',
    });
    expect(c.frame()).toMatchObject({ isCalled: false });
    expect(c.desk.state.gauges.map((gauge) => gauge.boxSerial)).toEqual([undefined, undefined]);
  });
});
