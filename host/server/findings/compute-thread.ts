import { parentPort } from 'node:worker_threads';
import { compute } from './findings';
import type { ThreadQuestion } from '../in-thread';
import type { FindingTask } from './tasks';

// Fits and searches take seconds; in the main thread they would hold up the heartbeats that keep the output closed.
parentPort?.on('message', ({ id, task }: ThreadQuestion<FindingTask>) =>
  parentPort?.postMessage({ id, answer: compute(task) }),
);
