import { isKept, measured } from '../../../job/check/measured';
import {
  resistorHookUp,
  senderMeterHookUp,
  standInHookUp,
  wireMeterHookUp,
  wireOffHookUp,
  type HookUp,
} from '../../../job/hook-up';
import { question } from '../../../job/check/not-asked';
import type { JobState, Measurement } from '../../../job/state/state';
import {
  bodyOhm,
  groundStep,
  loadedVolt,
  openCircuit,
  senderOhm,
  supply,
  worthSteps,
  type MeasureStep,
} from './check-measures';
import {
  bothWays,
  lightsStep,
  onKnownLoad,
  otherGauges,
  rocking,
  unplugged,
  type CheckQuestion,
  type Job,
} from './check-questions';

export type CheckStep =
  | { readonly kind: 'as-found' }
  | { readonly kind: 'question'; readonly question: CheckQuestion }
  | MeasureStep;

/** The order in which faults that look like a wrong curve are ruled out before one is drawn. */
export function checkPlan(job: Job): readonly CheckStep[] {
  const asked = (each: CheckQuestion): CheckStep => ({ kind: 'question', question: each });
  const atTheWire: readonly CheckStep[] = [
    openCircuit(job),
    asked(onKnownLoad(job)),
    loadedVolt(job),
    asked(bothWays(job)),
    senderOhm(job),
    ...worthSteps(job),
  ];
  if (job.place === 'bench') return [{ kind: 'as-found' }, supply(job), ...atTheWire];
  return [
    { kind: 'as-found' },
    asked(otherGauges),
    asked(lightsStep),
    ...(job.gauge.quantity === 'fuel' ? [asked(rocking)] : []),
    supply(job),
    groundStep('off'),
    groundStep('lights'),
    asked(unplugged(job)),
    ...atTheWire,
    bodyOhm,
  ];
}

/** Steps that part or join the sender wire. */
const AT_THE_WIRE: readonly string[] = [
  question.senderOff,
  question.knownLoad,
  question.bothWays,
  'open-circuit-off',
  'loaded-off',
  'sender-ohm-off',
  'effective-off',
];
export const partsTheWire = (step: CheckStep): boolean => AT_THE_WIRE.includes(stepId(step));

/** Which lead goes where in a step at the wire; undefined where nothing is clipped on. */
export function hookUpOf(job: Job, step: CheckStep): HookUp | undefined {
  switch (stepId(step)) {
    case question.senderOff:
      return wireOffHookUp(job);
    case question.knownLoad:
    case question.bothWays:
      return resistorHookUp(job);
    case 'open-circuit-off':
    case 'loaded-off':
      return wireMeterHookUp(job);
    case 'sender-ohm-off':
      return senderMeterHookUp(job);
    case 'effective-off':
      return standInHookUp(job);
    default:
      return undefined;
  }
}

export const stepId = (step: CheckStep): string =>
  step.kind === 'as-found' ? 'as-found' : step.kind === 'question' ? step.question.id : step.id;

/** A measurement that was taken and that nobody has kept yet: it is shown and judged before anything else is asked. */
export const shownFirst = (
  state: Pick<JobState, 'measurements' | 'answers'>,
  step: CheckStep,
): Measurement | undefined => {
  if (step.kind !== 'measure') return undefined;
  const newest = measured(state, step.what, step.loads);
  return newest === undefined || isKept(state, newest) ? undefined : newest;
};

export function isStepDone(
  state: Pick<JobState, 'asFound' | 'measurements' | 'answers'>,
  step: CheckStep,
): boolean {
  switch (step.kind) {
    case 'as-found':
      return state.asFound.length > 0;
    case 'question':
      return state.answers[step.question.id] !== undefined;
    case 'measure':
      return measured(state, step.what, step.loads) !== undefined && shownFirst(state, step) === undefined;
  }
}
