import { describe, expect, it } from 'vitest';
import { openBench } from '../../host/bench';
import { faults } from '../../protocol';
import { deskOf, ME, opening, testBench } from './setup';

describe('a trip that is not in the journal of the job', () => {
  it('is shown as the box told it while another job drove', async () => {
    const t = await testBench();
    await t.do({ kind: 'start-sweep', choice: { mode: 'step-and-read' } });
    await t.asked();
    const other = await deskOf(t.bench.createJob({ ...opening, title: 'Tern 1100' }, ME));
    t.box.trip('CURRENT_HIGH', 312, 250);
    await t.pass(1_000, () => t.desk.live.box.state === 'tripped');
    expect(other.state.trip).toBeUndefined();
    expect(other.live.trip).toMatchObject({ code: 'CURRENT_HIGH', measured: 312, limit: 250 });
    expect(other.live.trip?.reason).toContain('312 mA');
  });

  it('is shown without numbers when only the heartbeat tells of it, and can be cleared', async () => {
    const t = await testBench();
    const { jobId } = t.desk;
    await t.bench.close();
    t.box.trip('CURRENT_HIGH', 312, 250);
    t.bench = openBench({ jobsFolder: t.jobsFolder, link: t.box, clock: t.clock });
    t.desk = await deskOf(t.bench.openJob(jobId));
    await t.pass(1_000, () => t.desk.live.box.state === 'tripped');
    const { code, reason, remedy, measured, limit } = t.desk.live.trip ?? {};
    expect([code, remedy]).toEqual(['CURRENT_HIGH', faults.CURRENT_HIGH.remedy]);
    expect([measured, limit]).toEqual([undefined, undefined]);
    expect(reason).toMatch(/not reported$/);
    expect(reason).not.toMatch(/\d/);
    await t.do({ kind: 'clear-trip' });
    await t.pass(1_000, () => t.desk.live.box.state === 'safe');
    expect(t.desk.live.trip).toBeUndefined();
  });

  it('is not shown with the numbers of an earlier one of the same kind', async () => {
    const t = await testBench();
    t.box.trip('CURRENT_HIGH', 312, 250);
    await t.pass(1_000, () => t.desk.live.trip?.measured === 312);
    await t.do({ kind: 'clear-trip' });
    await t.pass(1_000, () => t.desk.live.trip === undefined);
    t.box.tripUnheard('CURRENT_HIGH');
    await t.pass(1_000, () => t.desk.live.trip !== undefined);
    expect(t.desk.live.trip).not.toHaveProperty('measured');
  });
});
