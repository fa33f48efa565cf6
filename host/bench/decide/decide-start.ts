import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import {
  currentStep,
  openSweep,
  runningSweep,
  type CommandOf,
  type EventBody,
  type JobState,
} from '../../job';
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
  const body = startOf(state, command);
  if (body.kind === 'refused') return body;
  return hindrance() ?? claim() ?? body;
};

const startOf = (state: JobState, command: StartCommand): EventBody | Refused => {
  switch (command.kind) {
    case 'start-sweep':
      return runningSweep(state) === undefined ? planSweep(state, command.choice) : refuse('SWEEP_RUNNING');
    case 'resume-sweep': {
      const sweep = openSweep(state) ?? state.sweeps.filter((each) => currentStep(each) !== undefined).at(-1);
      return sweep === undefined ? refuse('NO_SWEEP') : { kind: 'sweep-resumed', sweepId: sweep.sweepId };
    }
  }
};
