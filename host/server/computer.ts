import { Worker } from 'node:worker_threads';
import { refuse, type Refused } from '../core/result';
import type { CheckFinding, CurveFinding, Findings, SenderFinding, TrimFinding } from '../job/findings';
import type { JobState } from '../job/state';
import { tasksOf, type compute, type FindingTask } from './findings';
import type { ThreadQuestion } from './compute-thread';

/** Computes what a job's readings mean, off the thread that keeps the box alive. */
export type Computer = {
  findings(state: JobState): Promise<Findings | Refused>;
  close(): Promise<void>;
};

type Answer = ReturnType<typeof compute>;
/** Answers a task; the thread in earnest, the function itself in tests. */
export type Reckoner = { reckon(task: FindingTask): Promise<Answer>; close(): Promise<void> };

/** Jobs open at once, times their curves and senders, with room to spare. */
const MOST_KEPT = 64;

export function createComputer(reckoner: Reckoner): Computer {
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
        const [check, curve, senders, trimmed] = await Promise.all([
          tasks.check && answerTo(tasks.check).then(checkOnly),
          tasks.curve && answerTo(tasks.curve).then(curveOnly),
          Promise.all(tasks.senders.map((task) => answerTo(task).then(senderOnly))),
          tasks.trim && answerTo(tasks.trim).then(trimOnly),
        ]);
        return {
          senders,
          ...(check === undefined ? {} : { check }),
          ...(curve === undefined ? {} : { curve }),
          ...(trimmed === undefined ? {} : { trim: trimmed }),
        };
      } catch {
        return refuse(
          'COMPUTING_FAILED',
          'The computation did not come to an end; the readings are safe in the journal.',
        );
      }
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
const trimOnly = (answer: Answer): TrimFinding => ('trimmed' in answer ? answer : notThat());

const LONGEST_RECKONING_MS = 60_000;

/** Computes in a thread of its own, one task after another. A thread that hangs is ended and replaced. */
export function reckonInThread(program: URL): Reckoner {
  let worker: Worker | undefined;
  let lastId = 0;
  const waiting = new Map<number, { resolve: (answer: Answer) => void; reject: (reason: Error) => void }>();
  const fail = (reason: Error): void => {
    const failed = [...waiting.values()];
    waiting.clear();
    const old = worker;
    worker = undefined;
    void old?.terminate();
    for (const each of failed) each.reject(reason);
  };
  const start = (): Worker => {
    const fresh = new Worker(program);
    fresh.unref();
    fresh.on('message', ({ id, answer }: { id: number; answer: Answer }) => {
      waiting.get(id)?.resolve(answer);
      waiting.delete(id);
    });
    fresh.on('error', fail);
    return fresh;
  };
  return {
    reckon: (task) =>
      new Promise<Answer>((resolve, reject) => {
        lastId += 1;
        const id = lastId;
        const timer = setTimeout(
          () => fail(new Error('the computation took too long')),
          LONGEST_RECKONING_MS,
        );
        const settled =
          <T>(then: (value: T) => void) =>
          (value: T): void => {
            clearTimeout(timer);
            then(value);
          };
        waiting.set(id, { resolve: settled(resolve), reject: settled(reject) });
        worker ??= start();
        worker.postMessage({ id, task } satisfies ThreadQuestion);
      }),
    close: async () => {
      const old = worker;
      fail(new Error('the host is closing'));
      await old?.terminate();
    },
  };
}
