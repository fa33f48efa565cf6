import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import { jobCommand } from '../job/schema/commands';
import { opening } from '../job/schema/gauge';
import { count, folderName } from '../job/schema/values';
import { answerWith, checked } from './answer';
import type { RouteParts, ServedJob } from './route-parts';
import { signatureOf } from './routes-gate';

const jobPath = z.object({ jobId: folderName });
/** Who asks is known from the connection: a name in the message would be anybody's. */
const commandBody = z.strictObject({ command: jobCommand });

const boxBody = z.strictObject({ boxSerial: count });

/** Jobs by HTTP: for programs, and for a page that starts a job. Screens follow a job on their socket. */
export function jobRoutes(app: FastifyInstance, { bench, computer, gate }: RouteParts): void {
  const openJob = async (request: FastifyRequest, reply: FastifyReply): Promise<ServedJob | undefined> => {
    const path = jobPath.safeParse(request.params);
    const opened = path.success ? await bench.openJob(path.data.jobId) : noSuchAddress;
    if (!('kind' in opened)) return opened;
    await answerWith(reply, opened);
    return undefined;
  };
  app.get('/api/jobs', () => bench.jobs());
  app.post('/api/jobs', async (request, reply) => {
    const asked = checked(opening, request.body);
    if ('kind' in asked) return answerWith(reply, asked);
    const made = await bench.createJob(asked, signatureOf(gate.visitorOf(request.raw)));
    return answerWith(reply, 'kind' in made ? made : { jobId: made.jobId });
  });
  app.get('/api/jobs/:jobId', async (request, reply) => {
    const job = await openJob(request, reply);
    if (job === undefined) return reply;
    const { state, events, live } = job;
    return answerWith(reply, { state, events, live });
  });
  app.get('/api/jobs/:jobId/findings', async (request, reply) => {
    const job = await openJob(request, reply);
    if (job === undefined) return reply;
    return answerWith(reply, await computer.findings(job.state));
  });
  /** Which of several boxes is on this job's gauge. */
  app.post('/api/jobs/:jobId/box', async (request, reply) => {
    const asked = checked(boxBody, request.body);
    if ('kind' in asked) return answerWith(reply, asked);
    const job = await openJob(request, reply);
    if (job === undefined) return reply;
    const assigned = bench.assignBox(job.jobId, asked.boxSerial);
    return answerWith(reply, assigned === 'assigned' ? { kind: 'assigned' } : assigned);
  });
  app.post('/api/jobs/:jobId/commands', async (request, reply) => {
    const asked = checked(commandBody, request.body);
    if ('kind' in asked) return answerWith(reply, asked);
    const job = await openJob(request, reply);
    if (job === undefined) return reply;
    const outcome = await job.submit(asked.command, signatureOf(gate.visitorOf(request.raw)));
    return answerWith(
      reply,
      outcome.kind === 'accepted' ? { kind: 'accepted', upToN: outcome.upToN } : outcome,
    );
  });
}

const noSuchAddress: Refused = refuse('NOT_FOUND', { isJob: true });
