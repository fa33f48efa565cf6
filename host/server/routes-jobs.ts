import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { refuse } from '../core/result';
import { jobCommand } from '../job/commands';
import { foldJob } from '../job/fold';
import { opening } from '../job/gauge';
import { name } from '../job/values';
import { answerWith, checked, type AppParts } from './app';

const jobPath = z.object({ jobId: name });
const commandBody = z.strictObject({ command: jobCommand, by: name });
const stopBody = z.strictObject({ by: name });

/** Jobs by HTTP: for programs, and for a page that starts a job. Screens follow a job on their socket. */
export function jobRoutes(app: FastifyInstance, { bench, computer }: AppParts): void {
  app.get('/api/jobs', () => bench.listJobs());
  app.post('/api/jobs', async (request, reply) => {
    const asked = checked(opening, request.body);
    if ('kind' in asked) return answerWith(reply, asked);
    const made = await bench.createJob(asked);
    await answerWith(reply, made.kind === 'refused' ? made : { jobId: made.desk.jobId });
  });
  app.get('/api/jobs/:jobId', async (request, reply) => {
    const opened = await bench.openJob(jobPath.parse(request.params).jobId);
    if (opened.kind === 'refused') return answerWith(reply, opened);
    const events = opened.desk.eventsAfter(0);
    await answerWith(reply, { state: foldJob(events), events, live: opened.desk.live() });
  });
  app.get('/api/jobs/:jobId/findings', async (request, reply) => {
    const opened = await bench.openJob(jobPath.parse(request.params).jobId);
    if (opened.kind === 'refused') return answerWith(reply, opened);
    const state = foldJob(opened.desk.eventsAfter(0));
    await answerWith(
      reply,
      state === undefined ? refuse('JOB_EMPTY', 'the job has no opening') : await computer.findings(state),
    );
  });
  app.post('/api/jobs/:jobId/commands', async (request, reply) => {
    const asked = checked(commandBody, request.body);
    if ('kind' in asked) return answerWith(reply, asked);
    const opened = await bench.openJob(jobPath.parse(request.params).jobId);
    await answerWith(
      reply,
      opened.kind === 'refused' ? opened : await opened.desk.submit(asked.command, asked.by),
    );
  });
  app.post('/api/jobs/:jobId/stop', async (request, reply) => {
    const asked = checked(stopBody, request.body);
    if ('kind' in asked) return answerWith(reply, asked);
    const opened = await bench.openJob(jobPath.parse(request.params).jobId);
    await answerWith(
      reply,
      opened.kind === 'refused' ? opened : { outcome: await opened.desk.stop(asked.by) },
    );
  });
}
