import { describe, expect, it } from 'vitest';
import { Clusters } from '../../host/bench';
import { refuse } from '../../host/refusals';
import { answered } from '../support/answer';
import { openedWith, OTHER, ME, SWEEP } from './cluster-screen';

describe('a cluster at the page', () => {
  it('is called, tested and swept by one screen: crossed leads found, every gauge read, every output open', async () => {
    const c = await openedWith({ seed: 3, count: 2, order: [1, 0] });
    expect(await c.say(SWEEP)).toEqual({ kind: 'done' });
    await c.until(c.isIdle);
    // Begun before anybody said which box is where.
    const { place } = c.desk.gauges[0]!;
    const unsaid = refuse('ROLL_CALL_FIRST', { place }).message;
    expect(c.frame()).toMatchObject({ isCalled: false, trouble: unsaid });
    await c.callRoll();
    expect(c.frame()).toMatchObject({ isCalled: true });
    expect(c.desk.state.gauges.map(({ boxSerial }) => boxSerial)).toEqual([1042, 1041]);
    answered(await c.say({ kind: 'test-neighbours' }));
    expect(await c.say(SWEEP, OTHER)).toMatchObject({ code: 'CLUSTER_AT_WORK' });
    await c.until(c.isIdle);
    expect(c.desk.state.neighbours).toHaveLength(2);
    answered(await c.say(SWEEP));
    expect(await c.say({ kind: 'say-moved', boxSerial: 1041, moved: { nothing: 'none' } })).toMatchObject({
      code: 'CLUSTER_NOT_ASKED',
    });
    let given = 0;
    while (!c.isIdle()) if ((await c.readOne())?.kind === 'done') given += 1;
    expect(given).toBe(8);
    const lastOf = (at: number) => c.desk.gauges[at]!.desk.state.sweeps.at(-1);
    expect([0, 1].map((at) => `${lastOf(at)?.state} ${lastOf(at)?.status.kind}`)).toEqual([
      'as-found finished',
      'as-found finished',
    ]);
    for (const [at, { desk }] of c.desk.gauges.entries()) {
      const beside = desk.state.readings.flatMap(({ neighbours = [] }) => neighbours);
      expect(beside.length).toBeGreaterThanOrEqual(3);
      expect(beside.some(({ milliamp }) => milliamp !== undefined)).toBe(true);
      for (const { jobId, milliamp, commonOhm } of beside) {
        expect(jobId).toBe(c.jobIds[1 - at]);
        // Its meter may be between two looks.
        if (milliamp !== undefined) expect(milliamp).toBeGreaterThan(20);
        // Nothing is in common here, and the test had said so.
        expect(commonOhm).toBeLessThan(0.1);
      }
    }
    expect(c.desk.state.swept[0]).toMatchObject({ order: 'free', readings: 8, doubted: 0 });
    expect(c.open()).toEqual([true, true]);
    const again = answered(await c.t.clusters.again(c.desk.clusterId, { vehicle: 'The next one' }, ME));
    const next = answered(await c.t.clusters.open(again.clusterId));
    expect(next.state).toMatchObject({ vehicle: 'The next one', swept: [], neighbours: [] });
    expect(next.gauges.map(({ desk }) => desk.state.readings)).toEqual([[], []]);
  });

  it('asks back about an answer that fits the other needle, and takes it when it is meant', async () => {
    const c = await openedWith({ seed: 8, count: 2 });
    await c.callRoll();
    answered(await c.say({ kind: 'start-sweep', choice: { ...SWEEP.choice, pointCount: 5, legs: 'both' } }));
    let doubted: string | undefined;
    while (!c.isIdle() && doubted === undefined) {
      // The fuel gauge (0 to 100) and the coolant gauge (40 to 120) show one figure at quite different places.
      const other = (at: number) => {
        const mistaken = c.readingAt(1 - at);
        const isFar = Math.abs(mistaken - c.readingAt(at)) > 15;
        const known = c.desk.gauges.every(({ desk }) => desk.state.readings.length >= 5);
        return isFar && known && mistaken >= 40 && mistaken <= 100 ? mistaken : c.readingAt(at);
      };
      const before = c.next()?.jobId;
      const answer = await c.readOne(other);
      if (answer?.kind === 'refused') {
        expect(answer.code).toBe('FITS_OTHER_NEEDLE');
        doubted = before ?? c.next()?.jobId;
      }
    }
    const { doing } = c.frame();
    const doubt = doing.kind === 'sweep' ? doing.doubt : undefined;
    if (doubt === undefined) throw new Error('nothing was doubted');
    const gauge = c.desk.gauges.find(({ jobId }) => jobId === doubt.jobId)!;
    const count = gauge.desk.state.readings.length;
    const { reading, stepId, jobId } = doubt;
    answered(
      await c.say({ kind: 'give', jobId, isSure: true, command: { kind: 'give-reading', stepId, reading } }),
    );
    expect(gauge.desk.state.readings).toHaveLength(count + 1);
    expect(c.frame().doing).not.toHaveProperty('doubt');
    await c.end();
  });

  it('opens everything on STOP and when its screen goes away, and goes on with what was left', async () => {
    const c = await openedWith({ seed: 5, count: 2 });
    await c.callRoll();
    answered(await c.say(SWEEP));
    await c.readOne();
    await c.until(() => c.next() !== undefined);
    expect(c.open()).toEqual([false, false]);
    await c.t.until(c.t.bench.stopEach('laptop 9'));
    await c.until(c.isIdle);
    expect(c.open()).toEqual([true, true]);
    answered(await c.say({ kind: 'call-roll' }));
    await c.until(() => c.frame().doing.kind === 'roll-call' && c.open().includes(false));
    c.desk.gone(ME);
    await c.t.pass(20_000, () => c.isIdle());
    await c.t.pass(1_000);
    expect(c.open()).toEqual([true, true]);
    // The sweeps that were left go on from where they were.
    answered(await c.say(SWEEP));
    await c.until(() => c.next() !== undefined);
    expect(await c.say({ kind: 'later', jobId: c.jobIds[0]! }, OTHER)).toMatchObject({
      code: 'CLUSTER_AT_WORK',
    });
    answered(await c.say({ kind: 'take-over' }, OTHER));
    expect(c.frame().reader).toBe(OTHER);
    expect(c.desk.gauges.map(({ desk }) => desk.state.sweeps.length)).toEqual([1, 1]);
    await c.end();
  });

  it('ends all when one box trips in its sweep, and names its place', async () => {
    const c = await openedWith({ seed: 4, count: 2 });
    await c.callRoll();
    answered(await c.say(SWEEP));
    await c.until(() => c.open().every((isOpen) => !isOpen));
    await c.until(() => c.next() !== undefined);
    // A box that cannot measure opens by itself.
    c.t.boxes.applyChange(JSON.stringify({ box: 1, change: { meterHangs: true } }));
    await c.until(c.isIdle);
    await c.t.pass(1_000);
    expect(c.frame().trouble).toContain('its box tripped');
    expect(c.open()).toEqual([true, true]);
  });

  it('says when the boxes are not one a gauge, and when something breaks off', async () => {
    const c = await openedWith({ seed: 6, count: 2 });
    c.t.boxes.cutLine(1, true);
    await c.until(() => c.frame().boxes.length === 1);
    answered(await c.say({ kind: 'call-roll' }));
    await c.until(c.isIdle);
    expect(c.frame().trouble).toBe(refuse('CLUSTER_BOXES', { gauges: 2, boxes: 1 }).message);
    const broken = new Clusters({
      jobsFolder: 'nowhere',
      bench: {
        ...c.t.bench,
        boxes: () => [],
        openJob: (jobId) => c.t.bench.openJob(jobId),
        onStop: () => undefined,
        holdBoxes: () => ({ kind: 'refused', code: 'CLUSTER_FAILED', message: '' }),
        assignBox: () => 'assigned',
        putInCluster: () => undefined,
        stopAll: () => Promise.resolve(),
      },
      clock: c.t.clock,
      screenClock: c.t.clock,
      needleSpeed: 1,
    });
    expect(await broken.open('none')).toMatchObject({ kind: 'refused' });
    await broken.close();
  });
});
