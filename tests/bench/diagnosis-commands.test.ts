import { describe, expect, it } from 'vitest';
import type { JobCommand } from '../../host/job';
import { circuitOfJob, polarityOfJob, seedOfJob, skippedOfJob } from '../../host/job/check/diagnosis-of-job';
import { testHookUp } from '../../host/job/test-hook-up';
import type { CauseName, TestName } from '../../host/core/diagnosis';
import { opening, slowThermal, testBench, type TestBench } from './setup';

const inCar = async (): Promise<TestBench> => {
  const t = await testBench(slowThermal, { ...opening, place: 'car' });
  await t.do({ kind: 'answer-check', question: 'check-way', answer: 'meter' });
  await t.do({ kind: 'confirm-safety', confirmation: 'dash-open', airbagWaitMinutes: 0 });
  await t.do({ kind: 'confirm-safety', confirmation: 'gauge-sender' });
  return t;
};
const note = (test: TestName, value: number): JobCommand => ({
  ...{ kind: 'note-test', test, value, source: 'person' },
});
const conclude = (
  finding: 'sound' | 'wire-fault' | 'supply-fault',
  causes: CauseName[],
  verdict: 'is' | 'between' = 'is',
): JobCommand => ({
  ...{ kind: 'conclude-check', finding, sentence: 'as it looks', evidence: [] },
  diagnosed: { verdict, causes, way: 'meter', seed: 1, notMeasured: [] },
});

describe('readings of the diagnosis', () => {
  it('are kept in the job with the needle as found, and taken up as they were read', async () => {
    const t = await inCar();
    await t.do({ kind: 'record-as-found', state: 'cold', indicated: 90, reference: 70 });
    await t.do(note('sender-plug', 118));
    await t.do(note('sender-plug', 121), 'phone');
    const circuit = circuitOfJob(t.desk.state);
    // Arc of the dial: 90 degC at its half; the ends are 50 and 120.
    expect(circuit?.readings.map(({ test }) => test)).toEqual(['as-found', 'sender-plug', 'sender-plug']);
    expect(circuit?.readings[0]?.value).toBeCloseTo(0.5, 6);
    expect(circuit?.readings.slice(1).map(({ value }) => value)).toEqual([118, 121]);
    expect(circuit?.subject.standsAt).toBeGreaterThan(0.2);
    expect(circuit?.subject.standsAt).toBeLessThan(0.5);
    expect(circuit?.subject.way).toBe('meter');
    expect(seedOfJob(t.desk.state)).toBe(seedOfJob({ jobId: t.desk.state.jobId }));
  });

  it('are taken back by whoever gave them, and left out where somebody cannot', async () => {
    const t = await inCar();
    await t.do(note('battery', 12.4));
    await t.do({ kind: 'skip-test', test: 'feed', reason: 'dash glued in' });
    expect(skippedOfJob(t.desk.state)).toEqual(['feed']);
    await t.do({ kind: 'undo' });
    expect(skippedOfJob(t.desk.state)).toEqual([]);
    await t.do({ kind: 'undo' });
    expect(t.desk.state.tested).toEqual([]);
    await t.do({ kind: 'skip-test', test: 'feed' });
    await t.do(note('feed', 12.1));
    expect(skippedOfJob(t.desk.state)).toEqual([]);
  });

  it('from before a repair say nothing of how things are now', async () => {
    const t = await inCar();
    await t.do(note('wire-ohm', 49));
    await t.do({ kind: 'say-repaired', what: 'sender wire renewed' });
    await t.do(note('wire-ohm', 0.2));
    expect(circuitOfJob(t.desk.state)?.readings).toEqual([{ test: 'wire-ohm', value: 0.2 }]);
  });

  it('are refused where no such reading can be, or the gauge has no such test', async () => {
    const t = await inCar();
    expect(await t.refused(note('wire-ohm', -3))).toBe('TEST_VALUE_IMPOSSIBLE');
    expect(await t.refused(note('middle-load', 40))).toBe('TEST_VALUE_IMPOSSIBLE');
    // No gauge of two terminals has a ground of its own; a tank's track is not in a thermistor.
    expect(await t.refused(note('gauge-ground-ohm', 90))).toBe('TEST_NOT_OF_GAUGE');
    expect(await t.refused(note('rocking', 1))).toBe('TEST_NOT_OF_GAUGE');
    const box: JobCommand = { kind: 'note-test', test: 'battery', value: 12, source: 'box' };
    expect(await t.refused(box)).toBe('NOT_THE_BOX');
    const onBench = await testBench();
    expect(await onBench.refused(note('battery', 12.4))).toBe('NOT_DIAGNOSABLE');
  });

  it('come from the box where it can reach them', async () => {
    const t = await testBench(slowThermal, { ...opening, place: 'car' });
    await t.do({ kind: 'answer-check', question: 'check-way', answer: 'box' });
    await t.do({ kind: 'confirm-safety', confirmation: 'gauge-sender' });
    await t.do({ kind: 'capture-test', test: 'sender-plug' });
    expect(t.desk.state.tested.at(-1)).toMatchObject({ test: 'sender-plug', value: 110, source: 'box' });
    expect(await t.refused({ kind: 'capture-test', test: 'battery' })).toBe('BOX_CANNOT_MEASURE');
  });
});

describe('positive ground', () => {
  it('is told by the first volts, proves nothing before somebody looked, and turns the leads', async () => {
    const t = await inCar();
    const weak = conclude('supply-fault', ['weak-battery']);
    await t.do(note('battery', -9.1));
    expect(await t.refused(weak)).toBe('CONCLUSION_UNPROVED');
    expect(testHookUp('hex-ohm', t.desk.state, true)?.joins.at(-1)?.to).toBe('battery negative, at the post');
    await t.do(note('grounded-post', 1), 'phone');
    expect(polarityOfJob(t.desk.state).isPositiveGround).toBe(true);
    expect(testHookUp('hex-ohm', t.desk.state, true)?.joins.at(-1)?.to).toMatch(/^battery positive/);
    const box = testHookUp('middle-load', t.desk.state, true);
    // Two clips, each where the other was; what only senses stays off.
    expect(box?.joins.map(({ from, end }) => [from, end])).toEqual([
      ['SENDER', 'ground'],
      ['GROUND', 'wire'],
    ]);
    expect(await t.refused(weak)).toBe('accepted');
  });
});

describe('a conclusion of the diagnosis', () => {
  it('is refused without the measurement that proves it, of a second screen too', async () => {
    const t = await inCar();
    await t.do(note('sender-plug', 118));
    expect(await t.refused(conclude('wire-fault', ['wire-corroded']))).toBe('CONCLUSION_UNPROVED');
    expect(await t.refused(conclude('wire-fault', ['wire-corroded']), 'phone')).toBe('CONCLUSION_UNPROVED');
    await t.do(note('wire-ohm', 49));
    await t.do(conclude('wire-fault', ['wire-corroded']));
    expect(t.desk.state.conclusion).toMatchObject({
      finding: 'wire-fault',
      diagnosed: { causes: ['wire-corroded'] },
    });
  });

  it('calls nothing sound or at fault that it does not name', async () => {
    const t = await inCar();
    await t.do(note('wire-ohm', 49));
    expect(await t.refused(conclude('sound', ['sound']))).toBe('CONCLUSION_UNPROVED');
    expect(await t.refused(conclude('sound', ['wire-corroded']))).toBe('CONCLUSION_UNPROVED');
    expect(await t.refused(conclude('wire-fault', []))).toBe('CONCLUSION_UNPROVED');
    expect(await t.refused(conclude('wire-fault', ['wire-corroded'], 'between'))).toBe('CONCLUSION_UNPROVED');
    // What proved it before the repair proves nothing after it.
    await t.do({ kind: 'say-repaired', what: 'sender wire renewed' });
    expect(await t.refused(conclude('wire-fault', ['wire-corroded']))).toBe('CONCLUSION_UNPROVED');
  });
});
