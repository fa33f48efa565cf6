import { describe, expect, it } from 'vitest';
import { countedReadings } from '../../host/job';
import { testBench } from './setup';

const short = {
  kind: 'start-sweep',
  choice: { mode: 'step-and-read', pointCount: 3, legs: 'up', refinements: 0, repeats: 0 },
} as const;

describe('a point that is to be read again', () => {
  it('is read next, at the same resistance and from the same side, however long ago it was read', async () => {
    const t = await testBench();
    await t.do(short);
    const first = await t.read();
    await t.read();
    await t.do({ kind: 'repeat-step', stepId: first });
    const again = await t.asked();
    await t.do({ kind: 'give-reading', stepId: again, reading: t.box.look() });
    const [one, , two] = countedReadings(t.desk.state);
    expect(two?.stepId).not.toBe(one?.stepId);
    expect(two?.resistanceOhm).toBe(one?.resistanceOhm);
    expect(two?.leg).toBe(one?.leg);
    expect(two?.reading).toBeCloseTo(one?.reading ?? NaN, 1);
    await t.read();
    await t.pass(1_000);
    expect(t.desk.state.sweeps[0]?.status).toEqual({ kind: 'finished', complete: true });
  });

  it('opens a finished sweep again, drives nothing until a person resumes, and finishes it a second time', async () => {
    const t = await testBench();
    await t.do(short);
    const first = await t.read();
    await t.read();
    await t.read();
    await t.pass(1_000);
    expect(t.desk.state.sweeps[0]?.status.kind).toBe('finished');
    const drivenBefore = t.box.driven.length;
    await t.do({ kind: 'repeat-step', stepId: first });
    await t.pass(10_000);
    expect(t.desk.state.sweeps[0]?.status).toEqual({
      kind: 'paused',
      reason: 'a point is to be read again',
    });
    expect(t.box.driven).toHaveLength(drivenBefore);
    expect(t.box.isOpen).toBe(true);
    await t.do({ kind: 'resume-sweep' });
    await t.read();
    await t.pass(1_000);
    const [one, , , again] = countedReadings(t.desk.state);
    expect(again?.resistanceOhm).toBe(one?.resistanceOhm);
    expect(t.desk.state.sweeps[0]?.status).toEqual({ kind: 'finished', complete: true });
    expect(t.box.isOpen).toBe(true);
  });

  it('refuses a step that is not there', async () => {
    const t = await testBench();
    await t.do(short);
    expect(await t.refused({ kind: 'repeat-step', stepId: 'w9s9' })).toBe('NO_SUCH_ENTRY');
  });
});
