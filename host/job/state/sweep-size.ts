import type { Gauge } from '../schema/gauge';
import type { SweepChoice } from '../schema/sweep';
import { settleMsOf } from './settling';

/**
 * Basic level of the calibration practice for dial gauges: 6 points, up and down, one point three times.
 * Source: EURAMET cg-17 basic procedure, adapted.
 */
export const SWEEP_POINTS = 6;
export const SWEEP_REPEATS = 2;
/** Each refinement costs two waits, few where a wait is a minute; but one where there is no lag between the legs to find. */
const REFINEMENTS: Readonly<Record<Gauge['mechanism'], number>> = {
  thermal: 1,
  'two-coil': 3,
  'cross-coil': 3,
  'moving-coil': 3,
  electronic: 10,
  unknown: 2,
};

type Dial = Pick<Gauge, 'mechanism' | 'marks'>;

/**
 * How many settings a sweep may add by itself. Seeking marks says nothing of what lies between them; where a needle rests
 * over a stretch (electronic gauges), only resistances stepped through can tell.
 */
export const refinementsFor = ({ mode, refinements }: SweepChoice, { mechanism }: Dial): number =>
  refinements ?? (mode === 'step-and-read' || mechanism === 'electronic' ? REFINEMENTS[mechanism] : 0);

const MS_PER_MINUTE = 60_000;
/** Looking, answering and moving, beside the wait. Common practice, no source. */
const ANSWER_MS = 8_000;
/** By hand: ignition off, clips, ohmmeter, ignition on. Common practice, no source. */
const HAND_MS = 40_000;
/** A mark is usually found in four looks, and what is looked at on the way waits about half as long: as long as so many whole waits. */
const SEEK_MOVES = 3;

/** Whole minutes that so many readings take at a needle's pace, rounded up. Source: the waits above. */
export const minutesFor = (
  readings: number,
  { mode, settleMs, hand }: Pick<SweepChoice, 'mode' | 'hand'> & { readonly settleMs: number },
): number => {
  const waits = mode === 'seek' && hand === undefined ? SEEK_MOVES : 1;
  const answerMs = hand === undefined ? ANSWER_MS : HAND_MS;
  return Math.ceil((readings * waits * (settleMs + answerMs)) / MS_PER_MINUTE);
};

/** What a sweep will take: readings that are certain, settings it may add (each on every leg), minutes without and with them. */
export type SweepSize = {
  readonly readings: number;
  readonly mayAdd: number;
  readonly minutes: number;
  readonly mostMinutes: number;
};

const aimsOf = ({ mode, resistancesOhm, readings, pointCount }: SweepChoice, { marks }: Dial): number =>
  mode === 'seek' ? (readings ?? marks).length : (resistancesOhm?.length ?? pointCount ?? SWEEP_POINTS);

/** How large a sweep will be, before it starts. Source: the plan that `planSweep` of the bench makes of the same choice. */
export const sweepSizeOf = (dial: Dial, choice: SweepChoice): SweepSize => {
  const legs = (choice.legs ?? 'both') === 'both' ? 2 : 1;
  const repeats = choice.mode === 'seek' ? 0 : (choice.repeats ?? SWEEP_REPEATS);
  const readings = legs * aimsOf(choice, dial) + repeats;
  const mayAdd = refinementsFor(choice, dial);
  const pace = { mode: choice.mode, settleMs: choice.settleMs ?? settleMsOf(dial.mechanism) };
  const perAdded = dial.mechanism === 'electronic' ? 1 : legs;
  return {
    readings,
    mayAdd,
    minutes: minutesFor(readings, pace),
    mostMinutes: minutesFor(readings + mayAdd * perAdded, pace),
  };
};
