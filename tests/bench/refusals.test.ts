import { describe, expect, it } from 'vitest';
import type { JobCommand } from '../../host/job';
import { slowThermal, testBench, type TestBench } from './setup';

const SWEEP: JobCommand = { kind: 'start-sweep', choice: { mode: 'step-and-read', refinements: 0 } };
const captured = (what: 'open-circuit-volt' | 'effective-volt' | 'ground-offset-volt' | 'supply-volt') =>
  ({ kind: 'capture-measurement', what, loads: 'off' }) as const;

/** A sweep that asks its second question; the first step was read. */
const atTheSecond = async (): Promise<{ t: TestBench; first: string; second: string }> => {
  const t = await testBench();
  await t.do(SWEEP);
  const first = await t.read();
  return { t, first, second: await t.asked() };
};

/** A second screen, an older page or a program asks for what can no longer be: the journal stays as it is. */
describe('what a bench refuses, and leaves as it was', () => {
  it('a reading struck twice, and one restored that counts', async () => {
    const { t } = await atTheSecond();
    const readingId = t.desk.state.readings[0]?.readingId ?? '';
    expect(await t.refused({ kind: 'restore-reading', readingId })).toBe('NOT_STRUCK');
    await t.do({ kind: 'strike-reading', readingId, reason: 'lights were on' });
    const struckAt = t.desk.events.length;
    expect(await t.refused({ kind: 'strike-reading', readingId, reason: 'again' })).toBe('ALREADY_STRUCK');
    expect(t.desk.events).toHaveLength(struckAt);
    expect(t.desk.state.readings[0]?.struckBecause).toBe('lights were on');
  });

  it('a step skipped that was read, one read that was skipped, and one that is not asked about yet', async () => {
    const { t, first, second } = await atTheSecond();
    expect(await t.refused({ kind: 'skip-step', stepId: first })).toBe('STEP_DONE');
    const later = t.desk.state.sweeps[0]?.steps.at(-1)?.stepId ?? '';
    expect(await t.refused({ kind: 'give-reading', stepId: later, reading: 80 })).toBe('STEP_NOT_CURRENT');
    await t.do({ kind: 'skip-step', stepId: second });
    expect(await t.refused({ kind: 'give-reading', stepId: second, reading: 80 })).toBe('STEP_DONE');
    expect(t.desk.state.readings).toHaveLength(1);
  });

  it('a reading while the sweep is paused: the needle rests then', async () => {
    const { t, second } = await atTheSecond();
    await t.do({ kind: 'pause-sweep' });
    expect(await t.refused({ kind: 'give-reading', stepId: second, reading: 80 })).toBe('SWEEP_PAUSED');
    expect(t.desk.state.readings).toHaveLength(1);
  });

  it('a reading before anything was set for this step', async () => {
    const { t, second } = await atTheSecond();
    await t.do({ kind: 'give-reading', stepId: second, reading: t.box.look() });
    const third = t.desk.state.sweeps[0]?.steps[2]?.stepId ?? '';
    expect(await t.refused({ kind: 'give-reading', stepId: third, reading: 80 })).toBe('NOT_ASKING');
  });

  it('a change that changes nothing, and the undoing of what no undo takes back', async () => {
    const t = await testBench();
    expect(await t.refused({ kind: 'change-job' })).toBe('NOTHING_CHANGED');
    const created = t.desk.events[0]?.n ?? 0;
    expect(await t.refused({ kind: 'undo', undoes: created })).toBe('CANNOT_UNDO');
    expect(t.desk.events).toHaveLength(1);
  });

  it('the clearing of a trip that there is not', async () => {
    const t = await testBench();
    await t.pass(1_000);
    expect(await t.refused({ kind: 'clear-trip' })).toBe('NO_TRIP');
    expect(t.box.requests).toEqual([]);
  });

  it('ohms below nothing, for whoever typed a minus', async () => {
    const t = await testBench();
    const typed = { kind: 'add-measurement', what: 'sender-ohm', loads: 'off', source: 'person' } as const;
    expect(await t.refused({ ...typed, value: -90 })).toBe('OHM_NEGATIVE');
    await t.do({ ...typed, value: 90 });
    expect(t.desk.state.measurements.map(({ value }) => value)).toEqual([90]);
  });

  it('a figure of the box that its meter has not got, or never has', async () => {
    const t = await testBench();
    // The fake box drives nothing here: no open-circuit volts, no heat volts, and its probe hangs in the air.
    expect(await t.refused(captured('ground-offset-volt'))).toBe('NOT_MEASURED');
    expect(await t.refused(captured('supply-volt'))).toBe('BOX_CANNOT_MEASURE');
    expect(t.desk.state.measurements).toEqual([]);
  });

  it.each([0, 1_000_000, Number.NaN])(
    'a test current that the ohmmeter has not got: %s uA',
    async (microamp) => {
      const t = await testBench();
      await t.do({ kind: 'describe-sender', senderId: 's', title: 'tank', model: 'unknown', unit: 'degC' });
      const point = {
        kind: 'capture-sender-point',
        senderId: 's',
        value: 80,
        testMicroamp: microamp,
      } as const;
      expect(await t.refused(point)).toBe('TEST_CURRENT');
      expect(t.box.requests).toEqual([]);
    },
  );

  it('a sweep on a wire that carries no current (NO_CURRENT), and says so rather than wait for a needle that cannot move', async () => {
    const t = await testBench(slowThermal);
    t.box.isFed = false;
    await t.do(SWEEP);
    await t.pass(60_000);
    expect(t.waiting.kind).not.toBe('answer');
    expect(t.desk.state.sweeps[0]?.status.kind).toBe('paused');
    expect(t.box.isOpen).toBe(true);
    const why = JSON.stringify(t.desk.events.at(-1));
    expect(why).toMatch(/no current/i);
  });

  it('a reading while the feed is gone (NO_CURRENT), and takes it when it is back', async () => {
    const t = await testBench(slowThermal);
    await t.do(SWEEP);
    const give = { kind: 'give-reading', stepId: await t.asked(), reading: 60 } as const;
    t.box.isFed = false;
    await t.pass(1_000);
    expect(await t.refused(give)).toBe('NO_CURRENT');
    t.box.isFed = true;
    await t.pass(1_000);
    await t.do(give);
    expect(t.desk.state.readings).toHaveLength(1);
  });
});
