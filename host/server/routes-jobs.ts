import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { refuse, type Refused } from '../core/result';
import { jobCommand } from '../job/schema/commands';
import { foldJob } from '../job/state/fold';
import { opening } from '../job/schema/gauge';
import { folderName } from '../job/schema/values';
import { answerWith, checked } from './answer';
import type { RouteParts } from './route-parts';
import type { DeskDoor } from './bench-door';
import { signatureOf } from './routes-gate';

const jobPath = z.object({ jobId: folderName });
/** Who asks is known from the connection: a name in the message would be anybody's. */
const commandBody = z.strictObject({ command: jobCommand });

/** Jobs by HTTP: for programs, and for a page that starts a job. Screens follow a job on their socket. */
export function jobRoutes(app: FastifyInstance, { bench, computer, gate }: RouteParts): void {
  const openDesk = async (request: FastifyRequest, reply: FastifyReply): Promise<DeskDoor | undefined> => {
    const path = jobPath.safeParse(request.params);
    const opened = path.success ? await bench.openJob(path.data.jobId) : noSuchAddress;
    if (opened.kind === 'desk') return opened.desk;
    const isThere = path.success && !NOT_THERE.includes(opened.code);
    if (isThere) await answerWith(reply, opened);
    else await reply.code(404).send(opened);
    return undefined;
  };
  app.get('/api/jobs', () => bench.listJobs());
  app.post('/api/jobs', async (request, reply) => {
    const asked = checked(opening, request.body);
    if ('kind' in asked) return answerWith(reply, asked);
    const made = await bench.createJob(asked, signatureOf(gate.visitorOf(request.raw)));
    return answerWith(reply, made.kind === 'refused' ? made : { jobId: made.desk.jobId });
  });
  app.get('/api/jobs/:jobId', async (request, reply) => {
    const desk = await openDesk(request, reply);
    if (desk === undefined) return reply;
    const events = desk.eventsAfter(0);
    return answerWith(reply, { state: foldJob(events), events, live: desk.live() });
  });
  app.get('/api/jobs/:jobId/findings', async (request, reply) => {
    const desk = await openDesk(request, reply);
    if (desk === undefined) return reply;
    const state = foldJob(desk.eventsAfter(0));
    return answerWith(
      reply,
      state === undefined ? refuse('JOB_EMPTY', 'the job has no opening') : await computer.findings(state),
    );
  });
  app.post('/api/jobs/:jobId/commands', async (request, reply) => {
    const asked = checked(commandBody, request.body);
    if ('kind' in asked) return answerWith(reply, asked);
    const desk = await openDesk(request, reply);
    if (desk === undefined) return reply;
    return answerWith(reply, await desk.submit(asked.command, signatureOf(gate.visitorOf(request.raw))));
  });
}

/** Refusals of a bench for a job whose folder or journal does not exist. */
const NOT_THERE: readonly string[] = ['JOURNAL_MISSING', 'JOB_ID', 'NO_SUCH_JOB'];

const noSuchAddress: Refused = refuse(
  'NOT_FOUND',
  'There is no job of this name: a job id is the name of its folder.',
);
