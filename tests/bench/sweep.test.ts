import { describe, expect, it } from 'vitest';
import { countedReadings, curveReadings, legGap, runningSweep, type SweepChoice } from '../../host/job';
import { quantity } from '../../host/job/schema/gauge';
import { coolantReading, ME, opening, slowThermal, testBench } from './setup';

const stepSweep = { kind: 'start-sweep', choice: { mode: 'step-and-read', refinements: 0 } } as const;

describe('a step-and-read sweep', () => {
  it('reads both legs and the repeats, each point approached from its leg, and ends with the output open', async () => {
    const t = await testBench();
    await t.do(stepSweep);
    for (let step = 0; step < 14; step += 1) await t.read();
    await t.pass(1_000);
    expect(t.desk.state.sweeps[0]?.status).toEqual({ kind: 'finished', complete: true });
    expect(t.box.isOpen).toBe(true);
    const readings = countedReadings(t.desk.state);
    expect(readings).toHaveLength(14); // 6 up, the turn again, 5 down, 2 repeats
    for (const { leg, reading, resistanceOhm } of readings) {
      // After 60 s of an 8 s lag nothing is left of the way but the play: 0.5 below on the way up, above on the way down.
      expect(reading - coolantReading(resistanceOhm)).toBeCloseTo(leg === 'up' ? -0.5 : 0.5, 1);
    }
    expect(legGap(t.desk.state)?.gap).toBeCloseTo(1, 1);
  });

  it('asks only after the needle of this kind of gauge has had its time', async () => {
    const t = await testBench();
    await t.do(stepSweep);
    await t.pass(59_000);
    expect(t.waiting).toMatchObject({ kind: 'settling', settleMs: 60_000, currentSettled: true });
    expect(await t.refused({ kind: 'give-reading', stepId: 'w1s1', reading: 50 })).toBe('NOT_SETTLED');
    await t.asked(5_000);
    await t.do({ kind: 'give-reading', stepId: 'w1s1', reading: 50 });
    expect(t.desk.state.readings[0]?.waitedMs).toBeGreaterThanOrEqual(60_000);
  });

  it('states the resistance the box made, not the one that was wished for', async () => {
    const t = await testBench();
    await t.do(stepSweep);
    await t.read();
    const [reading] = t.desk.state.readings;
    expect(t.box.driven).toContain(reading?.resistanceOhm);
    expect(reading?.measuredOhm).toBe(reading?.resistanceOhm);
    expect(reading?.uncertaintyOhm).toBe(0.05);
  });

  it('goes back to a step whose reading was taken back, and keeps the struck reading', async () => {
    const t = await testBench();
    await t.do(stepSweep);
    const first = await t.read();
    const second = await t.read();
    await t.do({ kind: 'undo' });
    expect(await t.asked()).toBe(second);
    await t.read();
    const [reading] = t.desk.state.readings;
    await t.do({ kind: 'strike-reading', readingId: reading?.readingId ?? '', reason: 'lights were on' });
    await t.do({ kind: 'repeat-step', stepId: first });
    const again = await t.asked();
    expect(t.desk.state.sweeps[0]?.steps.find((step) => step.stepId === again)).toMatchObject({
      why: 'repeat',
    });
    expect(curveReadings(t.desk.state)).toHaveLength(1);
    expect(t.desk.state.readings).toHaveLength(2);
  });

  it('waits again when the person says that the needle still moves', async () => {
    const t = await testBench();
    await t.do(stepSweep);
    const stepId = await t.asked();
    await t.do({ kind: 'wait-longer', stepId });
    await t.pass(1_000);
    expect(t.waiting.kind).toBe('settling');
    expect(await t.asked()).toBe(stepId);
  });

  it('adds points where the curve bends, as many as it may, and then ends', async () => {
    const bent = {
      ...slowThermal,
      restAt: (ohm: number | undefined) => ((ohm ?? 999) > 80 ? 55 : 55 + (80 - (ohm ?? 0))),
    };
    const t = await testBench(bent);
    await t.do({ kind: 'start-sweep', choice: { mode: 'step-and-read', refinements: 3, repeats: 0 } });
    for (let step = 0; step < 12 + 3 * 2; step += 1) await t.read();
    await t.pass(1_000);
    expect(runningSweep(t.desk.state)).toBeUndefined();
    const added =
      t.desk.state.sweeps[0]?.steps.filter((step) => step.why === 'edge' || step.why === 'refine') ?? [];
    expect(added).toHaveLength(6);
    for (const { aim } of added) {
      const ohm = aim.kind === 'resistance' ? aim.resistanceOhm : 0;
      expect(ohm > 22 && ohm < 200).toBe(true);
    }
  });

  it('leaves out a step that is skipped', async () => {
    const t = await testBench();
    await t.do(stepSweep);
    const stepId = await t.asked();
    await t.do({ kind: 'skip-step', stepId, reason: 'cannot see the needle' });
    expect(await t.asked()).not.toBe(stepId);
  });
});

describe('what must be said before the output closes', () => {
  const inCar = { ...opening, place: 'car' as const };

  it.each(quantity.options)(
    'in a car, %s gauge: the leads were connected with the ignition off',
    async (each) => {
      const t = await testBench(slowThermal, { ...inCar, gauge: { ...opening.gauge, quantity: each } });
      if (each === 'fuel') await t.do({ kind: 'confirm-safety', confirmation: 'fuel-dash-end' });
      const refused = await t.desk.submit(stepSweep, ME);
      expect(refused.kind === 'refused' ? refused.message : '').toContain('Confirm "connected-ignition-off"');
      await t.pass(10_000);
      expect(t.box.requests).toEqual([]);
      await t.do({ kind: 'confirm-safety', confirmation: 'connected-ignition-off' });
      if (each === 'temperature' || each === 'pressure') {
        expect(await t.refused(stepSweep)).toBe('CONFIRM_FIRST');
        await t.do({ kind: 'confirm-safety', confirmation: 'gauge-sender' });
      }
      await t.do(stepSweep);
      await t.asked();
    },
  );

  it('in a car, a sweep that goes on too: the box may have been moved there from a bench', async () => {
    const t = await testBench();
    await t.do(stepSweep);
    await t.read();
    await t.do({ kind: 'pause-sweep' });
    await t.do({ kind: 'change-job', place: 'car' });
    expect(await t.refused({ kind: 'resume-sweep' })).toBe('CONFIRM_FIRST');
    await t.do({ kind: 'confirm-safety', confirmation: 'connected-ignition-off' });
    await t.do({ kind: 'confirm-safety', confirmation: 'gauge-sender' });
    await t.do({ kind: 'resume-sweep' });
    await t.asked();
  });

  it('on a fuel job in a car: tank closed, dash end, connected with the ignition off', async () => {
    const fuel = { ...inCar, gauge: { ...opening.gauge, quantity: 'fuel' as const } };
    const t = await testBench(slowThermal, fuel);
    expect(await t.refused(stepSweep)).toBe('CONFIRM_FIRST');
    await t.do({ kind: 'confirm-safety', confirmation: 'connected-ignition-off' });
    expect(await t.refused(stepSweep)).toBe('CONFIRM_FIRST');
    await t.do({ kind: 'confirm-safety', confirmation: 'fuel-dash-end' });
    expect(t.box.driven).toEqual([]);
    await t.do(stepSweep);
    await t.asked();
    expect(t.desk.events.filter((event) => event.kind === 'safety-confirmed')).toHaveLength(2);
  });

  it('said twice by one hand it stands once; by another person it is said again, and after a break too', async () => {
    const fuel = { ...inCar, gauge: { ...opening.gauge, quantity: 'fuel' as const } };
    const t = await testBench(slowThermal, fuel);
    const say = (by?: string) => t.do({ kind: 'confirm-safety', confirmation: 'fuel-dash-end' }, by);
    const said = (): number => t.kinds().filter((kind) => kind === 'safety-confirmed').length;
    await Promise.all([say(), say()]);
    expect(said()).toBe(1);
    await say('phone');
    expect(said()).toBe(2);
    t.clock.jump(t.clock.nowMs() + 3 * 3_600_000);
    await say('phone');
    expect(said()).toBe(3);
    await Promise.all([1, 2].map(() => t.do({ kind: 'say-fitted', fitted: 'nothing' })));
    expect(t.kinds().filter((kind) => kind === 'network-fitted')).toHaveLength(1);
  });

  it('on a gauge nobody knows: it ramps down from high resistance, never below half at a time', async () => {
    const unknown = { ...opening, gauge: { ...opening.gauge, mechanism: 'unknown' as const } };
    const t = await testBench(slowThermal, unknown);
    t.box.rampPermille = 500;
    await t.do({ kind: 'confirm-safety', confirmation: 'mechanism-unknown' });
    await t.do(stepSweep);
    for (let step = 0; step < 6; step += 1) await t.read();
    t.box.driven
      .slice(1)
      .forEach((ohm, index) => expect(ohm).toBeGreaterThanOrEqual((t.box.driven[index] ?? 0) / 2));
    expect(t.box.driven[0]).toBeGreaterThanOrEqual(2_000);
  });

  it('on a gauge nobody knows: lying on its stop, it is not driven to less resistance', async () => {
    const unknown = { ...opening, gauge: { ...opening.gauge, mechanism: 'unknown' as const } };
    const t = await testBench(slowThermal, unknown);
    await t.do({ kind: 'confirm-safety', confirmation: 'mechanism-unknown' });
    await t.do(stepSweep);
    await t.read();
    await t.read();
    const stepId = await t.asked();
    const reached = t.desk.live.output.madeOhm ?? 0;
    await t.do({ kind: 'give-reading', stepId, reading: 120, atStop: 'high' });
    await t.pass(200_000);
    expect(Math.min(...t.box.driven)).toBeGreaterThanOrEqual(reached);
  });

  it('below the floor of a thermal gauge: the word first, then a few seconds only', async () => {
    const t = await testBench();
    const choice: SweepChoice = {
      mode: 'step-and-read',
      resistancesOhm: [4, 100],
      legs: 'down',
      repeats: 0,
      refinements: 0,
    };
    await t.do({ kind: 'start-sweep', choice });
    await t.pass(10_000);
    expect(t.desk.state.sweeps[0]?.status).toMatchObject({ kind: 'paused' });
    expect(t.box.driven).toEqual([]);
    await t.do({ kind: 'confirm-safety', confirmation: 'low-resistance' });
    await t.do({ kind: 'resume-sweep' });
    expect(await t.asked(3_000)).toBe('w1s1');
    const waiting = t.waiting;
    expect(waiting.kind === 'answer' ? waiting.mustEndInMs : undefined).toBeLessThanOrEqual(5_000);
    await t.pass(5_000);
    expect(Math.min(...t.box.driven)).toBeLessThan(5);
    expect(t.desk.live.output.madeOhm ?? Infinity).toBeGreaterThan(8);
    expect(t.desk.state.sweeps[0]?.steps[0]?.state.kind).toBe('skipped');
  });
});

describe('a sweep without a current', () => {
  it('pauses and asks about the ignition instead of waiting for ever', async () => {
    const t = await testBench();
    t.box.isFed = false;
    await t.do(stepSweep);
    await t.pass(20_000);
    const [sweep] = t.desk.state.sweeps;
    expect(sweep?.status).toMatchObject({ kind: 'paused' });
    expect(JSON.stringify(sweep?.status)).toContain('ignition');
    expect(t.box.isOpen).toBe(true);
    expect(t.desk.state.attending).toBe(ME);
  });
});
