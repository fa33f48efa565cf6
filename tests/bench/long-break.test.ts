import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Confirmation } from '../../host/job';
import { withoutLapsed } from '../../host/job/state/confirmations';
import { ME, opening, slowThermal, testBench, type TestBench } from './setup';

const HOUR_MS = 3_600_000;
const SENDER = { senderId: 's', title: 'new', model: 'unknown', unit: 'degC' } as const;
const watch = { kind: 'watch-sender', senderId: 's' } as const;

const say = (t: TestBench, confirmation: Confirmation) =>
  t.do({ kind: 'confirm-safety', confirmation, probeCelsius: 21 });

const inCar = async (): Promise<TestBench> => {
  const t = await testBench(slowThermal, { ...opening, place: 'car' });
  await t.do({ kind: 'describe-sender', ...SENDER });
  await say(t, 'gauge-sender');
  await say(t, 'engine-cold');
  return t;
};

const idleFor = (t: TestBench, hours: number): void => t.clock.jump(t.clock.nowMs() + hours * HOUR_MS);

describe('what was said of a vehicle before a long break', () => {
  it('is asked again before the next step that needs it: the engine may have run meanwhile', async () => {
    const t = await inCar();
    await t.do(watch);
    await t.do({ kind: 'end-watch' });
    idleFor(t, 3);
    const before = t.desk.events.length;
    expect(await t.refused(watch)).toBe('CONFIRM_FIRST');
    expect(t.desk.events).toHaveLength(before);
    expect(t.box.requests.filter(({ name }) => name === 'ohmmeter')).toHaveLength(1);
    await say(t, 'engine-cold');
    expect(t.kinds().slice(before)).toEqual(['safety-lapsed', 'safety-confirmed']);
    await t.do(watch);
  });

  it('writes nothing for whoever only looks, and does not make the job the newest', async () => {
    const t = await inCar();
    const file = join(t.jobsFolder, t.desk.jobId, 'job.ndjson');
    const [text, lastAt] = [await readFile(file, 'utf8'), t.desk.state.lastAt];
    idleFor(t, 30);
    await t.crash();
    t.desk.seen('phone');
    await t.desk.idle();
    expect(await readFile(file, 'utf8')).toBe(text);
    expect((await t.bench.jobs()).jobs).toMatchObject([{ lastAt }]);
    expect(t.desk.state.confirmations).toEqual(['gauge-sender']);
    expect(t.desk.live.lapsed).toEqual(['engine-cold']);
    await t.do({ kind: 'add-note', text: 'back again' });
    expect(t.desk.live.lapsed).toBeUndefined();
    expect(t.desk.state.confirmations).toEqual(['gauge-sender']);
    expect(t.kinds().slice(-2)).toEqual(['safety-lapsed', 'note']);
  });

  const sweptOnce = async (): Promise<TestBench> => {
    const t = await inCar();
    await say(t, 'connected-ignition-off');
    await t.do({ kind: 'start-sweep', choice: { mode: 'step-and-read' } });
    await t.read();
    await t.do({ kind: 'pause-sweep' });
    expect(t.desk.state.confirmations).toEqual(['gauge-sender', 'engine-cold', 'connected-ignition-off']);
    return t;
  };

  it('is asked again after a night with the program off', async () => {
    const t = await sweptOnce();
    idleFor(t, 10);
    await t.crash();
    expect(await t.refused({ kind: 'resume-sweep' })).toBe('CONFIRM_FIRST');
    expect(t.desk.state.confirmations).toEqual(['gauge-sender']);
  });

  it('is asked again though the bench itself wrote something at the end of it', async () => {
    const t = await sweptOnce();
    idleFor(t, 10);
    t.box.trip('SUPPLY_HIGH', 17_000, 16_000);
    await t.desk.idle();
    expect(t.kinds().slice(-3)).toEqual(['safety-lapsed', 'safety-lapsed', 'tripped']);
    await t.do({ kind: 'clear-trip' });
    expect(await t.refused({ kind: 'resume-sweep' })).toBe('CONFIRM_FIRST');
  });

  it('is not written for a screen that only looks; the screen sees by the time that it no longer counts', async () => {
    const t = await inCar();
    const before = t.desk.events.length;
    idleFor(t, 3);
    t.desk.seen('phone');
    await t.desk.idle();
    await t.crash();
    expect(t.desk.events.length).toBe(before);
    expect(withoutLapsed(t.desk.state, t.clock.nowIso()).confirmations).toEqual(['gauge-sender']);
  });

  it('counts on while the work goes on, however long', async () => {
    const t = await inCar();
    await say(t, 'connected-ignition-off');
    for (let round = 0; round < 6; round += 1) {
      idleFor(t, 1.5);
      await t.do({ kind: 'add-note', text: 'still at it' });
    }
    await t.do({ kind: 'start-sweep', choice: { mode: 'step-and-read' } });
  });

  it('counts no more when the clock was set back by more than a break', async () => {
    const t = await inCar();
    const nowIso = t.clock.nowIso.bind(t.clock);
    t.clock.nowIso = () => new Date(Date.parse(nowIso()) - 24 * HOUR_MS).toISOString();
    expect(await t.refused(watch)).toBe('CONFIRM_FIRST');
  });

  it('but what is known of the gauge stays said', async () => {
    const t = await testBench(slowThermal, {
      ...opening,
      gauge: { ...opening.gauge, mechanism: 'unknown' },
    });
    await say(t, 'mechanism-unknown');
    idleFor(t, 30);
    expect((await t.desk.submit({ kind: 'start-sweep', choice: { mode: 'step-and-read' } }, ME)).kind).toBe(
      'accepted',
    );
  });
});
