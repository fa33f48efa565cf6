import { describe, expect, it } from 'vitest';
import type { Human } from '../../host/bench';
import { angleOfReading } from '../../host/bench/people/simulated-operator';
import { countedReadings, legGap, type SweepChoice } from '../../host/job';
import { isDeep } from '../support/deep';
import { scratchFolder } from '../store/scratch';
import { fiveGauges, gaugeNamed, jobGauge, SimulatedBench, truth } from './simulated-bench';
import { sweepFigures } from './sweep-figures';

/** Sees everything, so that what is left is the gauge's own. */
const steadyHand: Human = {
  parallaxFraction: 0,
  lookFraction: 0,
  slipProbability: 0,
  interpolatesTo: 1e-6,
  reactionMs: 0,
};
/** A needle that creeps and one with play; the soak takes the other three as well. */
const gauges = fiveGauges.filter(
  (name) => isDeep || name === 'thermal-temperature' || name === 'two-coil-fuel',
);
const stepAndRead = { mode: 'step-and-read' } as const;

describe('a sweep of the real firmware in a simulated vehicle', () => {
  it.each(gauges)(
    '%s: a simulated person reads what the needle shows, within what a person errs',
    async (name) => {
      const { desk } = await sweepFigures(name, await scratchFolder(), { choice: stepAndRead, seed: 5 });
      expect(desk.state.sweeps[0]?.status).toEqual({ kind: 'finished', complete: true });
      expect(desk.state.simulated).toBe(true);
      const gauge = desk.state.gauge;
      const readings = countedReadings(desk.state);
      expect(readings.length).toBeGreaterThanOrEqual(14); // 6 up, 6 down, 2 repeats, and refinements
      const { frictionFraction } = gaugeNamed(name).mechanism;
      const slips = readings.filter(({ reading, resistanceOhm }) => {
        const shown = truth(gaugeNamed(name), resistanceOhm);
        // Half of a tenth of the gap between marks, the play, and three times parallax, look and scatter.
        const halfStep = Math.abs(angleOfReading(gauge, reading) - angleOfReading(gauge, shown));
        return halfStep > frictionFraction + 3 * Math.hypot(0.003, 0.003, 0.001) + 0.05 * 0.42;
      });
      expect(slips.length).toBeLessThanOrEqual(1);
      // What the meter measured agrees with what the box says it made: 3 standard uncertainties and the meter's own 0.1 %.
      for (const { measuredOhm, resistanceOhm, uncertaintyOhm } of readings) {
        expect(Math.abs((measuredOhm ?? NaN) - resistanceOhm)).toBeLessThan(
          3 * uncertaintyOhm + 1e-3 * resistanceOhm,
        );
      }
    },
  );

  it.each(gauges)(
    '%s: with a steady hand the curve is the truth within two parts in a hundred of the span',
    async (name) => {
      const choice = { mode: 'step-and-read', pointCount: 10 } as const;
      const figures = await sweepFigures(name, await scratchFolder(), { choice, seed: 8, human: steadyHand });
      expect(figures.worstErrorPercent).toBeLessThan(name === 'electronic-temperature' ? 6 : 2);
    },
  );

  it('sees the play of a two-coil gauge as a difference between the legs', async () => {
    const choice = { mode: 'step-and-read', refinements: 0 } as const;
    const { desk } = await sweepFigures('two-coil-fuel', await scratchFolder(), {
      choice,
      seed: 4,
      human: steadyHand,
    });
    const arcOf = ({ reading }: { reading: number }) => angleOfReading(desk.state.gauge, reading);
    const downs = countedReadings(desk.state).filter(
      ({ leg, atStop }) => leg === 'down' && atStop === undefined,
    );
    const gaps = downs.flatMap((down) =>
      countedReadings(desk.state)
        .filter((up) => up.leg === 'up' && up.resistanceOhm === down.resistanceOhm && up.atStop === undefined)
        .map((up) => arcOf(down) - arcOf(up)),
    );
    // The needle follows only what exceeds 1 % of the arc to either side: 2 % between the legs, but for its scatter.
    expect(gaps.length).toBeGreaterThanOrEqual(4);
    expect(gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length).toBeCloseTo(0.02, 2);
    expect(legGap(desk.state)?.gap).toBeGreaterThan(0);
  });

  it.each(['step-and-read', 'seek'] as const)(
    'goes down to full on the battery pulses of a fuel gauge, and no lower than its own sender: %s',
    async (mode) => {
      const { desk } = await sweepFigures('thermal-fuel', await scratchFolder(), {
        choice: { mode },
        seed: 5,
      });
      expect(desk.state.sweeps[0]?.status).toEqual({ kind: 'finished', complete: true });
      expect(desk.state.sweeps[0]?.originalLeastOhm).toBe(10);
      const ohms = countedReadings(desk.state).map(({ resistanceOhm }) => resistanceOhm);
      expect(Math.min(...ohms)).toBeLessThan(12);
      expect(Math.min(...ohms)).toBeGreaterThan(9.3);
      // Between two pulses a setting waits with the limiter's 47 ohm: that is not what the needle is read at.
      for (const { measuredOhm, resistanceOhm } of countedReadings(desk.state))
        if (measuredOhm !== undefined)
          expect(Math.abs(measuredOhm - resistanceOhm)).toBeLessThan(0.5 + 0.005 * resistanceOhm);
      expect(Math.max(...ohms)).toBeLessThan(80);
    },
  );

  it('stops a fuel gauge at a quarter of an ampere until somebody says what its own sender has, and says so', async () => {
    const { family: _family, ...unsaid } = jobGauge('thermal-fuel');
    const few = { mode: 'step-and-read', pointCount: 3, legs: 'up', repeats: 0, refinements: 0 } as const;
    const swept = async (choice: SweepChoice) => {
      const simulated = new SimulatedBench('thermal-fuel', { seed: 5 });
      const desk = await simulated.sweep(await scratchFolder(), unsaid, { choice, seed: 5 });
      return desk.state.sweeps[0];
    };
    const stopped = await swept(few);
    const { status } = stopped ?? {};
    expect(status?.kind === 'paused' ? status.reason : status?.kind).toContain(
      "say what the vehicle's own sender has",
    );
    const said = await swept({ ...few, fromOhm: 73, toOhm: 10 });
    expect(said).toMatchObject({ originalLeastOhm: 10, status: { kind: 'finished', complete: true } });
  });

  it('finds every mark of a thermal gauge by seeking', async () => {
    const { desk } = await sweepFigures('thermal-temperature', await scratchFolder(), {
      choice: { mode: 'seek' },
      seed: 6,
    });
    const found = countedReadings(desk.state);
    expect(found.length).toBeGreaterThanOrEqual(8); // five marks up, four down; the outermost may lie beyond the play
    for (const { reading, resistanceOhm } of found) {
      const wrong = angleOfReading(desk.state.gauge, truth(gaugeNamed('thermal-temperature'), resistanceOhm));
      expect(Math.abs(wrong - angleOfReading(desk.state.gauge, reading))).toBeLessThan(0.03);
    }
  });
});
