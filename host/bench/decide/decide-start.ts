import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import {
  currentStep,
  openSweep,
  runningSweep,
  type CommandOf,
  type EventBody,
  type JobState,
  type Sweep,
} from '../../job';
import { planHand } from '../hand/plan-hand';
import { pastStabiliser, shorted } from './shorted';
import { planSweep } from '../sweep/plan-sweep';

/** The commands after which the box may drive. */
export type StartCommand = CommandOf<'start-sweep' | 'resume-sweep'>;

export type StartTools = {
  /** What keeps the output open, whatever a person wants. */
  readonly hindrance: () => Refused | undefined;
  /** Takes the box from whoever else has it, or tells who drives it. */
  readonly claim: () => Refused | undefined;
};

/** What starts or goes on with a sweep, or why not. The box is taken last: a start that comes to nothing disturbs nobody. */
export const decideStart = (
  state: JobState,
  command: StartCommand,
  { hindrance, claim }: StartTools,
): EventBody | Refused => {
  const burns = pastStabiliser(state) ?? shortAsked(state, command);
  if (burns !== undefined) return burns;
  const body = startOf(state, command);
  if (body.kind === 'refused') return body;
  return hindrance() ?? claim() ?? body;
};

const shortAsked = (state: JobState, command: StartCommand): Refused | undefined =>
  command.kind === 'start-sweep'
    ? shorted(state, [command.choice.fromOhm, command.choice.toOhm, ...(command.choice.resistancesOhm ?? [])])
    : undefined;

/** The sweep that is taken up again: the open one, or the newest in which something is left. */
const toResume = (state: JobState): Sweep | undefined =>
  openSweep(state) ?? state.sweeps.filter((each) => currentStep(each) !== undefined).at(-1);

/** Nothing of it is driven by a box. */
export const isStartByHand = (state: JobState, command: StartCommand): boolean =>
  command.kind === 'start-sweep' ? command.choice.hand !== undefined : toResume(state)?.hand !== undefined;

const startOf = (state: JobState, command: StartCommand): EventBody | Refused => {
  switch (command.kind) {
    case 'start-sweep':
      if (runningSweep(state) !== undefined) return refuse('SWEEP_RUNNING');
      return command.choice.hand === undefined
        ? planSweep(state, command.choice)
        : planHand(state, command.choice, command.choice.hand);
    case 'resume-sweep': {
      const sweep = toResume(state);
      return sweep === undefined ? refuse('NO_SWEEP') : { kind: 'sweep-resumed', sweepId: sweep.sweepId };
    }
  }
};
