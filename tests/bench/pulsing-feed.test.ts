import { describe, expect, it } from 'vitest';
import { opening, testBench, type TestBench } from './setup';

/** 10 V in whole pulses, half of the time: the mean is 5 V; what heats is 10 / sqrt 2 = 7.07 V. Source: mean square. */
const HALF = { periodMs: 1_000, onPart: 0.5 } as const;
const SUPPLY_VOLT = 10;
const GAUGE_OHM = 60;
const heatVoltAt = (ohm: number): number => (SUPPLY_VOLT * Math.SQRT1_2 * ohm) / (GAUGE_OHM + ohm);

const onPulses = async (): Promise<TestBench> => {
  const t = await testBench(undefined, opening);
  t.box.pulses = HALF;
  const choice = { mode: 'step-and-read', resistancesOhm: [100, 50], legs: 'up', repeats: 0 } as const;
  await t.do({ kind: 'start-sweep', choice: { ...choice, resistancesOhm: [...choice.resistancesOhm] } });
  return t;
};

describe('a feed that pulses', () => {
  it('is called pulsing and told by what it heats like, never by the volts of one instant', async () => {
    const t = await onPulses();
    await t.asked();
    const seen = new Set<string>();
    for (let look = 0; look < 40; look += 1) {
      await t.pass(130);
      const { output } = t.desk.live;
      expect(output.pulsing).toBe(true);
      expect(output.volt).toBeUndefined();
      seen.add(`${output.heatVolt?.toFixed(2)} V ${output.milliamp?.toFixed(1)} mA`);
      expect(output.watt).toBeCloseTo((output.heatVolt ?? NaN) ** 2 / (output.madeOhm ?? NaN), 3);
    }
    // Forty looks at every phase of the pulses, and one answer.
    const ohm = t.desk.live.output.madeOhm ?? NaN;
    expect([...seen]).toEqual([
      `${heatVoltAt(ohm).toFixed(2)} V ${((1000 * heatVoltAt(ohm)) / ohm).toFixed(1)} mA`,
    ]);
  });

  it('never tells the heat of the resistance before as that of the present one', async () => {
    const t = await onPulses();
    await t.asked();
    await t.pass(4_000);
    const [first] = t.box.driven.slice(-1);
    await t.read();
    const told = new Set<number>();
    for (let look = 0; look < 40 && told.size < 3; look += 1) {
      await t.pass(60);
      const { madeOhm, heatVolt } = t.desk.live.output;
      if (madeOhm === undefined || madeOhm === first || heatVolt === undefined) continue;
      told.add(heatVolt);
      expect(heatVolt).toBeCloseTo(heatVoltAt(madeOhm), 2);
    }
    expect(told.size).toBeGreaterThan(0);
  });

  it('keeps beside a reading the current that heats, whatever the pulse is at when it is given', async () => {
    const t = await onPulses();
    for (const lateMs of [0, 370]) {
      await t.asked();
      // Two questions of the box later its answer is there.
      await t.pass(4_000 + lateMs);
      await t.read();
    }
    for (const { resistanceOhm, currentMilliamp, supplyVolt } of t.desk.state.readings) {
      expect(currentMilliamp).toBeCloseTo((1000 * heatVoltAt(resistanceOhm)) / resistanceOhm, 1);
      expect(supplyVolt).toBeUndefined();
    }
    expect(t.desk.state.readings).toHaveLength(2);
  });

  it('keeps ohms and uncertainty of what is made, not of the limiter that was in the path until the next pulse', async () => {
    for (const lateMs of [0, 250, 500, 750]) {
      const t = await testBench(undefined, opening);
      t.box.pulses = { periodMs: 1_000, onPart: 0.125 };
      await t.pass(lateMs);
      await t.do({
        kind: 'start-sweep',
        choice: { mode: 'step-and-read', resistancesOhm: [100, 50], legs: 'up', repeats: 0 },
      });
      await t.asked();
      await t.read();
      await t.asked();
      await t.read();
      for (const { resistanceOhm, uncertaintyOhm } of t.desk.state.readings) {
        expect(resistanceOhm).toBeLessThan(101);
        expect(uncertaintyOhm, `${lateMs} ms later, ${resistanceOhm} ohm`).toBe(0.05);
      }
      expect(t.desk.state.readings).toHaveLength(2);
    }
  });

  it('is read between two pulses, however slow they are, and not once none comes any more', async () => {
    // A tired bimetal stabiliser: two seconds a beat, a quarter of it on.
    for (const lateMs of [0, 500, 1_000, 1_500]) {
      const t = await testBench(undefined, opening);
      t.box.pulses = { periodMs: 2_000, onPart: 0.25 };
      const choice = { mode: 'step-and-read', resistancesOhm: [100, 50], legs: 'up', repeats: 0 } as const;
      await t.do({ kind: 'start-sweep', choice: { ...choice, resistancesOhm: [...choice.resistancesOhm] } });
      await t.asked();
      await t.pass(4_000 + lateMs);
      const stepId = await t.asked();
      // The box goes on calling it pulsing as long as its window holds the last pulse.
      t.box.isFed = false;
      await t.pass(3_000);
      expect(await t.refused({ kind: 'give-reading', stepId, reading: 60 })).toBe('NO_CURRENT');
      t.box.isFed = true;
      await t.pass(4_000);
      await t.read();
      expect(t.desk.state.readings).toHaveLength(1);
    }
  });

  it('is told by its volts again once it stands still', async () => {
    const t = await onPulses();
    await t.asked();
    t.box.pulses = undefined;
    await t.pass(6_000);
    const { output } = t.desk.live;
    expect(output.pulsing).toBeUndefined();
    expect(output.volt).toBeCloseTo(
      (SUPPLY_VOLT * (output.madeOhm ?? NaN)) / (GAUGE_OHM + (output.madeOhm ?? NaN)),
      2,
    );
  });
});
