import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { folderName } from '../job/schema/values';
import { refuse } from '../refusals';
import { answerWith, sendPdf } from './answer';
import type { DrawnJob } from './record/record-desk';
import type { RouteParts, ServedJob } from './route-parts';

const jobPath = z.object({ jobId: folderName });
const filePath = jobPath.extend({ form: z.enum(['a4', 'letter', 'label']) });

/** The record of a job: its sheets to look at and to print, and files to take away. */
export function recordRoutes(app: FastifyInstance, { bench, records }: RouteParts): void {
  const openJob = async (request: FastifyRequest): Promise<ServedJob | undefined> => {
    const path = jobPath.safeParse(request.params);
    const opened = path.success ? await bench.openJob(path.data.jobId) : undefined;
    return opened === undefined || 'kind' in opened ? undefined : opened;
  };
  const noSuchJob = (reply: FastifyReply) => answerWith(reply, refuse('NOT_FOUND', { isJob: true }));
  app.get('/api/jobs/:jobId/record', async (request, reply) => {
    const job = await openJob(request);
    return job === undefined
      ? noSuchJob(reply)
      : answerWith(reply, await records.sheets(await drawnJob(job)));
  });
  app.get('/api/jobs/:jobId/record/:form', async (request, reply) => {
    const path = filePath.safeParse(request.params).data;
    const job = path === undefined ? undefined : await openJob(request);
    if (path === undefined || job === undefined) return noSuchJob(reply);
    const bytes = await records.file(await drawnJob(job), path.form);
    if ('kind' in bytes) return answerWith(reply, bytes);
    return sendPdf(reply, bytes, `${job.jobId}-${path.form === 'label' ? 'label' : 'record'}`);
  });
}

const drawnJob = async ({ jobId, events, photographs }: ServedJob): Promise<DrawnJob> => ({
  events,
  photographs: await photographs.all(),
  photographsAt: `/api/jobs/${encodeURIComponent(jobId)}/photographs`,
});
