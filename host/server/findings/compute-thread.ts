import { parentPort } from 'node:worker_threads';
import { compute } from './findings';
import type { FindingTask } from './tasks';

export type ThreadQuestion = { readonly id: number; readonly task: FindingTask };

// Fits and searches take seconds; in the main thread they would hold up the heartbeats that keep the output closed.
parentPort?.on('message', ({ id, task }: ThreadQuestion) =>
  parentPort?.postMessage({ id, answer: compute(task) }),
);
