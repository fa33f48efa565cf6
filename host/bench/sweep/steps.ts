import { hasReachedFullScale } from '../../core/by-hand';
import type { SeekMove } from '../../core/plan';
import {
  currentStep,
  runningSweep,
  scaleOf,
  type EventBody,
  type JobState,
  type Leg,
  type Step,
  type Sweep,
  type SweepStep,
} from '../../job';
import { backOffOhm } from './approach';
import { nextSetting } from './next-setting';
import type { Armed } from '../box/box';
import type { Vital } from '../box/vital';
import type { Output } from '../box/output';
import { risesWithResistance } from './needle-direction';

/** How far beyond the ends of the sweep a back-off may go. */
const BEYOND_RATIO = 1.5;
const LEAST_BACK_RATIO = 1.2;
const MOST_BACK_RATIO = 2;
/** A basic sweep of six points has five gaps. */
const BASIC_GAPS = 5;

/** Back by about one step of a basic sweep. */
const backRatioOf = (sweep: Sweep): number => {
  const ratio = Math.max(sweep.fromOhm, sweep.toOhm) / Math.min(sweep.fromOhm, sweep.toOhm);
  return Math.min(MOST_BACK_RATIO, Math.max(LEAST_BACK_RATIO, ratio ** (1 / BASIC_GAPS)));
};

/**
 * A heater is never given less resistance than the sweep itself asks for, not even on the way; an unknown gauge never
 * less than it has been read at.
 */
const backOffLimits = (
  state: JobState,
  sweep: Sweep,
  floorOhm: number,
): { readonly lowestOhm: number; readonly highestOhm: number } => {
  const least = Math.min(sweep.fromOhm, sweep.toOhm);
  const most = Math.max(sweep.fromOhm, sweep.toOhm);
  const highestOhm = most * BEYOND_RATIO;
  switch (state.gauge.mechanism) {
    case 'thermal':
      return { lowestOhm: least, highestOhm };
    case 'unknown': {
      const read = state.readings.filter((reading) => reading.sweepId === sweep.sweepId);
      return { lowestOhm: Math.min(most, ...read.map((reading) => reading.resistanceOhm)), highestOhm };
    }
    case 'two-coil':
    case 'cross-coil':
    case 'moving-coil':
    case 'electronic':
      return { lowestOhm: Math.min(least, Math.max(floorOhm, least / BEYOND_RATIO)), highestOhm };
  }
};

export type Where = { readonly sweep: Sweep; readonly step: SweepStep };

/** Where to go before the aim, so that the needle comes to it from the side of its leg; undefined = straight there. */
export const backOffFor = (
  state: JobState,
  { sweep, step }: Where,
  at: { readonly aimOhm: number; readonly output: Output },
): number | undefined =>
  backOffOhm({
    leg: step.leg,
    aimOhm: at.aimOhm,
    presentOhm: at.output.made?.madeOhm,
    cameFromOhm: at.output.cameFromOhm,
    risesWithResistance: risesWithResistance(state, sweep),
    backRatio: step.aim.kind === 'mark' ? LEAST_BACK_RATIO : backRatioOf(sweep),
    ...backOffLimits(state, sweep, at.output.armed?.floorOhm ?? 0),
  });

/** The direction the needle really took, from the resistance before to the present one. */
export const legNow = (state: JobState, madeOhm: number, cameFromOhm: number | undefined): Leg => {
  const sweep = runningSweep(state);
  // An open output is more resistance than any.
  const fromOhm = cameFromOhm ?? Infinity;
  if (sweep === undefined || fromOhm === madeOhm) return currentStep(sweep)?.leg ?? 'up';
  return madeOhm > fromOhm === risesWithResistance(state, sweep) ? 'up' : 'down';
};

/** Only a feed that stands still is a supply voltage; a pulsed stabiliser shows whatever moment it was caught in. */
export const supplyVoltOf = (
  state: JobState,
  armed: Armed | undefined,
  vital: Vital | undefined,
): number | undefined => {
  const volt = armed?.openCircuitVolt;
  const isPulsed = vital?.isPulsing === true || state.gauge.mechanism === 'thermal';
  return volt !== undefined && volt > 1 && !isPulsed ? volt : undefined;
};

/** Why a step must not be driven yet: it lies below the floor and nobody has said that this is meant. */
export const lowWithoutWord = (state: JobState, step: Step, floorOhm: number): string | undefined => {
  if (step.aim.kind !== 'resistance' || step.aim.resistanceOhm >= floorOhm) return undefined;
  if (state.confirmations.includes('low-resistance')) return undefined;
  const { resistanceOhm } = step.aim;
  return `${resistanceOhm} ohm is below ${floorOhm} ohm: confirm "low-resistance" or skip the step`;
};

/**
 * Why a step of a gauge that nobody knows must not be driven at all: its needle stood at the far end of its scale at more
 * ohms, in whatever sweep, and whether or not that reading still counts.
 */
export const beyondFullScale = (state: JobState, { aim }: Step): string | undefined => {
  if (state.gauge.mechanism !== 'unknown' || aim.kind !== 'resistance') return undefined;
  const scale = scaleOf(state.gauge.marks);
  const reachedOhm = state.sweeps
    .map(({ sweepId }) => state.readings.filter((each) => each.sweepId === sweepId))
    .filter((readings) => hasReachedFullScale(readings, scale))
    .map((readings) => Math.min(...readings.map(({ resistanceOhm }) => resistanceOhm)));
  const leastOhm = Math.max(0, ...reachedOhm);
  return aim.resistanceOhm >= SAME_OHM * leastOhm
    ? undefined
    : `nobody knows what it can take: it stood at the end of its scale at ${Number(leastOhm.toPrecision(3))} ohm, and ${aim.resistanceOhm} ohm is less`;
};

/** The box makes what was asked for to half a percent. */
const SAME_OHM = 0.99;

/** What a seek that has ended adds to the journal; nothing when another answer was faster. */
export const seekOutcome = (
  state: JobState,
  { sweep, step }: Where,
  move: Exclude<SeekMove, { kind: 'try' }>,
): EventBody[] => {
  const { aim, stepId, leg } = step;
  if (aim.kind !== 'mark' || currentStep(runningSweep(state))?.stepId !== stepId) return [];
  const { resistanceOhm } = move;
  if (move.kind === 'unreachable') {
    const where = `${aim.reading} ${state.gauge.unit} as far as ${resistanceOhm.toPrecision(3)} ohm`;
    return [{ kind: 'step-skipped', stepId, reason: `the needle stays ${move.needle} ${where}` }];
  }
  const spreadOhm = resistanceOhm * move.relativeUncertainty;
  return [
    {
      kind: 'reading',
      readingId: `r${state.lastN + 1}`,
      sweepId: sweep.sweepId,
      stepId,
      resistanceOhm,
      uncertaintyOhm: Math.hypot(step.seen.at(-1)?.uncertaintyOhm ?? 0, spreadOhm),
      reading: aim.reading,
      leg,
      waitedMs: sweep.settleMs,
      method: 'seek',
    },
  ];
};

/** One more point where it tells most, on each leg the sweep has; none when nothing more can be seen or may be added. */
export const refinementSteps = (state: JobState, sweep: Sweep): Step[] => {
  if (sweep.refinementsLeft === 0) return [];
  const legs = [...new Set(sweep.steps.map((step) => step.leg))];
  const next = nextSetting(state, sweep, legs.length);
  if (next === undefined) return [];
  const { resistanceOhm, why } = next;
  return (next.isReadOnce ? legs.slice(0, 1) : legs).map((leg, index) => ({
    stepId: freshStepId(sweep, index),
    leg,
    aim: { kind: 'resistance', resistanceOhm },
    why,
  }));
};

/** Nothing left to read: one more point, or the end of the sweep. */
export const afterLastStep = (state: JobState): EventBody[] => {
  const sweep = runningSweep(state);
  if (sweep === undefined || currentStep(sweep) !== undefined) return [];
  const { sweepId } = sweep;
  const steps = refinementSteps(state, sweep);
  return steps.length > 0
    ? [{ kind: 'sweep-extended', sweepId, steps, place: 'end' }]
    : [{ kind: 'sweep-finished', sweepId, complete: true }];
};

/** Ids of one sweep stay unique however steps are added. */
export const freshStepId = (sweep: Sweep, ahead = 0): string =>
  `${sweep.sweepId}s${sweep.steps.length + 1 + ahead}`;
