import { describe, expect, it } from 'vitest';
import { countedReadings } from '../../host/job';
import { scratchFolder } from '../store/scratch';
import { fiveGauges, gaugeNamed, jobGauge, SimulatedBench, truth } from './simulated-bench';

describe('a sweep of the real firmware in a simulated vehicle, by a simulated person', () => {
  it.each(fiveGauges)(
    '%s: every reading is what the needle showed, within what a person can err',
    async (name) => {
      const simulated = new SimulatedBench(name, { seed: 3 });
      const choice = { mode: 'step-and-read' } as const;
      const desk = await simulated.sweep(await scratchFolder(), jobGauge(name), { choice, seed: 5 });
      const [sweep] = desk.state.sweeps;
      expect(sweep?.status).toEqual({ kind: 'finished', complete: true });
      expect(desk.state.simulated).toBe(true);
      const readings = countedReadings(desk.state);
      expect(readings.length).toBeGreaterThanOrEqual(13);
      console.table(
        readings.map((r) => ({
          ohm: r.resistanceOhm,
          measured: r.measuredOhm,
          u: r.uncertaintyOhm,
          r: r.reading,
          truth: truth(gaugeNamed(name), r.resistanceOhm),
          leg: r.leg,
          stop: r.atStop,
        })),
      );
    },
  );
});
