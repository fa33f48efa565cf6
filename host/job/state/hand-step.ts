import {
  isBearable,
  leastHandOhm,
  MOST_DOWN_SHARE,
  pieceLoads,
  UNKNOWN_START_OHM,
  willDo,
  type Made,
} from '../../core/by-hand';
import type { HandSetUp } from '../schema/by-hand';
import { feedsOf, makesOf } from './hand-plan';
import type { JobState, Sweep, SweepStep } from './state';
import { countedReadings } from './views';

/** A sweep without a box. */
export type HandSweep = Sweep & { readonly hand: HandSetUp };
export const isByHand = (sweep: Sweep): sweep is HandSweep => sweep.hand !== undefined;

type Job = Pick<JobState, 'gauge' | 'readings'>;

/**
 * The least ohms that may be put on now. Of a family that nobody knows the first is 1 kohm or more, and no next one is
 * less than half of the least before it. Source: `leastHandOhm`.
 */
export function leastOhmNow({ gauge, readings }: Job, sweep: Pick<Sweep, 'sweepId'>): number {
  const floorOhm = leastHandOhm(gauge);
  if (gauge.family !== undefined) return floorOhm;
  const read = countedReadings({ readings }).filter((each) => each.sweepId === sweep.sweepId);
  if (read.length === 0) return UNKNOWN_START_OHM;
  return Math.max(floorOhm, MOST_DOWN_SHARE * Math.min(...read.map(({ resistanceOhm }) => resistanceOhm)));
}

/** What a step by hand asks a person to do, with the figures that belong to it. */
export type HandAsk =
  | {
      readonly kind: 'put-on';
      readonly resistanceOhm: number;
      /** How the parts make it; left out where they do not any more. */
      readonly made?: Made;
      readonly fromOhm: number;
      readonly toOhm: number;
      /** In all of what is put on. */
      readonly watt: number;
    }
  | { readonly kind: 'turn-to-most'; readonly resistanceOhm: number }
  | { readonly kind: 'turn-to'; readonly reading: number; readonly leg: SweepStep['leg'] };

/** A part of 5 % may have so much less than is printed on it. Source: IEC 60063, the tolerance of E24. */
export const PRINTED_ROOM = 0.95;
/** What will do is said with three figures. */
const SAID_ROOM = 1.005;

/** Whether so many ohms, the leads taken off, are what a step asks for or what it says will do. */
export function isAskedFor(
  { fromOhm, toOhm }: Extract<HandAsk, { kind: 'put-on' }>,
  resistanceOhm: number,
  leastOhm: number,
): boolean {
  const least = fromOhm > leastOhm ? fromOhm / SAID_ROOM : PRINTED_ROOM * leastOhm;
  return resistanceOhm >= least && resistanceOhm <= toOhm * SAID_ROOM;
}

/** What to do for this step, in the unit of the state. */
export function handAskOf(state: Job, sweep: HandSweep, { aim, leg }: SweepStep): HandAsk {
  if (aim.kind === 'mark') return { kind: 'turn-to', reading: aim.reading, leg };
  const { tools } = sweep.hand;
  const { resistanceOhm } = aim;
  if (tools.way === 'potentiometer') return { kind: 'turn-to-most', resistanceOhm };
  const feeds = feedsOf(state.gauge, sweep.hand);
  const leastOhm = leastOhmNow(state, sweep);
  const isSame = { leastOhm: 0.999 * resistanceOhm, mostOhm: 1.001 * resistanceOhm };
  const made = makesOf(tools)(resistanceOhm, { ...isSame, isBearable: (each) => isBearable(each, feeds) });
  const single: Made = { resistanceOhm, joint: 'single', pieces: [{ resistanceOhm, ratingWatt: 1 }] };
  const watt = pieceLoads(made?.joint === 'decade' ? single : (made ?? single), feeds)
    .map((load) => load.watt)
    .reduce((sum, each) => sum + each, 0);
  return {
    kind: 'put-on',
    resistanceOhm,
    ...(made === undefined ? {} : { made }),
    ...willDo(resistanceOhm, leastOhm),
    watt,
  };
}
