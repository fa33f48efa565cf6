import { describe, expect, it, onTestFinished } from 'vitest';
import { berthsOf } from '../../host/bench/cluster/roll-call';
import { neighbourVerdict, suspectOf } from '../../host/core/cluster';
import { answered } from '../support/answer';
import { inSoak, someOf } from '../support/deep';
import { scratchFolder } from '../store/scratch';
import { clusterBench, type ClusterSetUp } from './simulated-cluster';

const benchWith = async (setUp: ClusterSetUp) => {
  const bench = await clusterBench(await scratchFolder(), setUp);
  onTestFinished(bench.close);
  return bench;
};

describe('the roll call', () => {
  it('finds which box is on which gauge when leads are crossed, and leaves every output open', async () => {
    const t = await benchWith({ seed: 3, count: 3, order: [2, 0, 1] });
    const called = answered(await t.callRoll());
    const gauges = t.jobs.map(({ desk, place }) => ({ jobId: desk.jobId, place }));
    const berths: ReadonlyMap<string, number> = answered(berthsOf(called, gauges));
    // Box k (number 1041 + k) stands at gauge order[k].
    const numbers: (number | undefined)[] = t.jobs.map(({ desk }) => berths.get(desk.jobId));
    expect(numbers).toEqual([1042, 1043, 1041]);
    // 10 V over a heater of 58 ohm and a harmless resistance: tens of milliamperes each.
    for (const { milliamp } of called) expect(milliamp).toBeGreaterThan(20);
    await t.pass(1_000);
    expect(t.boxes.boxes.map(({ world }) => world.pathOhm)).toEqual([Infinity, Infinity, Infinity]);
  });

  it('refuses two boxes on one needle, and a box whose needle nobody could name', () => {
    const gauges = [{ jobId: 'a', place: 'left' }];
    const called = (boxSerial: number, moved: Parameters<typeof berthsOf>[0][number]['moved']) => ({
      boxSerial,
      moved,
      milliamp: 1,
    });
    expect(berthsOf([called(1, { jobId: 'a' }), called(2, { jobId: 'a' })], gauges)).toMatchObject({
      code: 'ROLL_CALL_TWICE',
    });
    expect(berthsOf([called(1, { nothing: 'several' })], gauges)).toMatchObject({
      code: 'ROLL_CALL_UNCLEAR',
    });
  });
});

describe('the neighbour test', () => {
  it.each(
    someOf(
      [
        [0.5, 0, true, 'feed'],
        [0, 0.5, true, 'ground'],
        [0.3, 0.3, true, 'both'],
        [0.25, 0, false, 'cannot-tell'],
      ] as const,
      2,
    ),
  )(
    'finds %s ohm of feed and %s ohm of ground (lead on the bench: %s): %s',
    async (feedOhm, groundOhm, onBench, where) => {
      const t = await benchWith({ seed: 11, count: 2, feedOhm, groundOhm, isBatteryLeadOnBench: onBench });
      const cells = answered(await t.neighbours());
      expect(cells).toHaveLength(2);
      const suspect = suspectOf(cells);
      expect(suspect?.where).toBe(where);
      expect(Math.abs((suspect?.commonOhm.value ?? 0) - (feedOhm + groundOhm))).toBeLessThan(0.04);
      expect(t.boxes.boxes.map(({ world }) => world.pathOhm)).toEqual([Infinity, Infinity]);
    },
  );

  it('sees nothing where nothing is shared', async () => {
    const t = await benchWith({ seed: 12, count: 2 });
    const cells = answered(await t.neighbours());
    expect(neighbourVerdict(cells)).toBe('none-seen');
    expect(suspectOf(cells)).toBeUndefined();
  });
});

inSoak(
  'reads two gauges in little more than one takes, never before their needles rest, and ends with all open',
  async () => {
    const t = await benchWith({ seed: 21, count: 2 });
    const { tookMs, leastMs, troubles, swept } = await t.sweep('free', { seed: 5, mixUpProbability: 0 });
    expect(troubles).toEqual([]);
    expect(swept.map(({ desk }) => desk.state.sweeps[0]?.status.kind)).toEqual(['finished', 'finished']);
    expect(tookMs).toBeGreaterThanOrEqual(leastMs);
    await t.pass(1_000);
    expect(t.boxes.boxes.map(({ world }) => world.pathOhm)).toEqual([Infinity, Infinity]);
    const alone = await benchWith({ seed: 21, count: 2 });
    const serial = await alone.sweep('one-by-one', { seed: 5, mixUpProbability: 0 });
    expect(serial.troubles).toEqual([]);
    expect(tookMs / serial.tookMs).toBeLessThan(0.6);
    const rounds = await benchWith({ seed: 21, count: 2 });
    const inRounds = await rounds.sweep('rounds', { seed: 5, mixUpProbability: 0 });
    expect(inRounds.troubles).toEqual([]);
    expect(inRounds.tookMs).toBeGreaterThan(tookMs);
    expect(inRounds.tookMs).toBeLessThan(serial.tookMs);
  },
);
