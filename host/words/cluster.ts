import { UNTESTED_OHM, type NeighbourVerdict, type Suspect } from '../core/cluster';
import type { ClusterState } from '../job/state/cluster-state';
import type { JobState } from '../job/state/state';
import type { Notation } from './notation';

export const NEIGHBOUR_WORDS: Readonly<Record<NeighbourVerdict, string>> = {
  'none-seen': 'the gauges do not disturb each other',
  small: 'small: it counts in the uncertainty and is printed',
  'too-large': 'too large to sweep freely: one at a time, the others at rest',
  'cannot-tell': 'cannot be told: the feed is too unsteady',
};

const SUSPECT_WORDS: Readonly<Record<Suspect['where'], string>> = {
  feed: 'in the feed or its stabiliser',
  ground: 'in the common ground',
  both: 'in the feed and in the ground',
  'cannot-tell': 'in the feed or in the ground: cannot be told from here',
};

/** Where nobody has tested what the gauges do to each other. */
export const untestedWords = ({ ohm }: Notation): string =>
  `not measured; where others moved while a gauge was read, its uncertainty allows for up to ${ohm(UNTESTED_OHM)} in common`;

/** What the gauges have in common, and where. */
export const suspectWords = ({ commonOhm, where }: Suspect, { ohm }: Notation): string =>
  `${ohm(Number(commonOhm.value.toFixed(2)))} in common, ${SUSPECT_WORDS[where]}`;

const ADJUSTED: Readonly<Record<JobState['adjustments'][number]['what'], string>> = {
  'pointer-moved': 'pointer moved',
  'stabiliser-set': 'stabiliser set',
  'shunt-turned': 'shunt turned',
  'resistor-fitted': 'resistor fitted',
  other: 'adjusted',
};

/** What was done to a gauge itself, without who and when. */
export const adjustedWords = (
  each: JobState['adjustments'][number],
  unit: string,
  { short, ohm }: Notation,
): string =>
  [
    ADJUSTED[each.what],
    ...(each.movedBy === undefined ? [] : [`by ${short(each.movedBy, unit)}`]),
    ...(each.setToVolt === undefined ? [] : [`to ${each.setToVolt} V`]),
    ...(each.toOhm === undefined ? [] : [`to ${ohm(each.toOhm)}`]),
    ...(each.place === undefined ? [] : [each.place]),
    ...(each.remark === undefined ? [] : [each.remark]),
  ].join(', ');

const ORDER: Readonly<Record<ClusterState['swept'][number]['order'], string>> = {
  free: 'freely',
  rounds: 'in rounds',
  'one-by-one': 'one at a time',
};

/** One sweep of a cluster as a table has it. */
export type SweptWords = {
  readonly how: string;
  readonly readings: number;
  readonly minutes: number;
  readonly doubted?: number;
  readonly leastMinutes?: number;
};

/** Every sweep of a cluster: those with boxes, then each gauge by hand. */
export const sweptWords = ({ swept, sweptByHand, gauges }: ClusterState): readonly SweptWords[] => [
  ...swept.map(({ order, ...rest }) => ({ how: ORDER[order], ...rest })),
  ...sweptByHand.map(({ jobId, readings, minutes }) => {
    const place = gauges.find((gauge) => gauge.jobId === jobId)?.place;
    return { how: place === undefined ? 'by hand' : `by hand, ${place}`, readings, minutes };
  }),
];
