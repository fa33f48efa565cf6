import { Worker } from 'node:worker_threads';
import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import { systemClock, type LinkClock } from '../../link';
import type { CheckFinding, CurveFinding, Findings, SenderFinding, TrimFinding } from '../../job/findings';
import type { JobState } from '../../job/state/state';
import { tasksOf, type FindingTask } from './tasks';
import type { compute } from './findings';
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
        return refuse('COMPUTING_FAILED');
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

type Asked = {
  readonly task: FindingTask;
  readonly resolve: (answer: Answer) => void;
  readonly reject: (reason: Error) => void;
};

/**
 * Computes in a thread of its own, one task after another. A task that takes longer than a minute, counted from the start
 * of the work on it, is ended with its thread; what waits behind it goes on in a new one.
 */
export function reckonInThread(program: URL, clock: LinkClock = systemClock): Reckoner {
  const queue: Asked[] = [];
  let worker: Worker | undefined;
  let running: { readonly asked: Asked; readonly id: number; readonly cancel: () => void } | undefined;
  let lastId = 0;
  const settle = (how: (asked: Asked) => void): void => {
    const done = running;
    running = undefined;
    done?.cancel();
    if (done !== undefined) how(done.asked);
    next();
  };
  const replace = (reason: Error): void => {
    const old = worker;
    worker = undefined;
    void old?.terminate();
    settle((asked) => asked.reject(reason));
  };
  const start = (): Worker => {
    const fresh = new Worker(program);
    fresh.unref();
    fresh.on('message', ({ id, answer }: { id: number; answer: Answer }) => {
      if (running?.id === id) settle((asked) => asked.resolve(answer));
    });
    fresh.on('error', (error) => {
      if (fresh === worker) replace(error instanceof Error ? error : new Error(String(error)));
    });
    return fresh;
  };
  const next = (): void => {
    if (running !== undefined) return;
    const asked = queue.shift();
    if (asked === undefined) return;
    lastId += 1;
    const tooLong = (): void => replace(new Error('the computation took too long'));
    running = { asked, id: lastId, cancel: clock.after(LONGEST_RECKONING_MS, tooLong) };
    worker ??= start();
    worker.postMessage({ id: lastId, task: asked.task } satisfies ThreadQuestion);
  };
  return {
    reckon: (task) =>
      new Promise<Answer>((resolve, reject) => {
        queue.push({ task, resolve, reject });
        next();
      }),
    close: async () => {
      const old = worker;
      const reason = new Error('the host is closing');
      for (const asked of queue.splice(0)) asked.reject(reason);
      replace(reason);
      await old?.terminate();
    },
  };
}
