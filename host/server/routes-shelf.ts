import type { FastifyInstance, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { folderName } from '../job/schema/values';
import { refuse } from '../refusals';
import { answerWith, checked } from './answer';
import type { RouteParts } from './route-parts';
import { signatureOf } from './routes-gate';

const jobPath = z.object({ jobId: folderName });
const deletedPath = z.object({ name: folderName });
const archiveBody = z.strictObject({ archived: z.boolean() });

/** Where jobs stand on the shelf: archived, deleted and brought back, begun again; and the example to look at. */
export function shelfRoutes(app: FastifyInstance, { bench, gate }: RouteParts): void {
  const jobOf = (request: FastifyRequest): string => jobPath.safeParse(request.params).data?.jobId ?? '';
  const byOf = (request: FastifyRequest): string => signatureOf(gate.visitorOf(request.raw));
  app.post('/api/jobs/:jobId/archive', async (request, reply) => {
    const asked = checked(archiveBody, request.body);
    return answerWith(
      reply,
      'kind' in asked ? asked : await bench.archiveJob(jobOf(request), asked.archived),
    );
  });
  app.post('/api/jobs/:jobId/delete', async (request, reply) =>
    answerWith(reply, await bench.deleteJob(jobOf(request))),
  );
  app.post('/api/jobs/:jobId/duplicate', async (request, reply) => {
    const made = await bench.duplicateJob(jobOf(request), byOf(request));
    return answerWith(reply, 'kind' in made ? made : { jobId: made.jobId });
  });
  app.post('/api/deleted/:name/restore', async (request, reply) => {
    const path = deletedPath.safeParse(request.params);
    return answerWith(reply, path.success ? await bench.restoreJob(path.data.name) : notThere);
  });
  app.post('/api/example', async (_request, reply) => answerWith(reply, await bench.exampleJob()));
}

const notThere = refuse('NOT_FOUND', { isJob: true });
