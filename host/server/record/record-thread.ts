import { parentPort } from 'node:worker_threads';
import type { ThreadQuestion } from '../in-thread';
import { draw, type DrawTask } from './draw-record';

// Fonts, searches and compression take a second or more: none of it may hold up the heartbeats.
parentPort?.on(
  'message',
  ({ id, task }: ThreadQuestion<DrawTask>) =>
    void draw(task).then((answer) => parentPort?.postMessage({ id, answer })),
);
