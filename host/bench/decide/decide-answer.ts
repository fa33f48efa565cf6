import { hasReachedFullScale } from '../../core/by-hand';
import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import {
  currentStep,
  runningSweep,
  scaleOf,
  type CommandOf,
  type EventBody,
  type JobState,
  type Sweep,
  type SweepStep,
} from '../../job';
import { offScale } from './off-scale';
import type { SweepRun } from '../sweep/sweep-run';

/** `superseded`: someone was faster; the answer is kept in the journal and told to the person who gave it. */
export type AnswerDecision =
  | { readonly kind: 'bodies'; readonly bodies: EventBody[] }
  | { readonly kind: 'superseded'; readonly body: EventBody; readonly refused: Refused }
  | Refused;

export type Found = { readonly kind: 'current'; readonly sweep: Sweep; readonly step: SweepStep };

export const findStep = (
  state: JobState,
  stepId: string,
  given: number | undefined,
): Found | AnswerDecision => {
  const step = state.sweeps.flatMap((sweep) => sweep.steps).find((each) => each.stepId === stepId);
  if (step === undefined) return refuse('NO_SUCH_ENTRY', { what: 'step', id: stepId });
  if (step.state.kind === 'skipped') return refuse('STEP_DONE');
  if (step.state.kind === 'read') return superseded(state, step.state.readingId, { stepId, given });
  const sweep = runningSweep(state);
  if (sweep === undefined) return refuse('SWEEP_PAUSED');
  if (currentStep(sweep)?.stepId !== stepId) return refuse('STEP_NOT_CURRENT');
  return { kind: 'current', sweep, step };
};

const superseded = (
  state: JobState,
  readingId: string,
  { stepId, given }: { readonly stepId: string; readonly given: number | undefined },
): AnswerDecision => {
  const first = state.readings.find((each) => each.readingId === readingId);
  const answered =
    first === undefined
      ? { by: 'Someone' }
      : { by: `"${first.by}"`, reading: `${first.reading} ${state.gauge.unit}` };
  return {
    kind: 'superseded',
    body: {
      kind: 'answer-superseded',
      stepId,
      byReadingId: readingId,
      ...(given === undefined ? {} : { reading: given }),
    },
    refused: refuse('ANSWER_SUPERSEDED', answered),
  };
};

/** An unknown gauge on its stop is not pressed further: what lies at still lower resistance is left out. */
export const skipsBelow = (state: JobState, sweep: Sweep, resistanceOhm: number): EventBody[] =>
  state.gauge.mechanism !== 'unknown'
    ? []
    : sweep.steps
        .filter((step) => step.state.kind === 'pending' && step.aim.kind === 'resistance')
        .filter((step) => step.aim.kind === 'resistance' && step.aim.resistanceOhm < resistanceOhm)
        .map(({ stepId }) => ({
          kind: 'step-skipped',
          stepId,
          reason: 'an unknown gauge that lies on its stop is not driven further',
        }));

/** A reading a person gives, with what the box and the clock know of it. */
export const decideReading = (
  state: JobState,
  engine: SweepRun,
  command: CommandOf<'give-reading'>,
): AnswerDecision => {
  const found = findStep(state, command.stepId, command.reading);
  if (found.kind !== 'current') return found;
  const facts = engine.facts(command.stepId, 'reading');
  if ('kind' in facts) return facts;
  const off = offScale(state, command.reading);
  if (off !== undefined) return off;
  // The box measures the volts itself.
  const { kind, supplyVolt, supplyAt, ...given } = command;
  const reading: EventBody = {
    kind: 'reading',
    readingId: `r${state.lastN + 1}`,
    sweepId: found.sweep.sweepId,
    ...facts,
    ...given,
    method: 'step',
  };
  const read = [...state.readings.filter(({ sweepId }) => sweepId === found.sweep.sweepId), command];
  const isAtEnd = command.atStop !== undefined || hasReachedFullScale(read, scaleOf(state.gauge.marks));
  const skips = isAtEnd ? skipsBelow(state, found.sweep, facts.resistanceOhm) : [];
  return { kind: 'bodies', bodies: [reading, ...skips] };
};

/** Where a person sees the needle against the mark that is sought. */
export const decideNeedle = (
  state: JobState,
  engine: SweepRun,
  command: CommandOf<'give-needle'>,
): AnswerDecision => {
  const found = findStep(state, command.stepId, undefined);
  if (found.kind !== 'current') return found;
  const facts = engine.facts(command.stepId, 'needle');
  if ('kind' in facts) return facts;
  const { resistanceOhm, uncertaintyOhm } = facts;
  const { stepId, needle } = command;
  const { sweepId } = found.sweep;
  return {
    kind: 'bodies',
    bodies: [{ kind: 'needle-seen', sweepId, stepId, resistanceOhm, uncertaintyOhm, needle }],
  };
};
