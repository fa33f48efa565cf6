import type { Refused } from '../../core/result';
import { hasReachedFullScale, isBearable, isSameSetting, nextDown, type Made } from '../../core/by-hand';
import { refuse } from '../../refusals';
import {
  currentStep,
  runningSweep,
  scaleOf,
  type EventBody,
  type JobState,
  type Leg,
  type Step,
  type SweepChoice,
} from '../../job';
import type { HandSetUp } from '../../job/schema/by-hand';
import { feedsOf, handPlanOf, makesOf, type HandPlan } from '../../job/state/hand-plan';
import { isByHand, leastOhmNow, type HandSweep } from '../../job/state/hand-step';
import { refinementsFor } from '../../job/state/sweep-size';
import { settleMsOf } from '../rules';
import { risesWithResistance } from '../sweep/needle-direction';
import { pass, type Planned } from '../sweep/plan-sweep';
import { freshStepId, refinementSteps } from '../sweep/steps';

type Started = Extract<EventBody, { kind: 'sweep-started' }>;

/** Fewer settings are no curve. */
const FEWEST_SETTINGS = 3;

const atOhm = (resistanceOhm: number): Step['aim'] => ({
  kind: 'resistance',
  resistanceOhm: Number(resistanceOhm.toPrecision(4)),
});

/** Without a change-over switch the needle rests whenever the ignition is off, so it comes to every setting from below. */
const risingOnly = (aims: readonly Step['aim'][], leg: Leg): Planned[] => {
  const middle = aims[Math.floor((aims.length - 1) / 2)];
  const again = [middle, aims[0], aims.at(-1)].filter((aim) => aim !== undefined);
  return [
    ...aims.map((aim): Planned => ({ leg, aim, why: 'plan' })),
    // What is read once nobody can question.
    ...again.map((aim): Planned => ({ leg, aim, why: 'repeat' })),
  ];
};

const resistorSteps = (
  state: JobState,
  hand: HandSetUp,
  { settings }: Extract<HandPlan, { way: 'resistors' }>,
): Planned[] | Refused => {
  const { gauge } = state;
  const { family, mechanism } = gauge;
  const [first] = settings;
  if (family === undefined)
    return first === undefined
      ? refuse('HAND_NO_HIGH_START')
      : [{ leg: 'up', aim: atOhm(first.resistanceOhm), why: 'plan' }];
  if (settings.length < FEWEST_SETTINGS)
    return refuse('HAND_TOO_FEW', {
      count: settings.length,
      fromOhm: family.lowEndOhm,
      toOhm: family.highEndOhm,
    });
  const aims = settings.map(({ resistanceOhm }) => atOhm(resistanceOhm));
  const rises = risesWithResistance(state, { fromOhm: family.lowEndOhm, toOhm: family.highEndOhm });
  if (hand.tools.way === 'resistors' && hand.tools.hasSwitch === true)
    return pass(aims, { mode: 'step-and-read', legs: 'both' }, gauge, rises);
  if (hand.tools.way === 'decade') return pass(aims, { mode: 'step-and-read', legs: 'both' }, gauge, rises);
  return risingOnly(mechanism === 'unknown' && rises ? [...aims].reverse() : aims, 'up');
};

const marksOf = ({ gauge }: JobState): Step['aim'][] =>
  [...gauge.marks]
    .sort((one, other) => one.reading - other.reading)
    .map(({ reading }) => ({ kind: 'mark', reading }));

const potentiometerSteps = (
  state: JobState,
  plan: Extract<HandPlan, { way: 'potentiometer' }>,
  tools: Extract<HandSetUp['tools'], { way: 'potentiometer' }>,
): Planned[] | Refused => {
  const { fixed } = plan;
  if (plan.isFixedTooSmall)
    return refuse('HAND_FIXED_TOO_SMALL', { ...tools, leastOhm: plan.leastOhm, ...fixed });
  if (!plan.bears)
    return refuse('HAND_TRACK_TOO_WEAK', {
      milliamp: 1e3 * plan.load.amp,
      trackMilliamp: 1e3 * plan.load.trackLargestAmp,
      isTrack: plan.load.trackShare >= plan.load.seriesShare,
      ...(fixed === undefined ? {} : { fixed }),
    });
  if (plan.isTooShort) return refuse('HAND_TRACK_TOO_SHORT', { wholeOhm: tools.wholeOhm });
  const { family, mechanism } = state.gauge;
  if (family === undefined || mechanism === 'unknown')
    return [{ leg: 'up', aim: atOhm(tools.wholeOhm + tools.seriesOhm), why: 'plan' }];
  const rises = risesWithResistance(state, { fromOhm: family.lowEndOhm, toOhm: family.highEndOhm });
  return pass(marksOf(state), { mode: 'seek', legs: 'both' }, state.gauge, rises);
};

const OF_NOBODY = { fromOhm: 1_000, toOhm: 20 } as const;

/**
 * Turns what somebody has in hand into the steps of a sweep without a box. Nothing in it is below the least ohms of the
 * family, nothing carries more than 70 % of its largest current.
 * Refuses: HAND_TOO_FEW, HAND_NO_HIGH_START, HAND_TRACK_TOO_WEAK, HAND_FIXED_TOO_SMALL, HAND_TRACK_TOO_SHORT.
 */
export const planHand = (state: JobState, choice: SweepChoice, hand: HandSetUp): Started | Refused => {
  const { gauge } = state;
  const { tools } = hand;
  const plan = handPlanOf(gauge, hand, choice.pointCount);
  const planned =
    plan.way === 'resistors'
      ? resistorSteps(state, hand, plan)
      : tools.way === 'potentiometer'
        ? potentiometerSteps(state, plan, tools)
        : [];
  if ('kind' in planned) return planned;
  const sweepId = `w${state.sweeps.length + 1}`;
  const isPot = tools.way === 'potentiometer';
  const family = gauge.family;
  const shortest = (ohm: number): number => Math.max(plan.leastOhm, ohm);
  return {
    kind: 'sweep-started',
    sweepId,
    mode: isPot ? 'seek' : 'step-and-read',
    steps: planned.map((step, index) => ({ stepId: `${sweepId}s${index + 1}`, ...step })),
    fromOhm: family === undefined ? OF_NOBODY.fromOhm : shortest(family.lowEndOhm),
    toOhm: family === undefined ? OF_NOBODY.toOhm : shortest(family.highEndOhm),
    refinements: isPot ? 0 : refinementsFor({ ...choice, mode: 'step-and-read' }, gauge),
    settleMs: choice.settleMs ?? settleMsOf(gauge.mechanism),
    ...(choice.state === undefined ? {} : { state: choice.state }),
    ...(choice.dashCelsius === undefined ? {} : { dashCelsius: choice.dashCelsius }),
    hand,
  };
};

const isUnknown = ({ gauge }: JobState): boolean =>
  gauge.family === undefined || gauge.mechanism === 'unknown';

/** The needle of a gauge that nobody knows has come to the far end of its scale in this sweep. */
export const isAtFullScale = (state: JobState, { sweepId }: HandSweep): boolean =>
  hasReachedFullScale(
    state.readings.filter((each) => each.sweepId === sweepId),
    scaleOf(state.gauge.marks),
  );

type Aimed = Pick<Step, 'leg' | 'aim' | 'why'>;

/** The next lower one of a family that nobody knows. */
const goingDown = (state: JobState, sweep: HandSweep): Aimed[] => {
  const { tools } = sweep.hand;
  if (tools.way === 'potentiometer' || state.gauge.family !== undefined) return [];
  if (isAtFullScale(state, sweep)) return [];
  const ohms = sweep.steps.flatMap(({ aim }) => (aim.kind === 'resistance' ? [aim.resistanceOhm] : []));
  const feeds = feedsOf(state.gauge, sweep.hand);
  const allowed = {
    leastOhm: leastOhmNow(state, sweep),
    isBearable: (made: Made) => isBearable(made, feeds),
  };
  const made = nextDown(makesOf(tools), Math.min(...ohms), allowed);
  return made === undefined ? [] : [{ leg: 'up', aim: atOhm(made.resistanceOhm), why: 'plan' }];
};

/** Of an unknown gauge on a potentiometer: the marks from the end where the needle stood at the most ohms. */
const marksFromThere = (state: JobState, sweep: HandSweep): Aimed[] => {
  const { tools } = sweep.hand;
  const isBegun = sweep.steps.some(({ aim }) => aim.kind === 'mark');
  const stood = state.readings.find((each) => each.sweepId === sweep.sweepId);
  if (tools.way !== 'potentiometer' || isBegun || stood === undefined) return [];
  const { lowest, highest } = scaleOf(state.gauge.marks);
  const marks = marksOf(state);
  const up = stood.reading < (lowest + highest) / 2;
  const first: Aimed[] = (up ? marks : [...marks].reverse()).map((aim) => ({
    leg: up ? 'up' : 'down',
    aim,
    why: 'plan',
  }));
  return [...first, ...[...first].reverse().map((each): Aimed => ({ ...each, leg: up ? 'down' : 'up' }))];
};

/** What is read once nobody can question: the ends and the middle again, once a gauge that nobody knew was walked through. */
const againOf = (state: JobState, sweep: HandSweep): Aimed[] => {
  const { tools } = sweep.hand;
  const isTold = sweep.steps.some(({ why }) => why === 'repeat');
  if (isTold || tools.way === 'potentiometer' || state.gauge.family !== undefined) return [];
  const read = sweep.steps.filter((step) => step.state.kind === 'read');
  const middle = read[Math.floor((read.length - 1) / 2)];
  return [middle, read[0], read.at(-1)].flatMap((step) =>
    step === undefined ? [] : [{ leg: step.leg, aim: step.aim, why: 'repeat' }],
  );
};

/** A setting that the plan would add, as the parts make it; none where they make nothing new there. */
const refined = (state: JobState, sweep: HandSweep): Aimed[] => {
  const { tools } = sweep.hand;
  if (tools.way === 'potentiometer') return [];
  const feeds = feedsOf(state.gauge, sweep.hand);
  const allowed = {
    leastOhm: leastOhmNow(state, sweep),
    isBearable: (made: Made) => isBearable(made, feeds),
  };
  const makes = makesOf(tools);
  const known = state.readings.filter((each) => each.sweepId === sweep.sweepId);
  return refinementSteps(state, sweep).flatMap(({ leg, aim, why }): Aimed[] => {
    const made = aim.kind === 'resistance' ? makes(aim.resistanceOhm, allowed) : undefined;
    const isNew =
      made !== undefined && !known.some((one) => isSameSetting(one.resistanceOhm, made.resistanceOhm));
    return isNew ? [{ leg, aim: atOhm(made.resistanceOhm), why }] : [];
  });
};

/** Nothing left to put on: the next lower one, the marks, one more setting, or the end of the sweep. */
export const afterLastHandStep = (state: JobState): EventBody[] => {
  const sweep = runningSweep(state);
  if (sweep === undefined || !isByHand(sweep) || currentStep(sweep) !== undefined) return [];
  const { sweepId } = sweep;
  const [next] = [goingDown, marksFromThere, againOf, refined]
    .map((find) => find(state, sweep))
    .filter((found) => found.length > 0);
  if (next === undefined) return [{ kind: 'sweep-finished', sweepId, complete: true }];
  const steps = next.map((step, index) => ({ stepId: freshStepId(sweep, index), ...step }));
  return [{ kind: 'sweep-extended', sweepId, steps, place: 'end' }];
};

/** What an unknown gauge at the end of its scale is not asked any more: everything lower. */
export const skippedAtFullScale = (state: JobState, sweep: HandSweep, lastOhm: number): EventBody[] => {
  if (!isUnknown(state)) return [];
  return sweep.steps.flatMap((step): EventBody[] =>
    step.state.kind === 'pending' && step.aim.kind === 'resistance' && step.aim.resistanceOhm < lastOhm
      ? [
          {
            kind: 'step-skipped',
            stepId: step.stepId,
            reason:
              'the needle of an unknown gauge has reached the end of its scale: nothing lower is put on',
          },
        ]
      : [],
  );
};
