import { logSpaced } from '../../core/plan';
import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import { refinementsFor, SWEEP_POINTS, SWEEP_REPEATS } from '../../job/state/sweep-size';
import type { EventBody, Gauge, JobState, Leg, Step, SweepChoice } from '../../job';
import { risesWithResistance } from './needle-direction';
import { boxKindOf, settleMsOf, usualFamilyOf } from '../rules';
import { printed } from '../../words/notation';
import { withSentence } from '../../words/refusal';

type Started = Extract<EventBody, { kind: 'sweep-started' }>;
type Aim = Step['aim'];

/** A mark may lie a little outside the range the family promises. */
const SEEK_MARGIN_RATIO = 1.6;

const endsOf = (gauge: Gauge, choice: SweepChoice): { fromOhm: number; toOhm: number } => {
  const family = usualFamilyOf(gauge);
  const given = choice.resistancesOhm;
  const falls = family.highEndOhm < family.lowEndOhm;
  // A family may end at a dead short; a sweep in ln R cannot.
  const SHORTEST_OHM = 1;
  if (given !== undefined) {
    const [least, most] = [Math.max(SHORTEST_OHM, Math.min(...given)), Math.max(SHORTEST_OHM, ...given)];
    return falls ? { fromOhm: most, toOhm: least } : { fromOhm: least, toOhm: most };
  }
  return {
    fromOhm: choice.fromOhm ?? Math.max(SHORTEST_OHM, family.lowEndOhm),
    toOhm: choice.toOhm ?? Math.max(SHORTEST_OHM, family.highEndOhm),
  };
};

/** Aims from the low end of the dial to its high end. */
const aimsOf = (
  state: JobState,
  choice: SweepChoice,
  ends: { fromOhm: number; toOhm: number },
): Aim[] | Refused => {
  if (choice.mode === 'seek') {
    const readings = choice.readings ?? state.gauge.marks.map((mark) => mark.reading);
    return [...readings].sort((a, b) => a - b).map((reading) => ({ kind: 'mark', reading }));
  }
  const rises = ends.toOhm > ends.fromOhm;
  if (choice.resistancesOhm !== undefined) {
    const sorted = [...choice.resistancesOhm].sort((a, b) => (rises ? a - b : b - a));
    return sorted.map((resistanceOhm) => ({ kind: 'resistance', resistanceOhm }));
  }
  const spaced = logSpaced(ends.fromOhm, ends.toOhm, choice.pointCount ?? SWEEP_POINTS);
  if (spaced.kind === 'refused') return withSentence(spaced, printed);
  return spaced.resistancesOhm.map((resistanceOhm) => ({ kind: 'resistance', resistanceOhm }));
};

export type Planned = { readonly leg: Leg; readonly aim: Aim; readonly why: Step['why'] };

const legOf = (leg: Leg, aims: readonly Aim[]): Planned[] =>
  (leg === 'up' ? aims : [...aims].reverse()).map((aim) => ({ leg, aim, why: 'plan' }));

/** A heater is never given less than the sweep asks for, so its needle comes to the least ohms from one side alone. */
const HAS_NO_ROOM: ReadonlySet<Gauge['mechanism']> = new Set(['thermal', 'unknown']);

/** The end where the legs meet, for the second time: from the other side where there is room, else once more. */
const turned = (planned: Planned, before: Leg, { mechanism }: Gauge, isLeast: boolean): Planned =>
  isLeast && HAS_NO_ROOM.has(mechanism) ? { ...planned, leg: before, why: 'repeat' } : planned;

/**
 * Each end is read twice: what is read once nobody can question. An unknown gauge starts at the highest resistance,
 * whichever end of the dial that is and whichever way was chosen.
 */
export const pass = (aims: readonly Aim[], choice: SweepChoice, gauge: Gauge, rises: boolean): Planned[] => {
  const { legs = 'both' } = choice;
  const fromHighest: Leg = rises ? 'down' : 'up';
  const isUnknown = gauge.mechanism === 'unknown';
  if (legs !== 'both') return legOf(isUnknown ? fromHighest : legs, aims);
  const first = isUnknown ? fromHighest : 'up';
  const second = first === 'up' ? 'down' : 'up';
  const isLeast = (first === 'up') !== rises;
  const [turn, ...back] = legOf(second, aims);
  return [
    ...legOf(first, aims),
    ...(turn === undefined ? [] : [turned(turn, first, gauge, isLeast)]),
    ...back,
  ];
};

/** The middle point again, always from the same side: what scatters then is the needle and the eye. */
const repeatsOf = (aims: readonly Aim[], choice: SweepChoice): Planned[] => {
  const aim = aims[Math.floor((aims.length - 1) / 2)];
  if (aim === undefined || choice.mode === 'seek') return [];
  const leg = choice.legs === 'down' ? 'down' : 'up';
  return Array.from({ length: choice.repeats ?? SWEEP_REPEATS }, () => ({ leg, aim, why: 'repeat' }));
};

/** How low the vehicle's own sender goes: only a tank's box asks for it, and only what somebody has said counts. */
const originalLeastOf = (gauge: Gauge, choice: SweepChoice): { originalLeastOhm?: number } => {
  const { lowEndOhm, highEndOhm } = { lowEndOhm: choice.fromOhm, highEndOhm: choice.toOhm, ...gauge.family };
  if (boxKindOf(gauge) !== 'fuel' || lowEndOhm === undefined || highEndOhm === undefined) return {};
  const originalLeastOhm = Math.min(lowEndOhm, highEndOhm);
  return originalLeastOhm > 0 ? { originalLeastOhm } : {};
};

/**
 * Turns what a person chose into the steps of a sweep.
 * Refuses: ends that make no sweep (PLAN_RANGE, PLAN_COUNT), and seeking before anything is known of which resistance
 * belongs to which end (SEEK_NEEDS_FAMILY).
 */
export const planSweep = (state: JobState, choice: SweepChoice): Started | Refused => {
  const ends = endsOf(state.gauge, choice);
  const knowsSense =
    (state.gauge.mechanism !== 'unknown' &&
      (state.gauge.family !== undefined || choice.fromOhm !== undefined)) ||
    state.readings.length > 2;
  if (choice.mode === 'seek' && !knowsSense) {
    return refuse('SEEK_NEEDS_FAMILY');
  }
  const aims = aimsOf(state, choice, ends);
  if ('kind' in aims) return aims;
  const sweepId = `w${state.sweeps.length + 1}`;
  const rises = risesWithResistance(state, ends);
  const planned = [...pass(aims, choice, state.gauge, rises), ...repeatsOf(aims, choice)];
  return {
    kind: 'sweep-started',
    sweepId,
    mode: choice.mode,
    steps: planned.map((step, index) => ({ stepId: `${sweepId}s${index + 1}`, ...step })),
    ...ends,
    ...originalLeastOf(state.gauge, choice),
    refinements: refinementsFor(choice, state.gauge),
    settleMs: choice.settleMs ?? settleMsOf(state.gauge.mechanism),
    ...(choice.state === undefined ? {} : { state: choice.state }),
    ...(choice.dashCelsius === undefined ? {} : { dashCelsius: choice.dashCelsius }),
  };
};

/** Lowest and highest resistance a seek may visit, never below the floor of the gauge. */
export const seekLimits = (
  sweep: { readonly fromOhm: number; readonly toOhm: number },
  box: { readonly floorOhm: number; readonly highestOhm: number },
): { lowestOhm: number; highestOhm: number } => ({
  lowestOhm: Math.max(box.floorOhm, Math.min(sweep.fromOhm, sweep.toOhm) / SEEK_MARGIN_RATIO),
  highestOhm: Math.min(box.highestOhm, Math.max(sweep.fromOhm, sweep.toOhm) * SEEK_MARGIN_RATIO),
});
