import {
  neighbourVerdict,
  suspectOf,
  type NeighbourCell,
  type NeighbourVerdict,
  type Suspect,
} from '../../core/cluster';
import { fitCurve, marksOf, type GaugeCurve } from '../../core/curve';
import type { Refusal } from '../../core/refusal';
import type { NeighbourSaid } from '../schema/cluster-events';
import type { ClusterState } from './cluster-state';
import { curveOptionsOf } from './curve-options';
import { sharedOhmsOf } from './shared-ohms';
import type { JobState } from './state';
import { countedReadings, curveReadings } from './views';

export type Neighbours = {
  readonly cells: readonly NeighbourCell[];
  readonly verdict: NeighbourVerdict;
  readonly suspect: Suspect | undefined;
};

const cellsOf = (said: readonly NeighbourSaid[]): readonly NeighbourCell[] =>
  said.map(({ movedJobId, watchedJobId, percentOfArc, uPercent, commonOhm, groundOhm }) => ({
    movedId: movedJobId,
    watchedId: watchedJobId,
    percentOfArc,
    uPercent,
    commonOhm,
    ...(groundOhm === undefined ? {} : { groundOhm }),
  }));

/** What the gauges do to each other; undefined while nobody has measured it. */
export function neighboursOf({ neighbours }: Pick<ClusterState, 'neighbours'>): Neighbours | undefined {
  if (neighbours.length === 0) return undefined;
  const cells = cellsOf(neighbours);
  return { cells, verdict: neighbourVerdict(cells), suspect: suspectOf(cells) };
}

export type ConditionMark = {
  readonly reading: number;
  readonly resistanceOhm: number;
  readonly expandedUncertaintyOhm: number;
};

/** A gauge as it was found, or as it was left. */
export type GaugeCondition = { readonly readings: number; readonly marks: readonly ConditionMark[] };

/** The job with the readings of one condition alone; undefined where nothing was measured in it. */
export function jobIn(job: JobState, state: 'as-found' | 'as-left'): JobState | undefined {
  const steps = new Set(
    job.sweeps
      .filter((sweep) => sweep.state === state)
      .flatMap(({ steps: all }) => all.map(({ stepId }) => stepId)),
  );
  const readings = job.readings.filter(({ stepId }) => stepId !== undefined && steps.has(stepId));
  return readings.some(({ struckBecause }) => struckBecause === undefined) ? { ...job, readings } : undefined;
}

/** What a curve of one condition's readings says at the marks. */
export const conditionFrom = (job: JobState, curve: GaugeCurve | Refusal): GaugeCondition => ({
  readings: countedReadings(job).length,
  marks:
    curve.kind === 'refused'
      ? []
      : marksOf(
          curve,
          job.gauge.marks.map(({ reading }) => reading),
        ).map(({ reading, resistanceOhm, expandedUncertaintyOhm }) => ({
          reading,
          resistanceOhm,
          expandedUncertaintyOhm,
        })),
});

/** Ohms at the marks from the sweeps of one condition alone; undefined where nothing was measured in it. */
export function conditionOf(job: JobState, state: 'as-found' | 'as-left'): GaugeCondition | undefined {
  const inIt = jobIn(job, state);
  if (inIt === undefined) return undefined;
  const ohms = sharedOhmsOf(inIt);
  const options = {
    ...curveOptionsOf(job.gauge),
    ...(ohms === undefined ? {} : { resistanceUncertainty: ohms }),
  };
  return conditionFrom(inIt, fitCurve(curveReadings(inIt), options));
}

/** Percent by which the measured ohms of a gauge's ends are off its family's, the worse of the two; undefined: unknown. */
export function worstPercentOf(
  { gauge }: Pick<JobState, 'gauge'>,
  condition: GaugeCondition | undefined,
): number | undefined {
  const { family, marks } = gauge;
  const [first, last] = [marks[0], marks.at(-1)];
  if (condition === undefined || family === undefined || first === undefined || last === undefined)
    return undefined;
  const off = (
    [
      [first.reading, family.lowEndOhm],
      [last.reading, family.highEndOhm],
    ] as const
  ).flatMap(([reading, ohm]) => {
    const mark = condition.marks.find((each) => each.reading === reading);
    return mark === undefined || ohm === 0 ? [] : 100 * Math.abs(mark.resistanceOhm / ohm - 1);
  });
  return off.length === 0 ? undefined : Math.max(...off);
}
