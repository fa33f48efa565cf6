import type { Human, JobDesk } from '../../host/bench';
import { angleOfReading } from '../../host/bench/operator';
import { fitCurve, readingAt } from '../../host/core/curve';
import { curveReadings, scaleOf, type SweepChoice } from '../../host/job';
import { gaugeNamed, jobGauge, SimulatedBench, trueAngle, truth } from './simulated-bench';

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
  /** The same sweep fitted on the arc instead of in dial units: worst error, and part of the range covered. */
  readonly worstArcPercent: number;
  readonly arcCoveredFraction: number;
  readonly unit: string;
  readonly desk: JobDesk;
};

const LOOKS = 200;

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
  const { lowest, highest, span } = scaleOf(gauge.marks);
  const curve = fitCurve(curveReadings(desk.state), {
    quantity: gauge.quantity,
    unit: gauge.unit,
    scale: { lowest, highest },
    readingStep: gauge.divisionReading! / 2,
  });
  if (curve.kind === 'refused') throw new Error(`${name}: ${curve.message}`);
  const onArc = fitCurve(
    curveReadings(desk.state).map((each) => ({
      ...each,
      reading: 100 * angleOfReading(gauge, each.reading),
    })),
    { quantity: 'other', unit: '% of arc', scale: { lowest: 0, highest: 100 } },
  );
  if (onArc.kind === 'refused') throw new Error(`${name}: ${onArc.message}`);
  const ends = [gauge.family!.lowEndOhm, gauge.family!.highEndOhm];
  const [from, to] = [Math.min(...ends), Math.max(...ends)];
  const looks = Array.from({ length: LOOKS }, (_, index) => from * (to / from) ** (index / (LOOKS - 1))).map(
    (ohm) => {
      const predicted = readingAt(curve, ohm);
      if (predicted.kind === 'refused') throw new Error(`${name}: ${predicted.message}`);
      const error = predicted.reading - truth(gaugeNamed(name), ohm);
      const predictedArc = readingAt(onArc, ohm);
      if (predictedArc.kind === 'refused') throw new Error(`${name}: ${predictedArc.message}`);
      const arcError = predictedArc.reading - 100 * trueAngle(gaugeNamed(name), ohm);
      const isArcCovered = Math.abs(arcError) <= predictedArc.expandedUncertainty;
      return { error, isCovered: Math.abs(error) <= predicted.expandedUncertainty, arcError, isArcCovered };
    },
  );
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
    worstArcPercent: Math.max(...looks.map(({ arcError }) => Math.abs(arcError))),
    arcCoveredFraction: looks.filter(({ isArcCovered }) => isArcCovered).length / LOOKS,
    unit: gauge.unit,
    desk,
  };
};
