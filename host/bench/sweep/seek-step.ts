import { seekMove, type SeekMove, type SeekRange } from '../../core/plan';
import {
  readingUncertaintyOf,
  scaleOf,
  type JobState,
  type Leg,
  type Sweep,
  type SweepStep,
} from '../../job';
import { seekStart } from './seek-start';
import { risesWithResistance } from './needle-direction';

/** The eye tells "on the mark" from "beside it" this much better than it reads a value between marks. Common practice. */
const VERNIER_FRACTION = 0.25;
const FINEST_FRACTION = 0.003;
const COARSEST_FRACTION = 0.03;
/** A first step no shorter than twice what can be told apart; the next is twice as long. */
const SHORTEST_STEPS = 2;

export type SeekLimits = { readonly lowestOhm: number; readonly highestOhm: number };

export const seekRangeOf = (
  state: JobState,
  sweep: Sweep,
  where: { readonly reading: number; readonly leg: Leg; readonly limits: SeekLimits },
): SeekRange => {
  const start = seekStart(state, sweep, where);
  const spanLn = Math.abs(Math.log(sweep.toOhm / sweep.fromOhm));
  const { span } = scaleOf(state.gauge.marks);
  const eye = (readingUncertaintyOf(state.gauge) / span) * spanLn * VERNIER_FRACTION;
  const resolvedFraction = Math.min(COARSEST_FRACTION, Math.max(FINEST_FRACTION, eye));
  return {
    ...where.limits,
    risesWithResistance: risesWithResistance(state, sweep),
    startOhm: start.ohm,
    firstStepFraction: Math.max(SHORTEST_STEPS * resolvedFraction, start.stepFraction),
    resolvedFraction,
  };
};

type NearestOhm = (resistanceOhm: number) => Promise<number | undefined>;

const REALLY_THE_SAME = 1e-6;
const isSame = (oneOhm: number, otherOhm: number): boolean =>
  Math.abs(oneOhm / otherOhm - 1) < REALLY_THE_SAME;

/** The ends of the range as the box really makes them, so that an end is known when it is reached. */
const asMade = async (range: SeekRange, nearestOhm: NearestOhm): Promise<SeekRange> => {
  const [lowestOhm, highestOhm] = await Promise.all([
    nearestOhm(range.lowestOhm),
    nearestOhm(range.highestOhm),
  ]);
  return { ...range, lowestOhm: lowestOhm ?? range.lowestOhm, highestOhm: highestOhm ?? range.highestOhm };
};

/**
 * The next move of a seek. A resistance that the box has made before for this step is not tried again: the bracket is
 * then finer than the box's own steps, and what is between the two sides is the answer.
 */
export const seekNext = async (
  step: SweepStep,
  wanted: SeekRange,
  nearestOhm: NearestOhm,
): Promise<SeekMove> => {
  const range = await asMade(wanted, nearestOhm);
  const move = seekMove(step.seen, range);
  if (move.kind !== 'try') return move;
  const made = await nearestOhm(move.resistanceOhm);
  const isEnd = [range.lowestOhm, range.highestOhm].some((end) => isSame(end, move.resistanceOhm));
  if (made === undefined || isEnd) return move;
  const sides = new Set(step.seen.map((seen) => seen.needle));
  const wasTried = step.seen.some((seen) => isSame(seen.resistanceOhm, made));
  if (!wasTried || sides.size < 2) return move;
  const others = step.seen.map((seen) => Math.abs(Math.log(seen.resistanceOhm / move.resistanceOhm)));
  const relativeUncertainty = Math.max(range.resolvedFraction, Math.min(...others)) / Math.sqrt(3);
  return { kind: 'found', resistanceOhm: move.resistanceOhm, relativeUncertainty, onMark: false };
};
