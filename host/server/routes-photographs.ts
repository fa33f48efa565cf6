import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { PHOTOGRAPH_LIMITS } from '../job/schema/photograph';
import { photographSubjects } from '../job/schema/photograph-subjects';
import { folderName, name } from '../job/schema/values';
import { refuse } from '../refusals';
import { answerWith, checked } from './answer';
import type { RouteParts, ServedJob } from './route-parts';
import { signatureOf } from './routes-gate';

const path = z.object({ jobId: folderName, photographId: name.optional() });
const question = z.strictObject({ of: z.enum(photographSubjects), title: name.optional() });

/** Room for a picture that is refused by its own sentence and not by the length of its request. */
const MOST_BODY_BYTES = PHOTOGRAPH_LIMITS.mostBytes + 64 * 1024;
const PICTURES = ['image/jpeg', 'image/png'];

/** The photographs of a job. A picture is the body itself; what it is of stands in the address. */
export async function photographRoutes(
  app: FastifyInstance,
  { bench, gate }: Pick<RouteParts, 'bench' | 'gate'>,
): Promise<void> {
  const openJob = async (params: unknown): Promise<ServedJob | undefined> => {
    const read = path.safeParse(params);
    const opened = read.success ? await bench.openJob(read.data.jobId) : undefined;
    return opened === undefined || 'kind' in opened ? undefined : opened;
  };
  // In a scope of its own: no other route takes a picture.
  await app.register((scope, _options, done) => {
    scope.addContentTypeParser(
      PICTURES,
      { parseAs: 'buffer' },
      (_request: unknown, body: Buffer, taken: (error: null, body: Buffer) => void) => taken(null, body),
    );
    scope.setErrorHandler(async (error, _request, reply) => {
      const refused = refusalOf(error);
      if (refused === undefined) throw error;
      return answerWith(reply, refused);
    });
    scope.post('/api/jobs/:jobId/photographs', { bodyLimit: MOST_BODY_BYTES }, async (request, reply) => {
      const asked = checked(question, request.query);
      if ('kind' in asked) return answerWith(reply, asked);
      const job = await openJob(request.params);
      if (job === undefined) return answerWith(reply, noSuchJob);
      if (!Buffer.isBuffer(request.body)) return answerWith(reply, noPicture);
      const { of, title } = asked;
      const given = { bytes: request.body, of, ...(title === undefined ? {} : { title }) };
      const added = await job.photographs.add(given, signatureOf(gate.visitorOf(request.raw)));
      return answerWith(reply, added.kind === 'refused' ? added : { kind: 'accepted', upToN: added.upToN });
    });
    done();
  });
  app.get('/api/jobs/:jobId/photographs/:photographId', async (request, reply) => {
    const job = await openJob(request.params);
    if (job === undefined) return answerWith(reply, noSuchJob);
    const found = await job.photographs.one(path.parse(request.params).photographId ?? '');
    if (found.kind === 'refused') return answerWith(reply, found);
    // Deleted is deleted: no browser keeps it.
    return reply.type(`image/${found.kind}`).header('cache-control', 'no-store').send(found.bytes);
  });
}

const noSuchJob = refuse('NOT_FOUND', { isJob: true });
const noPicture = refuse('PHOTOGRAPH_NO_PICTURE', {
  why: 'it was sent as something else than image/jpeg or image/png',
});

/** What the server says of a body before a route sees it. Source: Fastify, Errors. */
function refusalOf(error: unknown): ReturnType<typeof refuse> | undefined {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  if (code === 'FST_ERR_CTP_BODY_TOO_LARGE') return refuse('PHOTOGRAPH_TOO_LARGE', PHOTOGRAPH_LIMITS);
  return code === 'FST_ERR_CTP_INVALID_MEDIA_TYPE' ? noPicture : undefined;
}
