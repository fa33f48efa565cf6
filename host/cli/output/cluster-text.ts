import { neighbourVerdict, suspectOf, type NeighbourCell } from '../../core/cluster';
import { fitCurve, marksOf } from '../../core/curve';
import {
  curveOptionsOf,
  curveReadings,
  type ClusterState,
  type JobState,
  type NeighbourSaid,
} from '../../job';
import { significant, textTable } from './text-table';

const VERDICT_WORDS = {
  'none-seen': 'the gauges do not disturb each other',
  small: 'small: it counts in the uncertainty and is printed',
  'too-large': 'too large to sweep freely: one at a time, the others at rest',
  'cannot-tell': 'cannot be told: the feed is too unsteady',
} as const;
const SUSPECT_WORDS = {
  feed: 'in the feed or its stabiliser',
  ground: 'in the common ground',
  both: 'in the feed and in the ground',
  'cannot-tell': 'in the feed or in the ground: cannot be told from here',
} as const;

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
export function neighboursOf(state: ClusterState) {
  if (state.neighbours.length === 0) return undefined;
  const cells = cellsOf(state.neighbours);
  return { cells, verdict: neighbourVerdict(cells), suspect: suspectOf(cells) };
}

const placeOf = (state: ClusterState, jobId: string): string =>
  state.gauges.find((gauge) => gauge.jobId === jobId)?.place ?? jobId;

export const clusterText = (state: ClusterState): string[] => [
  `${state.simulated ? 'SIMULATED ' : ''}cluster ${state.clusterId}: ${state.title}, ${state.vehicle}`,
  ...textTable(
    [{ title: 'place' }, { title: 'box' }, { title: 'job' }],
    state.gauges.map(({ place, boxSerial, jobId }) => [
      place,
      boxSerial === undefined ? 'not said' : String(boxSerial),
      jobId,
    ]),
  ),
];

export function neighbourText(state: ClusterState): string[] {
  const found = neighboursOf(state);
  if (found === undefined) return ['What the gauges do to each other: not measured'];
  const rows = found.cells.map(({ movedId, watchedId, percentOfArc, uPercent, commonOhm }) => [
    placeOf(state, movedId),
    placeOf(state, watchedId),
    `${percentOfArc.toFixed(2)} %`,
    `${(2 * uPercent).toFixed(2)} %`,
    commonOhm.value.toFixed(3),
  ]);
  const { suspect } = found;
  return [
    `What the gauges do to each other: ${VERDICT_WORDS[found.verdict]}`,
    ...textTable(
      [
        { title: 'moved' },
        { title: 'watched' },
        { title: 'of its arc' },
        { title: 'U' },
        { title: 'ohms in common' },
      ],
      rows,
    ),
    ...(suspect === undefined
      ? []
      : [`${suspect.commonOhm.value.toFixed(2)} ohm in common, ${SUSPECT_WORDS[suspect.where]}`]),
  ];
}

export type MarkSaid = {
  readonly reading: number;
  readonly resistance_ohm: number;
  readonly expanded_uncertainty_ohm: number;
};
export type ConditionSaid = { readonly readings: number; readonly marks: readonly MarkSaid[] };

/** Ohms at the marks from the sweeps of one condition alone; undefined where nothing was measured in it. */
export function conditionOf(job: JobState, state: 'as-found' | 'as-left'): ConditionSaid | undefined {
  const steps = new Set(
    job.sweeps
      .filter((sweep) => sweep.state === state)
      .flatMap(({ steps: all }) => all.map(({ stepId }) => stepId)),
  );
  const readings = job.readings.filter(({ stepId }) => stepId !== undefined && steps.has(stepId));
  if (readings.length === 0) return undefined;
  const curve = fitCurve(curveReadings({ ...job, readings }), curveOptionsOf(job.gauge));
  const marks =
    curve.kind === 'refused'
      ? []
      : marksOf(
          curve,
          job.gauge.marks.map(({ reading }) => reading),
        );
  return {
    readings: readings.length,
    marks: marks.map(({ reading, resistanceOhm, expandedUncertaintyOhm }) => ({
      reading,
      resistance_ohm: resistanceOhm,
      expanded_uncertainty_ohm: expandedUncertaintyOhm,
    })),
  };
}

const markText = (mark: MarkSaid | undefined): string =>
  mark === undefined
    ? 'not measured'
    : `${significant(mark.resistance_ohm)} ±${significant(mark.expanded_uncertainty_ohm, 2)}`;

/** One gauge of the sheet: both columns always, "not measured" where so. */
export function gaugeText(place: string, job: JobState): string[] {
  const [found, left] = [conditionOf(job, 'as-found'), conditionOf(job, 'as-left')];
  const rows = job.gauge.marks.map(({ label, reading }) => [
    label,
    ...[found, left].map((each) => markText(each?.marks.find((mark) => mark.reading === reading))),
  ]);
  return [
    `${place}: ${job.gauge.quantity}, ${job.gauge.mechanism}, ${job.gauge.unit} (${job.title})`,
    ...textTable([{ title: 'mark' }, { title: 'ohms as found' }, { title: 'ohms as left' }], rows),
  ];
}

export const clusterJson = (state: ClusterState): Record<string, unknown> => {
  const found = neighboursOf(state);
  return {
    cluster: state.clusterId,
    title: state.title,
    vehicle: state.vehicle,
    simulated: state.simulated,
    feed: state.feed,
    state: state.state,
    gauges: state.gauges.map(({ jobId, place, boxSerial }) => ({
      job: jobId,
      place,
      box_serial: boxSerial ?? null,
    })),
    neighbours:
      found === undefined
        ? null
        : {
            verdict: found.verdict,
            suspect: found.suspect?.where ?? null,
            common_ohm: found.suspect?.commonOhm.value ?? null,
            cells: found.cells.map((cell) => ({
              moved: cell.movedId,
              watched: cell.watchedId,
              percent_of_arc: cell.percentOfArc,
              expanded_uncertainty_percent: 2 * cell.uPercent,
              common_ohm: cell.commonOhm.value,
            })),
          },
    swept: state.swept.map(({ order, minutes, leastMinutes, readings, doubted }) => ({
      order,
      minutes,
      least_minutes: leastMinutes,
      readings,
      doubted,
    })),
  };
};
