import type { Findings } from '../../job/findings';
import type { JobState } from '../../job/state/state';
import { checkFindingOf, curveFinding, trimFinding } from './findings';
import { senderFinding } from './sender-finding';
import { tasksOf } from './tasks';

/** Everything that is computed from a job, here and now: for commands, which drive nothing meanwhile. */
export function findingsOfJob(state: JobState): Findings {
  const tasks = tasksOf(state);
  return {
    senders: tasks.senders.map(senderFinding),
    ...(tasks.check === undefined ? {} : { check: checkFindingOf(tasks.check) }),
    ...(tasks.curve === undefined ? {} : { curve: curveFinding(tasks.curve) }),
    ...(tasks.trim === undefined ? {} : { trim: trimFinding(tasks.trim) }),
  };
}
