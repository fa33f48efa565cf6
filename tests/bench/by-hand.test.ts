import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { HandSetUp } from '../../host/job/schema/by-hand';
import { countedReadings, runningSweep, type Gauge, type JobCommand } from '../../host/job';
import { coolantGauge } from '../job/sample';
import { coolantReading, ME, opening, testBench, type TestBench } from './setup';

const meter = { name: 'handheld', leadsOhm: 0.3 };
const drawer = [22, 33, 47, 68, 100, 150, 220, 330].map((resistanceOhm) => ({
  resistanceOhm,
  ratingWatt: 5,
  count: 1,
}));
const resistors: HandSetUp = { tools: { way: 'resistors', parts: drawer }, ohmmeter: meter };
/** 22 ohm before a track of 250 ohm, 25 W: behind 58 ohm on 10 V it carries 125 of 316 mA. */
const potentiometer: HandSetUp = {
  tools: { way: 'potentiometer', wholeOhm: 320, ratingWatt: 25, seriesOhm: 22, seriesWatt: 5 },
  ohmmeter: meter,
  feedVolt: 10,
  gaugeOhm: 58,
};
const known: Gauge = {
  ...coolantGauge,
  marks: [...coolantGauge.marks],
  mechanism: 'thermal',
  family: { lowEndOhm: 320, highEndOhm: 22 },
};
const { family, ...nobodyKnows } = known;
const start = (hand: HandSetUp): JobCommand => ({
  kind: 'start-sweep',
  choice: { mode: 'step-and-read', refinements: 0, hand },
});

const bench = (gauge: Gauge = known, place: 'car' | 'bench' = 'bench'): Promise<TestBench> =>
  testBench(undefined, { ...opening, gauge, place });

const stepNow = (t: TestBench) => {
  const sweep = runningSweep(t.desk.state);
  const step = sweep?.steps.find(({ state }) => state.kind === 'pending');
  if (step === undefined) throw new Error(`no step: ${JSON.stringify(t.desk.state.sweeps)}`);
  return step;
};

/** Puts on what is asked for, waits, and reads a needle that follows ln R. */
const putAndRead = async (t: TestBench, shownOhm?: number): Promise<number> => {
  const { stepId, aim } = stepNow(t);
  const ohm = shownOhm ?? (aim.kind === 'resistance' ? aim.resistanceOhm + 0.3 : NaN);
  await t.do({ kind: 'put-on', stepId, shownOhm: ohm });
  await t.asked();
  await t.do({ kind: 'give-reading', stepId, reading: coolantReading(ohm - 0.3) });
  return ohm;
};

describe('a sweep by hand with resistors', () => {
  it('asks for what the drawer makes, waits, reads, and keeps what the meter showed less its leads', async () => {
    const t = await bench();
    await t.do(start(resistors));
    expect(t.waiting).toEqual({ kind: 'put-on', stepId: 'w1s1' });
    const first = await putAndRead(t);
    const [reading] = t.desk.state.readings;
    expect(reading).toMatchObject({
      source: 'hand',
      resistanceOhm: first - 0.3,
      ohmmeter: meter,
      leg: 'up',
      method: 'step',
    });
    // 0.8 % and 0.3 ohm between limits, and the last digit (GUM 4.3.7): of about 330 ohm 1.5 ohm.
    expect(reading?.uncertaintyOhm).toBeCloseTo(
      Math.hypot((0.008 * first) / Math.sqrt(3), 0.3 / Math.sqrt(3), 0.1 / Math.sqrt(12)),
      1,
    );
    expect(reading?.waitedMs).toBeGreaterThanOrEqual(60_000);
    while (runningSweep(t.desk.state) !== undefined) await putAndRead(t).then(() => t.pass(10));
    expect(t.desk.state.sweeps[0]?.status).toEqual({ kind: 'finished', complete: true });
    expect(countedReadings(t.desk.state).map(({ leg }) => leg)).not.toContain('down');
    // No event pretends that a box was there.
    expect(t.kinds()).not.toContain('box-connected');
    expect(t.box.driven).toEqual([]);
  });

  it('reads both ends and the middle twice', async () => {
    const t = await bench();
    await t.do(start(resistors));
    const steps = t.desk.state.sweeps[0]?.steps ?? [];
    const repeats = steps.filter(({ why }) => why === 'repeat').map(({ aim }) => JSON.stringify(aim));
    const planned = steps.filter(({ why }) => why === 'plan').map(({ aim }) => JSON.stringify(aim));
    expect(repeats).toHaveLength(3);
    expect(repeats).toContain(planned[0]);
    expect(repeats).toContain(planned.at(-1));
  });

  it('reads both legs where a change-over switch keeps the needle up', async () => {
    const t = await bench();
    await t.do(start({ ...resistors, tools: { way: 'resistors', parts: drawer, hasSwitch: true } }));
    const legs = new Set(t.desk.state.sweeps[0]?.steps.map(({ leg }) => leg));
    expect(legs).toEqual(new Set(['up', 'down']));
  });

  it('takes no reading before the needle has had its time, and none of what is not on', async () => {
    const t = await bench();
    await t.do(start(resistors));
    const { stepId } = stepNow(t);
    expect(await t.refused({ kind: 'give-reading', stepId, reading: 60 })).toBe('NOT_ASKING');
    expect(await t.refused({ kind: 'put-on', stepId })).toBe('HAND_OHMS_FIRST');
    await t.do({ kind: 'put-on', stepId, shownOhm: 330 });
    await t.pass(59_000);
    expect(await t.refused({ kind: 'give-reading', stepId, reading: 60 })).toBe('NOT_SETTLED');
    await t.pass(2_000);
    await t.do({ kind: 'give-reading', stepId, reading: 60 });
    expect(t.desk.state.readings).toHaveLength(1);
  });

  it('starts the wait again when the needle still moves, and is at the same step after an undo', async () => {
    const t = await bench();
    await t.do(start(resistors));
    const { stepId } = stepNow(t);
    await t.do({ kind: 'put-on', stepId, shownOhm: 330 });
    await t.asked();
    await t.do({ kind: 'wait-longer', stepId });
    expect(t.waiting.kind).toBe('settling');
    await t.asked();
    await t.do({ kind: 'give-reading', stepId, reading: 52 });
    await t.do({ kind: 'undo' });
    expect(t.waiting).toEqual({ kind: 'put-on', stepId });
  });

  it('shows that the wait goes on, every second', async () => {
    const t = await bench();
    await t.do(start(resistors));
    await t.do({ kind: 'put-on', stepId: stepNow(t).stepId, shownOhm: 330 });
    const passed: number[] = [];
    t.desk.subscribe(() => {
      const { waiting } = t.desk.live;
      if (waiting.kind === 'settling') passed.push(waiting.passedMs);
    });
    const { waiting } = t;
    await t.asked();
    const wholeSecond = waiting.kind === 'settling' ? Math.floor(waiting.settleMs / 1_000) : NaN;
    expect(wholeSecond).toBeGreaterThan(5);
    expect(new Set(passed.map((ms) => Math.floor(ms / 1_000))).size).toBeGreaterThanOrEqual(wholeSecond - 1);
  });

  it('loses nothing when the program dies, and asks for the same part again', async () => {
    const t = await bench();
    await t.do(start(resistors));
    await putAndRead(t);
    const { stepId } = stepNow(t);
    await t.do({ kind: 'put-on', stepId, shownOhm: 190 });
    await t.crash();
    expect(t.waiting).toEqual({ kind: 'put-on', stepId });
    await putAndRead(t);
    expect(t.desk.state.readings).toHaveLength(2);
  });

  it('says which parts are missing where too few fit', async () => {
    const t = await bench();
    const few = { ...resistors, tools: { way: 'resistors' as const, parts: drawer.slice(-1) } };
    expect(await t.refused(start(few))).toBe('HAND_TOO_FEW');
  });

  it('goes on with a box in the same job', async () => {
    const t = await bench();
    await t.do(start(resistors));
    await putAndRead(t);
    await t.do({ kind: 'finish-sweep' });
    await t.do({ kind: 'start-sweep', choice: { mode: 'step-and-read', refinements: 0 } });
    await t.read();
    expect(t.desk.state.readings.map(({ source }) => source)).toEqual(['hand', undefined]);
  });
});

describe('a sweep by hand with a potentiometer', () => {
  it('reads near each mark and then the ohms, off the wire, and goes both ways', async () => {
    const t = await bench();
    await t.do(start(potentiometer));
    const marks = known.marks.length;
    expect(t.desk.state.sweeps[0]?.steps.map(({ leg }) => leg).filter((leg) => leg === 'down')).toHaveLength(
      marks - 1,
    );
    const { stepId } = stepNow(t);
    expect(t.waiting).toEqual({ kind: 'put-on', stepId });
    await t.do({ kind: 'put-on', stepId });
    await t.asked();
    await t.do({ kind: 'give-reading', stepId, reading: 52 });
    expect(t.desk.state.readings).toHaveLength(0);
    expect(t.waiting).toEqual({ kind: 'measure', stepId });
    await t.crash();
    expect(t.waiting).toEqual({ kind: 'measure', stepId });
    await t.do({ kind: 'give-ohms', stepId, shownOhm: 301.3 });
    expect(t.desk.state.readings[0]).toMatchObject({ reading: 52, resistanceOhm: 301, source: 'hand' });
  });

  it('questions ohms that track and fixed resistor cannot have together', async () => {
    const t = await bench();
    await t.do(start(potentiometer));
    const { stepId } = stepNow(t);
    expect(await t.refused({ kind: 'give-ohms', stepId, shownOhm: 100 })).toBe('NOT_ASKING');
    await t.do({ kind: 'put-on', stepId });
    await t.asked();
    await t.do({ kind: 'give-reading', stepId, reading: 52 });
    expect(await t.refused({ kind: 'give-ohms', stepId, shownOhm: 9 })).toBe('HAND_NOT_OF_TRACK');
    expect(await t.refused({ kind: 'give-ohms', stepId, shownOhm: 3_013 })).toBe('HAND_NOT_OF_TRACK');
  });

  it.each([
    ['a track that would carry more than 70 % of its current', { ratingWatt: 1 }, 'HAND_TRACK_TOO_WEAK'],
    ['a fixed resistor below the family\u2019s least ohms', { seriesOhm: 10 }, 'HAND_FIXED_TOO_SMALL'],
    ['a fixed resistor of too few watts', { seriesWatt: 0.25 }, 'HAND_TRACK_TOO_WEAK'],
  ])('refuses %s', async (_, part, code) => {
    const t = await bench();
    const tools = {
      way: 'potentiometer' as const,
      wholeOhm: 320,
      ratingWatt: 25,
      seriesOhm: 22,
      seriesWatt: 5,
    };
    expect(await t.refused(start({ ...potentiometer, tools: { ...tools, ...part } }))).toBe(code);
  });

  it('begins at all its ohms where nobody knows the gauge, and is refused where that is little', async () => {
    const t = await bench(nobodyKnows);
    expect(await t.refused(start(potentiometer))).toBe('HAND_TRACK_TOO_SHORT');
    const long = {
      way: 'potentiometer' as const,
      wholeOhm: 1_000,
      ratingWatt: 50,
      seriesOhm: 22,
      seriesWatt: 5,
    };
    await t.do(start({ ...potentiometer, tools: long }));
    expect(stepNow(t).aim).toEqual({ kind: 'resistance', resistanceOhm: 1_022 });
  });
});

describe('the host keeps a person from harm, whatever a page asks', () => {
  it('refuses what is below the least ohms of the family', async () => {
    const t = await bench();
    await t.do(start(resistors));
    const { stepId } = stepNow(t);
    expect(await t.refused({ kind: 'put-on', stepId, shownOhm: 10 })).toBe('HAND_TOO_LOW');
    expect(await t.refused({ kind: 'put-on', stepId, shownOhm: 0 })).toBe('HAND_TOO_LOW');
  });

  it('starts a gauge that nobody knows at 1 kohm or more, goes down by half at most, and stops at full scale', async () => {
    const parts = [1_500, 1_000, 680, 470, 330, 220, 150, 100, 68, 47, 33, 22, 15].map((resistanceOhm) => ({
      resistanceOhm,
      ratingWatt: 10,
      count: 1,
    }));
    const t = await bench(nobodyKnows);
    await t.do(start({ ...resistors, tools: { way: 'resistors', parts } }));
    expect(await t.refused({ kind: 'put-on', stepId: stepNow(t).stepId, shownOhm: 300 })).toBe(
      'HAND_TOO_LOW',
    );
    const put: number[] = [];
    const scale = known.marks.map(({ reading }) => reading);
    while (stepNow(t).why === 'plan') {
      const { stepId, aim } = stepNow(t);
      const ohm = aim.kind === 'resistance' ? aim.resistanceOhm : NaN;
      put.push(ohm);
      const needle = Math.min(Math.max(...scale), Math.max(Math.min(...scale), coolantReading(ohm)));
      await t.do({ kind: 'put-on', stepId, shownOhm: ohm + 0.3 });
      await t.asked();
      await t.do({ kind: 'give-reading', stepId, reading: needle });
      await t.pass(10);
    }
    expect(put[0]).toBeGreaterThanOrEqual(1_000);
    put.slice(1).forEach((ohm, index) => expect(ohm).toBeGreaterThanOrEqual(put[index]! / 2));
    // 22 ohm is the end of this dial: the first that is there or beyond it is the last.
    expect(coolantReading(put.at(-1)!)).toBeGreaterThanOrEqual(Math.max(...scale) * 0.98);
    expect(coolantReading(put.at(-2)!)).toBeLessThan(Math.max(...scale) * 0.98);
  });

  it('takes no other ohms than were asked for where nobody knows the gauge: a slip would go too far', async () => {
    const t = await bench(nobodyKnows);
    const parts = [1_000, 560, 330].map((resistanceOhm) => ({ resistanceOhm, ratingWatt: 5, count: 1 }));
    await t.do(start({ ...resistors, tools: { way: 'resistors', parts } }));
    await putAndRead(t);
    await t.pass(10);
    const { stepId } = stepNow(t);
    expect(await t.refused({ kind: 'put-on', stepId, shownOhm: 820 })).toBe('HAND_OTHER_OHMS');
    expect(await t.refused({ kind: 'put-on', stepId, shownOhm: 56 })).toBe('HAND_TOO_LOW');
  });

  it('takes other ohms of a gauge it knows only where somebody says that they are on', async () => {
    const t = await bench();
    await t.do(start(resistors));
    const { stepId } = stepNow(t);
    // A digit too few, one too many, another part: 330 was asked for, 287 to 380 will do.
    for (const shownOhm of [33.3, 270.3, 3_303])
      expect(await t.refused({ kind: 'put-on', stepId, shownOhm })).toBe('HAND_OTHER_OHMS');
    expect(await t.refused({ kind: 'put-on', stepId, shownOhm: 10, isOtherMeant: true })).toBe(
      'HAND_TOO_LOW',
    );
    await t.do({ kind: 'put-on', stepId, shownOhm: 220.3, isOtherMeant: true });
    await t.asked();
    await t.do({ kind: 'give-reading', stepId, reading: coolantReading(220) });
    expect(t.desk.state.readings[0]).toMatchObject({ resistanceOhm: 220 });
  });

  it('takes no other ohms of a gauge that nobody knows, whatever is said', async () => {
    const t = await bench(nobodyKnows);
    const parts = [1_000, 560, 330].map((resistanceOhm) => ({ resistanceOhm, ratingWatt: 5, count: 1 }));
    await t.do(start({ ...resistors, tools: { way: 'resistors', parts } }));
    const { stepId } = stepNow(t);
    const other = { kind: 'put-on', stepId, shownOhm: 1_500, isOtherMeant: true } as const;
    expect(await t.refused(other)).toBe('HAND_OTHER_OHMS');
  });

  it('has the first resistance in the drawer, or does not begin', async () => {
    const t = await bench(nobodyKnows);
    expect(await t.refused(start(resistors))).toBe('HAND_NO_HIGH_START');
  });

  it('wants it said that the ignition is off for every clip, in a car', async () => {
    const t = await bench(known, 'car');
    expect(await t.refused(start(resistors))).toBe('CONFIRM_FIRST');
    await t.do({ kind: 'confirm-safety', confirmation: 'hand-ignition-off' });
    expect(await t.refused(start(resistors))).toBe('CONFIRM_FIRST');
    await t.do({ kind: 'confirm-safety', confirmation: 'gauge-sender' });
    expect(await t.refused(start(resistors))).toBe('accepted');
  });

  it('wants a tank closed, and the wire parted at the dash', async () => {
    const t = await bench({ ...known, quantity: 'fuel' }, 'car');
    await t.do({ kind: 'confirm-safety', confirmation: 'hand-ignition-off' });
    expect(await t.refused(start(resistors))).toBe('CONFIRM_FIRST');
    await t.do({ kind: 'confirm-safety', confirmation: 'tank-closed' });
    expect(await t.refused(start(resistors))).toBe('accepted');
  });

  it('asks for nothing below the floor and for nothing that burns, whatever lies in the drawer', async () => {
    const part = fc.record({
      resistanceOhm: fc.double({ min: 1, max: 2_000, noNaN: true }),
      ratingWatt: fc.constantFrom(0.25, 0.5, 1, 5),
      count: fc.integer({ min: 1, max: 2 }),
    });
    const t = await bench();
    await fc.assert(
      fc.asyncProperty(fc.array(part, { minLength: 1, maxLength: 8 }), async (parts) => {
        const result = await t.desk.submit(start({ ...resistors, tools: { way: 'resistors', parts } }), ME);
        if (result.kind === 'refused') {
          expect(result.code).toBe('HAND_TOO_FEW');
          return;
        }
        const sweep = runningSweep(t.desk.state);
        for (const { aim } of sweep?.steps ?? [])
          expect(aim.kind === 'resistance' && aim.resistanceOhm).toBeGreaterThanOrEqual(22 * 0.9995);
        await t.do({ kind: 'finish-sweep' });
      }),
      { numRuns: 25 },
    );
  });

  it('asks a thermal needle for fifteen minutes of waiting on a rising leg, thirty on both', async () => {
    const MINUTE_MS = 60_000;
    for (const hand of [resistors, potentiometer]) {
      const t = await bench();
      await t.do(start(hand));
      const [sweep] = t.desk.state.sweeps;
      const minutesOf = (leg: 'up' | 'down'): number =>
        ((sweep?.steps.filter((step) => step.leg === leg).length ?? NaN) * (sweep?.settleMs ?? NaN)) /
        MINUTE_MS;
      expect(sweep?.settleMs).toBe(MINUTE_MS);
      expect(minutesOf('up')).toBeLessThanOrEqual(15);
      expect(minutesOf('up') + minutesOf('down')).toBeLessThanOrEqual(30);
    }
  });

  it('knows no hand in a sweep of the box', async () => {
    const t = await bench();
    await t.do({ kind: 'start-sweep', choice: { mode: 'step-and-read', refinements: 0 } });
    expect(await t.refused({ kind: 'put-on', stepId: 'w1s1', shownOhm: 100 })).toBe('NOT_BY_HAND');
    expect(await t.refused({ kind: 'give-ohms', stepId: 'w1s1', shownOhm: 100 })).toBe('NOT_BY_HAND');
  });
});

describe('a table that was measured elsewhere', () => {
  const rows = [330, 150, 68, 33].map((resistanceOhm, index) => ({
    row: index + 2,
    resistanceOhm,
    reading: Math.round(coolantReading(resistanceOhm)),
  }));

  it('becomes a sweep that is finished, with the leg that its order tells', async () => {
    const t = await bench();
    const back = rows.map((each) => ({ ...each, row: each.row + 4 })).reverse();
    await t.do({
      kind: 'import-readings',
      from: 'bench.csv',
      readings: [...rows, ...back.slice(1)],
      ohmmeter: meter,
    });
    const { readings, sweeps } = t.desk.state;
    expect(readings.map(({ leg }) => leg)).toEqual(['up', 'up', 'up', 'up', 'down', 'down', 'down']);
    expect(readings[0]).toMatchObject({ resistanceOhm: 329.7, source: 'hand', waitedMs: 0 });
    expect(sweeps[0]).toMatchObject({ fromTable: 'bench.csv', status: { kind: 'finished', complete: true } });
  });

  it('is refused while a sweep is open, and with the row that is off the dial', async () => {
    const t = await bench();
    const off = [...rows, { row: 9, resistanceOhm: 22, reading: 1_200 }];
    const result = await t.desk.submit({ kind: 'import-readings', from: 'pasted', readings: off }, ME);
    expect(result).toMatchObject({ kind: 'refused', code: 'READING_OFF_SCALE' });
    expect(JSON.stringify(result)).toContain('Row 9');
    await t.do(start(resistors));
    expect(await t.refused({ kind: 'import-readings', from: 'pasted', readings: rows })).toBe(
      'SWEEP_RUNNING',
    );
  });
});
