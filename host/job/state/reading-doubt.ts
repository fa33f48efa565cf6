import { scaleOf } from '../schema/scale';
import type { JobState, SweepStep } from './state';
import { countedReadings } from './views';

type Neighbour = { readonly resistanceOhm: number; readonly reading: number };

/** What speaks against a reading before it is taken: where the needle stood at the resistances next to this one. */
export type ReadingDoubt =
  | { readonly kind: 'not-as-before'; readonly at: Neighbour }
  | { readonly kind: 'not-between'; readonly at: readonly [Neighbour, Neighbour] }
  | { readonly kind: 'wrong-way'; readonly at: readonly [Neighbour, Neighbour] };

/** Friction, another feed and an eye at a slant stay below this share of the scale. Common practice, no source. */
const ROOM_SHARE = 0.1;
/** The same resistor, put on once more. */
const SAME_FRACTION = 0.02;

/**
 * Looks at one reading, in the unit of the state, beside those of the same sweep. The needle of a gauge goes one way as
 * the resistance grows; what goes the other way by more than a tenth of the scale is a slip of the keys more often than
 * a gauge. A question only: whoever means it says so. Undefined: nothing speaks against it, or nothing is known yet.
 * Source: derived here.
 */
export function readingDoubt(
  state: Pick<JobState, 'gauge' | 'readings'>,
  { sweepId, aim }: Pick<SweepStep, 'aim'> & { readonly sweepId: string },
  reading: number,
): ReadingDoubt | undefined {
  if (aim.kind !== 'resistance') return undefined;
  const ohm = aim.resistanceOhm;
  const room = ROOM_SHARE * scaleOf(state.gauge.marks).span;
  const known = countedReadings(state)
    .filter((each) => each.sweepId === sweepId)
    .sort((one, other) => one.resistanceOhm - other.resistanceOhm);
  const same = known.filter((each) => Math.abs(each.resistanceOhm - ohm) <= SAME_FRACTION * ohm);
  const [again] = same;
  if (again !== undefined) {
    const isAsBefore = same.some((each) => Math.abs(each.reading - reading) <= room);
    return isAsBefore ? undefined : { kind: 'not-as-before', at: again };
  }
  const below = known.filter((each) => each.resistanceOhm < ohm).at(-1);
  const above = known.find((each) => each.resistanceOhm > ohm);
  if (below !== undefined && above !== undefined) {
    const least = Math.min(below.reading, above.reading) - room;
    const most = Math.max(below.reading, above.reading) + room;
    return reading >= least && reading <= most ? undefined : { kind: 'not-between', at: [below, above] };
  }
  const [first, last] = [known[0], known.at(-1)];
  const near = below ?? above;
  if (first === undefined || last === undefined || near === undefined) return undefined;
  const way = last.reading - first.reading;
  if (Math.abs(way) <= room) return undefined;
  const onward = Math.sign(way) * (near === below ? 1 : -1) * (reading - near.reading);
  return onward >= -room ? undefined : { kind: 'wrong-way', at: [first, last] };
}
