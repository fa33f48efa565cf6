import type { Refused } from '../../core/result';
import type { SweepStep } from '../../job';
import { wait } from '../clock';
import type { SweepRunParts } from './sweep-run-parts';
import type { Output } from '../box/output';
import { seekLimits } from './plan-sweep';
import { settleAfter } from './settle-time';
import { EXTRA_SETTLE_MS, LOW_MARGIN_MS, UNATTENDED_MS, boxKindOf } from '../rules';
import { seekNext, seekRangeOf } from './seek-step';
import { backOffFor, beyondFullScale, lowWithoutWord, seekOutcome, type Where } from './steps';
import type { Vitals } from '../box/vitals';
import type { StepShown } from './run-states';
import { withWayOut } from './way-out';

const POLL_MS = 200;
/** A back-off need not come to rest: the needle only has to be clear of where it is going. */
const BACK_OFF_FRACTION = 0.5;
/** While a mark is sought the needle is near it already and goes back no further than its friction asks. */
const SEEK_BACK_OFF_FRACTION = 0.25;

export type StepTools = SweepRunParts & {
  readonly output: Output;
  readonly vitals: Vitals;
  /** An opening under way, to be answered before anything is asked of the output again. */
  readonly closed: () => Promise<unknown>;
  readonly show: (shows: StepShown) => void;
  /** Opens the output and pauses the sweep with a reason. */
  readonly halt: (reason: string) => void;
};

/** The resistance to go to; undefined when this step is over without going anywhere. */
const aimOf = async (where: Where, tools: StepTools): Promise<number | undefined> => {
  const { sweep, step } = where;
  const state = tools.state();
  const { armed } = tools.output;
  if (armed === undefined) return undefined;
  if (step.aim.kind === 'resistance') {
    const hindrance = lowWithoutWord(state, step, armed.floorOhm) ?? beyondFullScale(state, step);
    if (hindrance === undefined) return step.aim.resistanceOhm;
    tools.halt(hindrance);
    return undefined;
  }
  // On pulses the box goes no lower than a tank's own sender: looking for a mark there would end in a refusal.
  const leastOhm = tools.vitals.latest?.isPulsing === true ? (sweep.originalLeastOhm ?? 0) : 0;
  const limits = seekLimits(sweep, { ...armed, floorOhm: Math.max(armed.floorOhm, leastOhm) });
  const range = seekRangeOf(state, sweep, { reading: step.aim.reading, leg: step.leg, limits });
  const move = await seekNext(step, range, async (ohm) => {
    const nearest = await tools.box.nearestOhm(ohm);
    return typeof nearest === 'number' ? nearest : undefined;
  });
  if (move.kind === 'try') return move.resistanceOhm;
  tools.record((now) => seekOutcome(now, where, move), state.attending);
  return undefined;
};

const backOff = async (
  ohm: number,
  { sweep, step }: Where,
  tools: StepTools,
  signal: AbortSignal,
): Promise<'made' | 'called-off' | Refused> => {
  const { clock, output, show, needleSpeed } = tools;
  const backed = await output.bring(ohm, signal);
  if (backed !== 'made') return backed;
  const why = 'going back first, so that the needle comes to the point from the right side';
  const fraction = step.aim.kind === 'mark' ? SEEK_BACK_OFF_FRACTION : BACK_OFF_FRACTION;
  const settleMs = (sweep.settleMs * fraction) / needleSpeed;
  show({ kind: 'settling', stepId: step.stepId, sinceMs: clock.nowMs(), settleMs, why });
  return (await wait(clock, settleMs, signal)) ? 'made' : 'called-off';
};

const goTo = async (
  aimOhm: number,
  where: Where,
  tools: StepTools,
  signal: AbortSignal,
): Promise<'made' | 'called-off' | Refused> => {
  const moving = { kind: 'moving', stepId: where.step.stepId } as const;
  tools.show(moving);
  const back = backOffFor(tools.state(), where, { aimOhm, output: tools.output });
  if (back !== undefined) {
    const backed = await backOff(back, where, tools, signal);
    if (backed !== 'made') return backed;
    tools.show(moving);
  }
  return tools.output.bring(aimOhm, signal);
};

/** Waits for the needle by time, and for the current by measurement; false when called off. */
const settle = async (
  step: SweepStep,
  settleMs: number,
  tools: StepTools,
  signal: AbortSignal,
): Promise<boolean> => {
  const { clock, vitals, output, show } = tools;
  const sinceMs = clock.nowMs();
  const why = `the needle of this kind of gauge needs ${Math.round(settleMs / 1_000)} s to rest`;
  show({ kind: 'settling', stepId: step.stepId, sinceMs, settleMs, why });
  if (!(await wait(clock, settleMs, signal))) return false;
  while (!vitals.isSteady(output.madeAtMs) && clock.nowMs() - sinceMs < settleMs + EXTRA_SETTLE_MS) {
    if (!(await wait(clock, POLL_MS, signal))) return false;
  }
  return true;
};

type Asking = { readonly restingSinceMs: number; readonly mustEndMs: number | undefined };

/** Asks and waits for someone to answer; what follows an answer follows from the journal. */
const ask = async (step: SweepStep, asking: Asking, tools: StepTools, signal: AbortSignal): Promise<void> => {
  const { clock, output, show } = tools;
  const { restingSinceMs, mustEndMs } = asking;
  const sinceMs = clock.nowMs();
  show({
    kind: 'answer',
    stepId: step.stepId,
    sinceMs,
    restingSinceMs,
    wants: step.aim.kind === 'mark' ? 'needle' : 'reading',
    ...(step.aim.kind === 'mark' ? { mark: step.aim.reading } : {}),
    ...(mustEndMs === undefined ? {} : { mustEndMs }),
  });
  const patienceMs = mustEndMs === undefined ? UNATTENDED_MS : Math.max(0, mustEndMs - sinceMs);
  if (!(await wait(clock, patienceMs, signal))) return;
  if (mustEndMs === undefined) {
    const minutes = UNATTENDED_MS / 60_000;
    tools.halt(`no answer for ${minutes} minutes: the output was opened; resume when you are back`);
    return;
  }
  await output.open();
  const reason = 'too little resistance to hold it longer than a few seconds';
  tools.record(() => [{ kind: 'step-skipped', stepId: step.stepId, reason }]);
};

/** One step, or one move of a seek: arm, go there from the right side, let the needle rest, ask. */
export const runStep = async (where: Where, tools: StepTools, signal: AbortSignal): Promise<void> => {
  const { sweep, step } = where;
  const { output, clock, needleSpeed } = tools;
  await tools.closed();
  if (signal.aborted) return;
  const armed = await output.arm(boxKindOf(tools.state().gauge), sweep.originalLeastOhm);
  if (signal.aborted || armed === 'called-off') return;
  if (armed.kind === 'refused') {
    tools.halt(armed.message);
    return;
  }
  const aimOhm = await aimOf(where, tools);
  if (aimOhm === undefined || signal.aborted) return;
  await tools.gate?.({ stepId: step.stepId, isShort: aimOhm < armed.floorOhm }, signal);
  if (signal.aborted) return;
  const came = await goTo(aimOhm, where, tools, signal);
  if (signal.aborted || came === 'called-off') return;
  if (came !== 'made') {
    tools.halt(withWayOut(came, sweep, tools.state().gauge));
    return;
  }
  const restingSinceMs = clock.nowMs();
  const isLow = (output.made?.madeOhm ?? Infinity) < armed.floorOhm;
  const mustEndMs = isLow ? output.madeAtMs + armed.floorTimeMs - LOW_MARGIN_MS : undefined;
  const moved = { fromOhm: output.cameFromOhm, toOhm: output.made?.madeOhm };
  // What a person reads gets the whole wait; what is looked at on the way to a mark, as much as its way needs.
  const settleMs = step.aim.kind === 'mark' ? settleAfter(sweep, moved) : sweep.settleMs;
  if (!isLow && !(await settle(step, settleMs / needleSpeed, tools, signal))) return;
  await ask(step, { restingSinceMs, mustEndMs }, tools, signal);
};
