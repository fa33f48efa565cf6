import { describe, expect, it } from 'vitest';
import type { JobCommand } from '../../host/job';
import type { TestName } from '../../host/core/diagnosis';
import { opening, slowThermal, testBench, type TestBench } from './setup';

const PHONE = 'phone';
const note = (test: TestName, value: number, atOhm?: number): JobCommand => ({
  ...{ kind: 'note-test', test, value, source: 'person' },
  ...(atOhm === undefined ? {} : { atOhm }),
});
const said = (command: Omit<Extract<JobCommand, { kind: 'confirm-safety' }>, 'kind'>): JobCommand => ({
  kind: 'confirm-safety',
  ...command,
});

const inCar = async (quantity: 'temperature' | 'fuel' = 'temperature'): Promise<TestBench> => {
  const t = await testBench(slowThermal, {
    ...opening,
    place: 'car',
    gauge: { ...opening.gauge, quantity },
  });
  await t.do({ kind: 'answer-check', question: 'check-way', answer: 'meter' });
  return t;
};
const point: JobCommand = { kind: 'capture-sender-point', senderId: 's', value: 20 };
/** Alone, by a second screen, and by a program that names its source: all three are the same command to the host. */
const refusedToAll = async (t: TestBench, command: JobCommand): Promise<string[]> => [
  await t.refused(command),
  await t.refused(command, PHONE),
  await t.refused(command, 'command line'),
];

describe('a cooling system is opened cold', () => {
  it('only by a temperature: no tap, no warm one, of nobody', async () => {
    const t = await inCar();
    await t.do({ kind: 'describe-sender', senderId: 's', title: 'new', model: 'unknown', unit: 'degC' });
    expect(await refusedToAll(t, point)).toEqual(['CONFIRM_FIRST', 'CONFIRM_FIRST', 'CONFIRM_FIRST']);
    const tap = said({ confirmation: 'engine-cold' });
    expect(await refusedToAll(t, tap)).toEqual(['NOT_COLD', 'NOT_COLD', 'NOT_COLD']);
    const warm = said({ confirmation: 'engine-cold', probeCelsius: 40 });
    expect(await refusedToAll(t, warm)).toEqual(['NOT_COLD', 'NOT_COLD', 'NOT_COLD']);
    await t.do(said({ confirmation: 'engine-cold', probeCelsius: 31 }));
    await t.do(point);
    // What it was measured by is kept, and printed where the record lists what was said.
    expect(t.desk.state.saidForSafety.at(-1)).toMatchObject({ probeCelsius: 31 });
    expect(t.desk.state.saidForSafety.at(-1)?.sentence).toMatch(/Measured: 31 \u00b0C/);
    // An engine that ran since is cold no more.
    await t.do(note('sender-warm', 40));
    expect(await refusedToAll(t, point)).toEqual(['CONFIRM_FIRST', 'CONFIRM_FIRST', 'CONFIRM_FIRST']);
  });
});

describe('a tank', () => {
  it('has no wire parted before it is said to be closed, whoever asks', async () => {
    const t = await inCar('fuel');
    const off = note('lead-off', 0.1);
    expect(await refusedToAll(t, off)).toEqual(['CONFIRM_FIRST', 'CONFIRM_FIRST', 'CONFIRM_FIRST']);
    await t.do(said({ confirmation: 'tank-closed' }));
    await t.do(off);
    t.clock.jump(t.clock.nowMs() + 3 * 3_600_000);
    expect(await t.refused(off)).toBe('CONFIRM_FIRST');
  });
});

describe('a load on the sender wire', () => {
  it('is never below what a sender of the family has', async () => {
    const t = await inCar();
    const short = note('lowest-load', 1, 1);
    expect(await refusedToAll(t, short)).toEqual(['LOAD_TOO_LOW', 'LOAD_TOO_LOW', 'LOAD_TOO_LOW']);
    await t.do(note('lowest-load', 1, 22));
  });
});

describe('a dash', () => {
  it('is opened with battery negative off and the airbags\u2019 minutes known', async () => {
    const t = await inCar();
    const ohms = note('wire-ohm', 0.2);
    expect(await refusedToAll(t, ohms)).toEqual(['CONFIRM_FIRST', 'CONFIRM_FIRST', 'CONFIRM_FIRST']);
    const tap = said({ confirmation: 'dash-open' });
    expect(await refusedToAll(t, tap)).toEqual(['NO_AIRBAG_WAIT', 'NO_AIRBAG_WAIT', 'NO_AIRBAG_WAIT']);
    await t.do(said({ confirmation: 'dash-open', airbagWaitMinutes: 0 }));
    await t.do(ohms);
    t.clock.jump(t.clock.nowMs() + 3 * 3_600_000);
    expect(await t.refused(ohms)).toBe('CONFIRM_FIRST');
  });
});

describe('a running engine', () => {
  it('is read only after hands were held out, and again after a minute', async () => {
    const t = await inCar();
    const warm = note('as-found-warm', 0.6);
    expect(await refusedToAll(t, warm)).toEqual(['CONFIRM_FIRST', 'CONFIRM_FIRST', 'CONFIRM_FIRST']);
    const tap = said({ confirmation: 'engine-runs', heldMs: 300 });
    expect(await refusedToAll(t, tap)).toEqual(['NOT_HELD', 'NOT_HELD', 'NOT_HELD']);
    await t.do(said({ confirmation: 'engine-runs', heldMs: 3_100 }));
    await t.do(warm);
    t.clock.jump(t.clock.nowMs() + 61_000);
    expect(await t.refused(warm)).toBe('CONFIRM_FIRST');
  });

  it('at its limit is switched off: no reading is taken as found', async () => {
    const t = await inCar();
    const hot: JobCommand = { kind: 'record-as-found', state: 'idling', indicated: 90, reference: 112 };
    expect(await refusedToAll(t, hot)).toEqual(['ENGINE_TOO_HOT', 'ENGINE_TOO_HOT', 'ENGINE_TOO_HOT']);
    expect(t.desk.state.asFound).toEqual([]);
  });
});
