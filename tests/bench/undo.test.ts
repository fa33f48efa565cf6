import { describe, expect, it } from 'vitest';
import { entryWords, type EventKind } from '../../host/job';
import { ME, testBench, type TestBench } from './setup';

const PHONE = 'phone';
const newest = (t: TestBench, kind: EventKind, by: string): number =>
  t.desk.events.filter((event) => event.kind === kind && event.by === by).at(-1)?.n ?? 0;
const answer = (question: string, value: string) =>
  ({ kind: 'answer-check', question, answer: value }) as const;

describe('undo, with two people at one job', () => {
  it('takes back what the caller entered last, not what the other typed in between', async () => {
    const t = await testBench();
    await t.do(answer('lights', 'yes'));
    await t.do(answer('fan', 'no'), PHONE);
    const [event] = await t.do({ kind: 'undo' });
    expect(event).toMatchObject({ kind: 'undone', undoes: newest(t, 'check-answered', ME) });
    expect(t.desk.state.answers).toEqual({ fan: 'no' });
  });

  it('refuses what somebody else entered, and says who did', async () => {
    const t = await testBench();
    await t.do(answer('fan', 'no'), PHONE);
    const undone = { kind: 'undo', undoes: newest(t, 'check-answered', PHONE) } as const;
    const refused = await t.desk.submit(undone, ME);
    expect(refused).toMatchObject({ kind: 'refused', code: 'NOT_YOURS' });
    expect(refused.kind === 'refused' && refused.message).toContain(`"${PHONE}"`);
    expect(await t.refused({ kind: 'undo' })).toBe('NOTHING_TO_UNDO');
    await t.do(undone, PHONE);
    expect(t.desk.state.answers).toEqual({});
  });

  it('refuses what somebody of a like name entered: the host calls a second laptop "laptop (2)"', async () => {
    const t = await testBench();
    const second = `${ME} (2)`;
    await t.do(answer('fan', 'no'), second);
    const undoes = newest(t, 'check-answered', second);
    expect(await t.refused({ kind: 'undo', undoes })).toBe('NOT_YOURS');
    await t.do(answer('lights', 'yes'));
    expect(await t.refused({ kind: 'undo', undoes: newest(t, 'check-answered', ME) }, second)).toBe(
      'NOT_YOURS',
    );
    expect(t.desk.state.answers).toEqual({ fan: 'no', lights: 'yes' });
  });

  it('refuses what is no longer the newest: a second press does not reach further back', async () => {
    const t = await testBench();
    await t.do(answer('lights', 'yes'));
    const first = newest(t, 'check-answered', ME);
    await t.do(answer('fan', 'no'));
    const second = newest(t, 'check-answered', ME);
    expect(await t.refused({ kind: 'undo', undoes: first })).toBe('NOT_NEWEST');
    await t.do({ kind: 'undo', undoes: second });
    // Pressed twice: the first press has done it already.
    expect(await t.refused({ kind: 'undo', undoes: second })).toBe('NOTHING_TO_UNDO');
    expect(t.desk.state.answers).toEqual({ lights: 'yes' });
    // Another station's entries are no hindrance.
    await t.do({ kind: 'add-note', text: 'a note' });
    await t.do({ kind: 'undo', undoes: first });
    expect(t.desk.state.answers).toEqual({});
  });

  it('takes back a measurement that is named, whatever was measured since: a contradiction may lie in the older one', async () => {
    const t = await testBench();
    const volts = (what: 'supply-volt' | 'open-circuit-volt', value: number) =>
      ({ kind: 'add-measurement', what, value, source: 'person', loads: 'off' }) as const;
    await t.do(volts('supply-volt', 12.2));
    const first = newest(t, 'check-measured', ME);
    await t.do(volts('open-circuit-volt', 13.5));
    await t.do({ kind: 'undo', undoes: first });
    expect(t.desk.state.measurements.map((each) => each.value)).toEqual([13.5]);
  });

  it('says which reading it was', async () => {
    const t = await testBench();
    await t.do({ kind: 'start-sweep', choice: { mode: 'step-and-read', refinements: 0, repeats: 0 } });
    const stepId = await t.asked();
    await t.do({ kind: 'give-reading', stepId, reading: 83 });
    const event = t.desk.events.find((each) => each.kind === 'reading');
    if (event?.kind !== 'reading') throw new Error('no reading');
    const words = entryWords(t.desk.state, event);
    expect(words).toBe(`your reading 83 degC at ${Number(event.resistanceOhm.toPrecision(4))} ohm`);
  });
});
