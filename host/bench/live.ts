import type { Refused } from '../core/result';
import {
  currentStep,
  openSweep,
  progressOf,
  type Confirmation,
  type JobState,
  type LiveFrame,
  type Progress,
} from '../job';
import type { Box } from './box/box';
import type { Vital } from './box/vital';
import type { HandRun } from './hand/hand-run';
import type { SweepRun } from './sweep/sweep-run';
import { milliampOf } from './box/pulse-heat';
import { tripOf } from './box/trips';

const MILLI = 1_000;

export type LiveParts = {
  readonly jobId: string;
  readonly state: JobState;
  readonly box: Box;
  readonly engine: SweepRun;
  readonly hand: HandRun;
  readonly watch: LiveFrame['watch'];
  readonly present: readonly string[];
  /** Waits are so many times shorter than the journal says. */
  readonly needleSpeed: number;
  /** What was said of the vehicle before a long break. */
  readonly lapsed: readonly Confirmation[];
  /** Why a sweep stands still that the journal calls running. */
  readonly owedPause: string | undefined;
  /** Boxes of which one has to be said to be on this gauge; undefined: nothing has to be said. */
  readonly choices: () => readonly { readonly boxSerial: number; readonly berth: number }[] | undefined;
  /** Why nothing can be entered. */
  readonly trouble: Refused | undefined;
};

const outputOf = (engine: SweepRun, vital: Vital | undefined): LiveFrame['output'] => {
  const { made } = engine.output;
  return {
    ...(made === undefined
      ? {}
      : { askedOhm: made.askedOhm, madeOhm: made.madeOhm, uncertaintyOhm: made.uncertaintyOhm }),
    ...(vital?.measuredOhm === undefined ? {} : { measuredOhm: vital.measuredOhm }),
    ...(made !== undefined && vital !== undefined && engine.heat.isPulsing
      ? pulsingOutput(engine.heat, made.madeOhm)
      : steadyOutput(vital)),
  };
};

const steadyOutput = (vital: Vital | undefined): LiveFrame['output'] => {
  const { volt, milliamp } = vital ?? {};
  return {
    ...(volt === undefined ? {} : { volt }),
    ...(milliamp === undefined ? {} : { milliamp }),
    ...(volt === undefined || milliamp === undefined ? {} : { watt: Math.abs((volt * milliamp) / MILLI) }),
  };
};

/** On pulses only what heats is shown: volts and current of one instant would flicker and mean nothing. */
const pulsingOutput = (heat: SweepRun['heat'], madeOhm: number): LiveFrame['output'] => {
  const { heatVolt } = heat;
  const milliamp = milliampOf(heat, madeOhm, undefined);
  return {
    pulsing: true,
    ...(heatVolt === undefined ? {} : { heatVolt }),
    ...(milliamp === undefined ? {} : { milliamp }),
    ...(heatVolt === undefined || milliamp === undefined
      ? {}
      : { watt: Math.abs((heatVolt * milliamp) / MILLI) }),
  };
};

const linkOf = (box: Box, choices: ReturnType<LiveParts['choices']>): LiveFrame['link'] => {
  const problem = box.link.problem;
  return {
    state: box.link.state,
    simulated: box.isSimulated,
    ...(problem === undefined || box.isLive ? {} : { reason: problem.message }),
    ...(choices === undefined ? {} : { choices: [...choices] }),
  };
};

/** How long the box goes on without the host: as armed, or as it would be armed. */
const boxOf = (box: Box, engine: SweepRun, vital: Vital | undefined): LiveFrame['box'] => {
  const deadManMs = engine.output.armed?.leaseMs ?? box.leaseMs;
  return {
    state: vital?.state ?? 'unknown',
    ...(vital === undefined ? {} : { boxMs: vital.boxMs }),
    ...(deadManMs === undefined ? {} : { deadManMs }),
  };
};

const hurried = (progress: Progress, speed: number): Progress => ({
  ...progress,
  minutesLeft: progress.minutesLeft / speed,
});

/** Everything a screen needs to draw the present moment. */
export const liveFrameOf = (parts: LiveParts): LiveFrame => {
  const { jobId, state, box, engine, hand, watch, present, lapsed, owedPause, trouble } = parts;
  const sweep = openSweep(state);
  const step = currentStep(sweep);
  const vital = box.isLive ? engine.vital : undefined;
  const trip = tripOf(state.trip, vital, box.tripTold);
  return {
    jobId,
    lastN: state.lastN,
    link: linkOf(box, parts.choices()),
    box: boxOf(box, engine, vital),
    output: outputOf(engine, vital),
    waiting: hand.sweep === undefined ? engine.waitingNow() : hand.waitingNow(),
    ...(step === undefined
      ? {}
      : { step: { stepId: step.stepId, leg: step.leg, aim: step.aim, why: step.why } }),
    ...(sweep === undefined ? {} : { progress: hurried(progressOf(sweep), parts.needleSpeed) }),
    ...(trip === undefined ? {} : { trip }),
    ...(state.attending === undefined ? {} : { attending: state.attending }),
    ...(watch === undefined ? {} : { watch }),
    ...(lapsed.length === 0 ? {} : { lapsed: [...lapsed] }),
    ...(owedPause === undefined ? {} : { owedPause }),
    ...(trouble === undefined ? {} : { readOnly: trouble.message }),
    present: [...present],
  };
};
