import type { Human, OpenJob } from '../../host/bench';
import { fitCurve, readingAt, type GaugeCurve } from '../../host/core/curve';
import { curveOptionsOf, curveReadings, scaleOf, type Gauge, type SweepChoice } from '../../host/job';
import { gaugeNamed, jobGauge, SimulatedBench, truth } from './simulated-bench';

/** What one whole sweep came to, against what the simulated needle truly does. Errors in the unit of the dial. */
export type SweepFigures = {
  readonly readings: number;
  readonly answers: number;
  readonly minutesOfNeedle: number;
  readonly law: string;
  readonly worstError: number;
  readonly rmsError: number;
  readonly worstErrorPercent: number;
  /** Part of the range in which the truth lies inside the stated expanded uncertainty. */
  readonly coveredFraction: number;
  /** Mean stated expanded uncertainty, part of the span. */
  readonly statedPercent: number;
  readonly unit: string;
  readonly desk: OpenJob;
};

const LOOKS = 200;

/** The curve against the truth at resistances evenly spread (in ln R) over the family. */
const looksAt = (curve: GaugeCurve, name: string, { lowEndOhm, highEndOhm }: NonNullable<Gauge['family']>) =>
  Array.from({ length: LOOKS }, (_, index) => {
    const ohm = lowEndOhm * (highEndOhm / lowEndOhm) ** (index / (LOOKS - 1));
    const predicted = readingAt(curve, ohm);
    if (predicted.kind === 'refused') throw new Error(`${name}: ${predicted.code}`);
    const error = predicted.reading - truth(gaugeNamed(name), ohm);
    const stated = predicted.expandedUncertainty;
    return { ohm, error, stated, isCovered: Math.abs(error) <= stated };
  });

export const sweepFigures = async (
  name: string,
  folder: string,
  how: {
    readonly choice: SweepChoice;
    readonly seed: number;
    readonly needleSpeed?: number;
    readonly human?: Human;
  },
): Promise<SweepFigures> => {
  const simulated = new SimulatedBench(name, how);
  const gauge = jobGauge(name);
  const startMs = simulated.clock.nowMs();
  const desk = await simulated.sweep(folder, gauge, how);
  const needleMs = (simulated.clock.nowMs() - startMs) * (how.needleSpeed ?? 20);
  const { span } = scaleOf(gauge.marks);
  const curve = fitCurve(curveReadings(desk.state), curveOptionsOf(gauge));
  if (curve.kind === 'refused') throw new Error(`${name}: ${curve.code}`);
  const looks = looksAt(curve, name, gauge.family!);
  const worstError = Math.max(...looks.map(({ error }) => Math.abs(error)));
  return {
    readings: curveReadings(desk.state).length,
    answers: desk.events.filter((event) => event.kind === 'reading' || event.kind === 'needle-seen').length,
    minutesOfNeedle: needleMs / 60_000,
    law: curve.law.name,
    worstError,
    rmsError: Math.sqrt(looks.reduce((sum, { error }) => sum + error ** 2, 0) / LOOKS),
    worstErrorPercent: (100 * worstError) / span,
    coveredFraction: looks.filter(({ isCovered }) => isCovered).length / LOOKS,
    statedPercent: (100 * looks.reduce((sum, { stated }) => sum + stated, 0)) / LOOKS / span,
    unit: gauge.unit,
    desk,
  };
};
