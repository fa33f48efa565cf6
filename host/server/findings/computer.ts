import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type {
  CheckFinding,
  CurveFinding,
  DiagnosisFinding,
  Findings,
  SenderFinding,
  TrimFinding,
} from '../../job/findings';
import type { JobState } from '../../job/state/state';
import { tasksOf, type FindingTask } from './tasks';
import type { compute } from './findings';
import type { Reckoner } from '../in-thread';

/** Computes what a job's readings mean, off the thread that keeps the box alive. */
export type Computer = {
  findings(state: JobState): Promise<Findings | Refused>;
  /** What the pairs of a proof say of a sender. Nothing of it is kept here. */
  readonly reEstimate: (state: JobState, senderId: string) => Promise<ReEstimated>;
  close(): Promise<void>;
};

type Answer = ReturnType<typeof compute>;
type ReEstimated = Extract<Answer, { readonly reEstimate: unknown }>['reEstimate'];
/** Jobs open at once, times their curves and senders, with room to spare. */
const MOST_KEPT = 64;

export function createComputer(reckoner: Reckoner<FindingTask, Answer>): Computer {
  const kept = new Map<string, Promise<Answer>>();
  const answerTo = (task: FindingTask): Promise<Answer> => {
    const key = JSON.stringify(task);
    const known = kept.get(key);
    if (known !== undefined) return known;
    const fresh = reckoner.reckon(task);
    kept.set(key, fresh);
    fresh.catch(() => kept.delete(key));
    const [oldest] = kept.keys();
    if (kept.size > MOST_KEPT && oldest !== undefined) kept.delete(oldest);
    return fresh;
  };
  return {
    async findings(state) {
      const tasks = tasksOf(state);
      try {
        const [check, diagnosis, curve, senders, trimmed] = await Promise.all([
          tasks.check && answerTo(tasks.check).then(checkOnly),
          tasks.diagnosis && answerTo(tasks.diagnosis).then(diagnosisOnly),
          tasks.curve && answerTo(tasks.curve).then(curveOnly),
          Promise.all(tasks.senders.map((task) => answerTo(task).then(senderOnly))),
          tasks.trim && answerTo(tasks.trim).then(trimOnly),
        ]);
        return {
          senders,
          ...(check === undefined ? {} : { check }),
          ...(diagnosis === undefined ? {} : { diagnosis }),
          ...(curve === undefined ? {} : { curve }),
          ...(trimmed === undefined ? {} : { trim: trimmed }),
        };
      } catch {
        return refuse('COMPUTING_FAILED');
      }
    },
    reEstimate: async (state, senderId) => {
      const answer = await reckoner.reckon({ kind: 're-estimate', state, senderId });
      return 'reEstimate' in answer ? answer.reEstimate : notThat();
    },
    close: () => reckoner.close(),
  };
}

const notThat = (): never => {
  throw new Error('an answer of another kind came back');
};
const curveOnly = (answer: Answer): CurveFinding => ('curve' in answer ? answer : notThat());
const senderOnly = (answer: Answer): SenderFinding => ('fitted' in answer ? answer : notThat());
const checkOnly = (answer: Answer): CheckFinding => ('groundWorth' in answer ? answer : notThat());
const diagnosisOnly = (answer: Answer): DiagnosisFinding => ('suspects' in answer ? answer : notThat());
const trimOnly = (answer: Answer): TrimFinding => ('trimmed' in answer ? answer : notThat());
