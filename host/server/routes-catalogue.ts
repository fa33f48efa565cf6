import type { FastifyInstance, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { folderName, name } from '../job/schema/values';
import { answerWith, checked } from './answer';
import type { RouteParts } from './route-parts';

const jobPath = z.object({ jobId: folderName });
const keepBody = z.strictObject({ model: name.optional() });

/** A job and the catalogue of this host: what it has of the job, and keeping its curves. */
export function catalogueRoutes(app: FastifyInstance, { catalogue }: RouteParts): void {
  const jobOf = (request: FastifyRequest): string => jobPath.safeParse(request.params).data?.jobId ?? '';
  app.get('/api/jobs/:jobId/catalogue', async (request, reply) =>
    answerWith(reply, await catalogue.lookUp(jobOf(request))),
  );
  app.post('/api/jobs/:jobId/catalogue', async (request, reply) => {
    const asked = checked(keepBody, request.body);
    return answerWith(reply, 'kind' in asked ? asked : await catalogue.keep(jobOf(request), asked.model));
  });
}
