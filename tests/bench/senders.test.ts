import { describe, expect, it } from 'vitest';
import { inShownUnit, type JobCommand } from '../../host/job';
import { ME, testBench, type TestBench } from './setup';

const about = { kind: 'describe-sender', model: 'unknown', unit: 'degC' } as const;
const old = { ...about, senderId: 'old', title: 'as fitted' } as const;
const inFahrenheit = { ...old, unit: 'degF' } as const;
const point = (value: number, senderId = 'old'): JobCommand => ({
  kind: 'add-sender-point',
  senderId,
  value,
  resistanceOhm: 100,
  source: 'person',
});
const undoes = (t: TestBench, kind: string): JobCommand => ({
  kind: 'undo',
  undoes: t.desk.events.filter((event) => event.kind === kind).at(-1)?.n ?? 0,
});

describe('senders that are added', () => {
  it('by two screens at the same moment are two, each with its own id, title and points', async () => {
    const t = await testBench();
    const [one, other] = await Promise.all([
      t.desk.submit({ ...about, title: 'taken out' }, 'phone'),
      t.desk.submit({ ...about, title: 'from the shop' }, 'laptop'),
    ]);
    expect([one.kind, other.kind]).toEqual(['accepted', 'accepted']);
    expect(t.desk.state.senders.map(({ senderId, title }) => [senderId, title])).toEqual([
      ['sender-1', 'taken out'],
      ['sender-2', 'from the shop'],
    ]);
  });

  it('never get an id that was used before, though its description was taken back or its points were never described', async () => {
    const t = await testBench();
    await t.do({ ...about, title: 'a slip' });
    await t.do(point(80, 'sender-2'));
    await t.do(undoes(t, 'sender-described'));
    await t.do({ ...about, title: 'new' });
    expect(t.desk.state.senders.map((each) => each.senderId)).toEqual(['sender-3']);
  });

  it('are described again under the id they have', async () => {
    const t = await testBench();
    await t.do(old);
    await t.do(point(80));
    await t.do({ ...old, title: 'as fitted, cleaned' });
    expect(t.desk.state.senders.map(({ senderId, title }) => [senderId, title])).toEqual([
      ['old', 'as fitted, cleaned'],
    ]);
  });
});

describe('the unit of a sender', () => {
  it('may be changed while nothing is kept in it', async () => {
    const t = await testBench();
    await t.do(old);
    await t.do(inFahrenheit);
    await t.do(point(176));
    expect(t.desk.state.senders[0]?.unit).toBe('degF');
  });

  it('is not changed under its points: 80 degC would be read as 80 degF', async () => {
    const t = await testBench();
    await t.do(old);
    await t.do(point(80));
    const outcome = await t.desk.submit(inFahrenheit, ME);
    expect(outcome).toMatchObject({ kind: 'refused', code: 'SENDER_UNIT_HELD' });
    expect(outcome.kind === 'refused' ? outcome.message : '').toContain('"as fitted" has points in degC');
    await t.do(undoes(t, 'sender-point'));
    await t.do(inFahrenheit);
  });

  it('is not changed by taking a description back, neither the second nor the only one', async () => {
    const t = await testBench();
    await t.do(old);
    await t.do(inFahrenheit);
    await t.do(point(176));
    expect(await t.refused(undoes(t, 'sender-described'))).toBe('SENDER_UNIT_HELD');
    const alone = await testBench();
    await alone.do(inFahrenheit);
    await alone.do(point(176));
    expect(await alone.refused(undoes(alone, 'sender-described'))).toBe('SENDER_UNIT_HELD');
    // In the dial's own unit nothing is relabelled.
    const same = await testBench();
    await same.do(old);
    await same.do(point(80));
    await same.do(undoes(same, 'sender-described'));
  });

  it('holds a point that is brought back after it was changed', async () => {
    const t = await testBench();
    await t.do(old);
    await t.do(point(80));
    await t.do(undoes(t, 'sender-point'));
    const taken = t.desk.state.lastN;
    await t.do(inFahrenheit);
    expect(await t.refused({ kind: 'undo', undoes: taken })).toBe('SENDER_UNIT_HELD');
    await t.do(undoes(t, 'sender-described'));
    await t.do({ kind: 'undo', undoes: taken });
    expect(t.desk.state.senderPoints.map((each) => each.value)).toEqual([80]);
  });

  it('is another one on a screen without anything being changed', async () => {
    const t = await testBench();
    await t.do(old);
    await t.do(point(80));
    await t.do({ kind: 'change-job', shownUnit: 'degF' });
    expect(inShownUnit(t.desk.state).senderPoints[0]?.value).toBe(176);
    expect(t.desk.state.senderPoints[0]?.value).toBe(80);
  });
});
