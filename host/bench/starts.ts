import { refuse, type Refused } from '../core/result';
import { currentStep, openSweep, runningSweep, type CommandOf, type EventBody, type JobState } from '../job';
import { planSweep } from './plan-sweep';

/** The commands after which the box may drive. */
export type StartCommand = CommandOf<'start-sweep' | 'resume-sweep'>;

/** What starts or goes on with a sweep, or why not. `hindrance` is asked last but for the plan: it takes the box. */
export const decideStart = (
  state: JobState,
  command: StartCommand,
  hindrance: () => Refused | undefined,
): EventBody | Refused => {
  switch (command.kind) {
    case 'start-sweep':
      if (runningSweep(state) !== undefined)
        return refuse('SWEEP_RUNNING', 'a sweep is running already; pause or finish it first');
      return hindrance() ?? planSweep(state, command.choice);
    case 'resume-sweep': {
      const sweep = openSweep(state) ?? state.sweeps.filter((each) => currentStep(each) !== undefined).at(-1);
      if (sweep === undefined) return refuse('NO_SWEEP', 'there is no sweep to resume; start one');
      return hindrance() ?? { kind: 'sweep-resumed', sweepId: sweep.sweepId };
    }
  }
};
