import fastifyStatic from '@fastify/static';
import { fastify, type FastifyInstance, type FastifyReply } from 'fastify';
import type { z } from 'zod';
import { isRefused, refuse, type Refused } from '../core/result';
import { explain } from '../job/explain';
import type { BenchDoor } from './bench-door';
import type { BoxBay } from './box-bay';
import type { Callers } from './callers';
import type { Computer } from './computer';
import { securityHeaders } from './headers';
import { attachLive } from './live';
import { boxRoutes } from './routes-box';
import { jobRoutes } from './routes-jobs';

export type AppParts = {
  readonly bench: BenchDoor;
  readonly bay: BoxBay;
  readonly computer: Computer;
  readonly callers: Callers;
  /** The built page; left out, only the API is served. */
  readonly webFolder?: string | undefined;
  readonly version: string;
};

const MOST_BODY_BYTES = 256 * 1024;

/** The whole host as a web application, without listening: tests and the command line decide where. */
export async function createServerApp(parts: AppParts): Promise<FastifyInstance> {
  const app = fastify({ bodyLimit: MOST_BODY_BYTES, forceCloseConnections: true });
  // A form of another site can send plain text without asking first; it cannot send JSON.
  app.removeContentTypeParser('text/plain');
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(securityHeaders);
    const { host, origin } = request.headers;
    if (parts.callers.isKnownHost(host) && parts.callers.isKnownOrigin(origin)) return;
    await reply
      .code(403)
      .send(refuse('UNKNOWN_CALLER', 'This host answers only to its own name and address.'));
  });
  app.setErrorHandler(async (error, _request, reply) => {
    const status = statusOf(error);
    const message =
      status < 500 && error instanceof Error
        ? error.message
        : 'The host could not do this; its work goes on.';
    await reply.code(status).send(refuse('REQUEST_FAILED', message));
  });
  app.setNotFoundHandler(async (_request, reply) => {
    await reply.code(404).send(refuse('NOT_FOUND', 'There is nothing under this address.'));
  });
  boxRoutes(app, parts);
  jobRoutes(app, parts);
  if (parts.webFolder !== undefined) {
    await app.register(fastifyStatic, { root: parts.webFolder, cacheControl: true, maxAge: 0, etag: true });
  }
  const endLive = attachLive(app.server, parts.callers, { bench: parts.bench, bay: parts.bay });
  app.addHook('preClose', endLive);
  return app;
}

const statusOf = (error: unknown): number =>
  error instanceof Error && 'statusCode' in error && typeof error.statusCode === 'number'
    ? error.statusCode
    : 500;

/** Checks a body at the edge; a wrong one is answered with the place and the reason. */
export function checked<Schema extends z.ZodType>(schema: Schema, body: unknown): z.infer<Schema> | Refused {
  const result = schema.safeParse(body);
  return result.success ? result.data : refuse('BAD_REQUEST', explain(result.error));
}

/** A refusal is an answer, with a status that programs can test. */
export async function answerWith(reply: FastifyReply, result: object): Promise<void> {
  const isRefusal = 'kind' in result && typeof result.kind === 'string' && isRefused({ kind: result.kind });
  await reply.code(isRefusal ? 422 : 200).send(result);
}
