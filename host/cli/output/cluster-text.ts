import { conditionOf, neighboursOf, type ClusterState, type ConditionMark, type JobState } from '../../job';
import { NEIGHBOUR_WORDS, suspectWords } from '../../words/cluster';
import { plain } from '../../words/notation';
import type { ClusterJson } from './answers/cluster';
import { significant, textTable } from './text-table';

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
    `What the gauges do to each other: ${NEIGHBOUR_WORDS[found.verdict]}`,
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
    ...(suspect === undefined ? [] : [suspectWords(suspect, plain)]),
  ];
}

const markText = (mark: ConditionMark | undefined): string =>
  mark === undefined
    ? 'not measured'
    : `${significant(mark.resistanceOhm)} ±${significant(mark.expandedUncertaintyOhm, 2)}`;

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

/** A condition as programs read it. */
export const conditionJson = (job: JobState, state: 'as-found' | 'as-left') => {
  const condition = conditionOf(job, state);
  if (condition === undefined) return null;
  return {
    readings: condition.readings,
    marks: condition.marks.map(({ reading, resistanceOhm, expandedUncertaintyOhm }) => ({
      reading,
      resistance_ohm: resistanceOhm,
      expanded_uncertainty_ohm: expandedUncertaintyOhm,
    })),
  };
};

export const clusterJson = (state: ClusterState): Omit<ClusterJson, 'kind'> => {
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
    swept_by_hand: state.sweptByHand.map(({ jobId, minutes, readings }) => ({
      job: jobId,
      minutes,
      readings,
    })),
  };
};
