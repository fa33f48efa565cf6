import { describe, expect, it } from 'vitest';
import { OpenJob } from '../../host/bench';
import { hopedFor } from '../store/scratch';
import { ME, testBench } from './setup';

describe('jobs on the shelf of a bench', () => {
  it('deletes none that somebody follows or that drives; afterwards it is let go, deleted and comes back', async () => {
    const t = await testBench();
    const { jobId } = t.desk;
    const unsubscribe = t.desk.subscribe(() => undefined);
    expect(await t.bench.deleteJob(jobId)).toMatchObject({ code: 'JOB_AT_WORK' });
    await t.do({ kind: 'start-sweep', choice: { mode: 'step-and-read', refinements: 0, repeats: 0 } });
    unsubscribe();
    t.leave();
    expect(await t.bench.deleteJob(jobId)).toMatchObject({ code: 'JOB_AT_WORK' });
    await t.desk.stop(ME);
    await t.desk.idle();
    const before = t.desk.events;
    const { name } = hopedFor(await t.bench.deleteJob(jobId), 'moved');
    expect((await t.bench.jobs()).jobs).toEqual([]);
    expect(await t.bench.openJob(jobId)).toMatchObject({ kind: 'refused' });
    hopedFor(await t.bench.restoreJob(name), 'moved');
    const again = await t.bench.openJob(jobId);
    expect(again instanceof OpenJob ? again.events.slice(0, before.length) : again).toEqual(before);
  });

  it('begins the same gauge again with nothing measured, and signs who began it', async () => {
    const t = await testBench();
    await t.do({ kind: 'add-note', text: 'the first of six' });
    const again = await t.bench.duplicateJob(t.desk.jobId, 'phone');
    if (!(again instanceof OpenJob)) throw new Error(again.message);
    expect(again.jobId).not.toBe(t.desk.jobId);
    expect(again.events.map(({ kind, by }) => [kind, by])).toEqual([['job-opened', 'phone']]);
    expect(again.state.gauge).toEqual(t.desk.state.gauge);
    expect(await t.bench.duplicateJob('no-such-job', 'phone')).toMatchObject({ code: 'JOURNAL_MISSING' });
  });
});
