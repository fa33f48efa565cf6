import { Worker } from 'node:worker_threads';
import { systemClock, type LinkClock } from '../link';

/** What a thread is told; it answers with the same id. */
export type ThreadQuestion<Task> = { readonly id: number; readonly task: Task };

/** Answers a task; a thread in earnest, the function itself in tests. */
export type Reckoner<Task, Answer> = { reckon(task: Task): Promise<Answer>; close(): Promise<void> };

const LONGEST_RECKONING_MS = 60_000;

type Asked<Task, Answer> = {
  readonly task: Task;
  readonly resolve: (answer: Answer) => void;
  readonly reject: (reason: Error) => void;
};

/**
 * Computes in a thread of its own, one task after another. A task that takes longer than a minute, counted from the start
 * of the work on it, is ended with its thread; what waits behind it goes on in a new one.
 */
export function reckonInThread<Task, Answer>(
  program: URL,
  clock: LinkClock = systemClock,
): Reckoner<Task, Answer> {
  const queue: Asked<Task, Answer>[] = [];
  let worker: Worker | undefined;
  let running:
    | { readonly asked: Asked<Task, Answer>; readonly id: number; readonly cancel: () => void }
    | undefined;
  let lastId = 0;
  const settle = (how: (asked: Asked<Task, Answer>) => void): void => {
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
    worker.postMessage({ id: lastId, task: asked.task } satisfies ThreadQuestion<Task>);
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
