import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { JobCommand } from '../../host/job';
import type { TestName } from '../../host/core/diagnosis';
import { commandLine } from '../support/command-line';
import { scratchFolder } from '../store/scratch';
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
  if (quantity === 'temperature') await t.do(said({ confirmation: 'gauge-sender' }));
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

const MINUTE_MS = 60_000;
const later = (t: TestBench, minutes: number): void => t.clock.jump(t.clock.nowMs() + minutes * MINUTE_MS);

describe('cold', () => {
  const isCold = said({ confirmation: 'engine-cold', probeCelsius: 31 });
  const typed: JobCommand = {
    ...{ kind: 'add-sender-point', senderId: 's', value: 20, resistanceOhm: 2_000, source: 'person' },
  };
  const byTheHours = said({ confirmation: 'engine-cold' });

  const withSender = async (): Promise<TestBench> => {
    const t = await inCar();
    await t.do({ kind: 'describe-sender', senderId: 's', title: 'new', model: 'unknown', unit: 'degC' });
    return t;
  };

  it('lasts ten minutes, and as long as a sender that was taken out lies in its bath', async () => {
    const t = await withSender();
    await t.do(isCold);
    later(t, 11);
    expect(await refusedToAll(t, point)).toEqual(['CONFIRM_FIRST', 'CONFIRM_FIRST', 'CONFIRM_FIRST']);
    await t.do(isCold);
    for (let round = 0; round < 4; round += 1) {
      later(t, 8);
      await t.do(typed);
    }
    expect(t.desk.state.confirmations).toContain('engine-cold');
    later(t, 11);
    expect(await t.refused(point)).toBe('CONFIRM_FIRST');
  });

  it('comes by the hours since the engine was switched off, of nobody earlier and never of a tap', async () => {
    const t = await withSender();
    expect(await refusedToAll(t, byTheHours)).toEqual(['NOT_COLD', 'NOT_COLD', 'NOT_COLD']);
    await t.do(said({ confirmation: 'engine-off' }));
    later(t, 4 * 60 - 1);
    expect(await refusedToAll(t, byTheHours)).toEqual(['NOT_COLD', 'NOT_COLD', 'NOT_COLD']);
    // The clock of the wall is told: the hour at which it may be opened.
    const until = new Date(Date.parse(t.clock.nowIso()) + MINUTE_MS).toTimeString().slice(0, 5);
    const answer = await t.desk.submit(byTheHours, PHONE);
    expect(answer.kind === 'refused' ? answer.message : '').toContain(`wait until ${until}`);
    later(t, 1);
    await t.do(byTheHours);
    expect(await t.refused(point)).toBe('accepted');
  });

  it('is not reckoned from before an engine was started, nor by a clock that was set back', async () => {
    const t = await withSender();
    await t.do(said({ confirmation: 'engine-off' }));
    later(t, 30);
    await t.do(said({ confirmation: 'engine-runs', heldMs: 3_000 }));
    later(t, 5 * 60);
    expect(await refusedToAll(t, byTheHours)).toEqual(['NOT_COLD', 'NOT_COLD', 'NOT_COLD']);
    await t.do(said({ confirmation: 'engine-off' }));
    const nowIso = t.clock.nowIso.bind(t.clock);
    t.clock.nowIso = () => new Date(Date.parse(nowIso()) - 24 * 60 * MINUTE_MS).toISOString();
    expect(await t.refused(byTheHours)).toBe('NOT_COLD');
  });

  it('ends with the engine that is started', async () => {
    const t = await withSender();
    await t.do(isCold);
    await t.do(said({ confirmation: 'engine-runs', heldMs: 3_000 }));
    expect(await refusedToAll(t, point)).toEqual(['CONFIRM_FIRST', 'CONFIRM_FIRST', 'CONFIRM_FIRST']);
  });
});

describe('a sensor of the engine controller', () => {
  it('is left alone: no wire parted, nothing driven, nothing measured, whoever asks and whatever is said', async () => {
    const t = await testBench(slowThermal, { ...opening, place: 'car' });
    await t.do({ kind: 'answer-check', question: 'check-way', answer: 'meter' });
    const off = note('lead-off', 0.1);
    expect(await refusedToAll(t, off)).toEqual(['CONFIRM_FIRST', 'CONFIRM_FIRST', 'CONFIRM_FIRST']);
    await t.do({ kind: 'answer-check', question: 'sender-of', answer: 'engine-controller' }, PHONE);
    const own = said({ confirmation: 'gauge-sender' });
    const sweep: JobCommand = { kind: 'start-sweep', choice: { mode: 'step-and-read' } };
    const answered: JobCommand = { kind: 'answer-check', question: 'sender-of', answer: 'gauge' };
    for (const command of [off, own, answered, note('sender-plug', 100), point, sweep])
      expect(await refusedToAll(t, command)).toEqual(['ENGINE_SENSOR', 'ENGINE_SENSOR', 'ENGINE_SENSOR']);
    later(t, 24 * 60);
    expect(await t.refused(off)).toBe('ENGINE_SENSOR');
    expect(t.box.driven).toEqual([]);
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
    // A bare ground that nobody calls a load is one all the same.
    expect(await refusedToAll(t, note('lowest-load', 1))).toEqual([
      'LOAD_UNSAID',
      'LOAD_UNSAID',
      'LOAD_UNSAID',
    ]);
    await t.do(note('lowest-load', 1, 22));
  });
});

describe('a part that is swapped', () => {
  it('wants what its place wants: the dash opened, the wire parted', async () => {
    const t = await inCar('fuel');
    for (const test of ['swap-gauge', 'swap-stabiliser', 'swap-sender'] as const)
      expect(await refusedToAll(t, note(test, 1)), test).toEqual([
        'CONFIRM_FIRST',
        'CONFIRM_FIRST',
        'CONFIRM_FIRST',
      ]);
    await t.do(said({ confirmation: 'tank-closed' }));
    await t.do(said({ confirmation: 'dash-open', airbagWaitMinutes: 2 }));
    for (const test of ['swap-gauge', 'swap-stabiliser', 'swap-sender'] as const) await t.do(note(test, 0));
    // A second load is no lower than the first; where a stabiliser chops, only the box reads its volts.
    await t.do({ kind: 'answer-check', question: 'check-way', answer: 'box' });
    expect(await refusedToAll(t, note('second-load', 1, 1))).toEqual([
      'LOAD_TOO_LOW',
      'LOAD_TOO_LOW',
      'LOAD_TOO_LOW',
    ]);
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

  it('is not read as found before that either, and an oil gauge is not blipped', async () => {
    const t = await inCar();
    const asFound = (state: string): JobCommand => ({ kind: 'record-as-found', state, indicated: 90 });
    for (const state of ['engine warm, idling', 'Idles hot', 'thermostat open', 'running', 'fan cuts in'])
      expect(await refusedToAll(t, asFound(state))).toEqual([
        'CONFIRM_FIRST',
        'CONFIRM_FIRST',
        'CONFIRM_FIRST',
      ]);
    const tap = said({ confirmation: 'engine-runs' });
    expect(await refusedToAll(t, tap)).toEqual(['NOT_HELD', 'NOT_HELD', 'NOT_HELD']);
    expect(t.desk.state.asFound).toEqual([]);
    await t.do(said({ confirmation: 'engine-runs', heldMs: 3_000 }));
    await t.do(asFound('engine warm, idling'));
    later(t, 2);
    expect(await t.refused(asFound('engine warm, idling'))).toBe('CONFIRM_FIRST');
    // Nothing turns here.
    for (const state of ['engine cold', 'engine off, hot', 'after a night, not running'])
      expect(await t.refused(asFound(state)), state).toBe('accepted');
    const oil = await testBench(slowThermal, {
      ...opening,
      place: 'car',
      gauge: { ...opening.gauge, quantity: 'pressure' },
    });
    await oil.do({ kind: 'answer-check', question: 'check-way', answer: 'meter' });
    const blip = note('rocking', 0);
    expect(await refusedToAll(oil, blip)).toEqual(['CONFIRM_FIRST', 'CONFIRM_FIRST', 'CONFIRM_FIRST']);
    await oil.do(said({ confirmation: 'engine-runs', heldMs: 3_000 }));
    expect(await oil.refused(blip)).toBe('accepted');
  });

  it('at its limit is switched off: no reading is taken as found', async () => {
    const t = await inCar();
    const hot: JobCommand = { kind: 'record-as-found', state: 'idling', indicated: 90, reference: 112 };
    expect(await refusedToAll(t, hot)).toEqual(['ENGINE_TOO_HOT', 'ENGINE_TOO_HOT', 'ENGINE_TOO_HOT']);
    expect(t.desk.state.asFound).toEqual([]);
  });
});

const lines = (...commands: readonly JobCommand[]): string =>
  commands.map((each) => JSON.stringify(each)).join('\n');
const lowLoad = note('lowest-load', 0.4, 0.5);
const asFoundIdling: JobCommand = {
  ...{ kind: 'record-as-found', state: 'hot, idling', indicated: 90, reference: 90 },
};
const shortLoad: JobCommand = {
  ...{ kind: 'add-measurement', what: 'loaded-volt', value: 0.1, source: 'person', loadOhm: 0 },
};
const unproved: JobCommand = {
  ...{ kind: 'conclude-check', finding: 'sound', sentence: 'it looks good', evidence: [] },
  diagnosed: { verdict: 'is', causes: ['sound'], way: 'meter', seed: 1, notMeasured: [] },
};

describe('from the command line', () => {
  it.each([
    ['a wire parted at a tank that nobody closed', note('lead-off', 0.1), /tank stays closed/],
    ['a load below any sender\u2019s on it', lowLoad, /0\.5 ohm/],
  ])('%s is refused of a fuel gauge', async (_, command, sentence) => {
    const folder = join(await scratchFolder(), 'tank');
    const closed = said({ confirmation: 'tank-closed' });
    const files = {
      'o.json': JSON.stringify({
        ...opening,
        place: 'car',
        gauge: { ...opening.gauge, quantity: 'fuel' },
      }),
      'begin.ndjson': lines(
        { kind: 'answer-check', question: 'check-way', answer: 'meter' },
        ...(command === lowLoad ? [closed] : []),
      ),
      'try.ndjson': lines(command),
    };
    await commandLine(['job', folder, '--open', 'o.json', '--tell', 'begin.ndjson'], files);
    const { code, err } = await commandLine(['job', folder, '--tell', 'try.ndjson'], files);
    expect(err).toMatch(sentence);
    expect(code).toBe(3);
  });

  it.each([
    ['a tap for cold', said({ confirmation: 'engine-cold' }), /Cold is measured, not said/],
    ['a tap for hands held out', said({ confirmation: 'engine-runs' }), /Hold it for 3 s/],
    [
      'one name for two',
      said({ confirmation: 'two-aboard', driver: 'Ada', reader: ' ada' }),
      /two names are wanted/,
    ],
    ['a wire of the engine controller', note('lead-off', 0.1), /feeds the engine controller/],
    ['hands not held out of a running engine', asFoundIdling, /Hands and leads are out of fan and belts/],
    ['an engine at its limit', { ...asFoundIdling, reference: 113 }, /Engine off now/],
    ['a dash that nobody opened', note('feed', 12), /Battery negative was off/],
    ['an airbag that nobody waited for', said({ confirmation: 'dash-open' }), /airbag/i],
    ['a short for a heater', shortLoad, /is a wire to ground/],
    ['a gauge called sound unproved', unproved, /hex/],
  ])('%s is refused, too', async (_, command, sentence) => {
    const folder = join(await scratchFolder(), 'car');
    const files = {
      'o.json': JSON.stringify({ ...opening, place: 'car' }),
      'begin.ndjson': lines(
        { kind: 'answer-check', question: 'check-way', answer: 'meter' },
        { kind: 'answer-check', question: 'sender-of', answer: 'engine-controller' },
      ),
      'try.ndjson': lines(command),
    };
    await commandLine(['job', folder, '--open', 'o.json', '--tell', 'begin.ndjson'], files);
    const { code, err } = await commandLine(['job', folder, '--tell', 'try.ndjson'], files);
    expect(err).toMatch(sentence);
    expect(code).toBe(3);
  });
});
