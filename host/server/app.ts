import fastifyStatic from '@fastify/static';
import { createHash, randomBytes } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fastify, type FastifyInstance } from 'fastify';
import { refuse } from '../refusals';
import { answerWith } from './answer';
import { keepRoom } from './connections';
import { Devices } from './devices';
import { createGate, needOf, type Gate, type Visitor } from './gate';
import { securityHeaders } from './headers';
import { USUAL_LIMITS, type ServerLimits } from './limits';
import { attachLive } from './live';
import { Pairing } from './pairing';
import { boxRoutes } from './routes-box';
import { clusterRoutes } from './routes-cluster';
import { catalogueRoutes } from './routes-catalogue';
import { photographRoutes } from './routes-photographs';
import { recordRoutes } from './routes-record';
import { gateRoutes } from './routes-gate';
import { jobRoutes } from './routes-jobs';
import { shelfRoutes } from './routes-shelf';
import { TokenBuckets } from './token-bucket';
import type { AppParts, RouteParts } from './route-parts';

const MOST_BODY_BYTES = 256 * 1024;
const MOST_HEAD_BYTES = 8 * 1024;
const KEEP_ALIVE_MS = 10_000;
const LOOK_FOR_SLOW_EVERY_MS = 1_000;
const TOKEN_BYTES = 16;
/** A font's name says its content: another content has another name. */
const KEPT_FOR_EVER = 'public, max-age=31536000, immutable';
const LONGEST_FOLDER_NAME = 255;

/** The whole host as a web application, without listening: tests and the command line decide where. */
export async function createServerApp(parts: AppParts): Promise<FastifyInstance> {
  const limits = { ...USUAL_LIMITS, ...parts.limits };
  const app = fastify({
    bodyLimit: MOST_BODY_BYTES,
    forceCloseConnections: true,
    requestTimeout: limits.requestMs,
    keepAliveTimeout: KEEP_ALIVE_MS,
    // What is no address at all never comes to a route.
    frameworkErrors: (_error, _request, reply) =>
      void answerWith(reply.headers(securityHeaders), refuse('NOT_FOUND', { isJob: false })),
    // A job id is the name of its folder.
    routerOptions: { maxParamLength: LONGEST_FOLDER_NAME },
    http: {
      headersTimeout: limits.requestMs,
      connectionsCheckingInterval: Math.min(LOOK_FOR_SLOW_EVERY_MS, limits.requestMs),
      maxHeaderSize: MOST_HEAD_BYTES,
    },
  });
  const devices = parts.devices ?? new Devices(undefined);
  const routeParts: RouteParts = {
    ...parts,
    devices,
    pairing: parts.pairing ?? new Pairing(),
    gate: createGate(parts.callers, devices),
    build: buildOf(parts.webFolder),
    stopToken: randomBytes(TOKEN_BYTES).toString('base64url'),
  };
  // A form of another site can send plain text without asking first; it cannot send JSON.
  app.removeContentTypeParser('text/plain');
  const connections = guard(app, routeParts.gate, limits);
  app.setErrorHandler(async (error, _request, reply) => {
    const status = statusOf(error);
    const told = status < 500 && error instanceof Error ? { why: error.message } : {};
    await reply.code(status).send(refuse('REQUEST_FAILED', told));
  });
  app.setNotFoundHandler(async (_request, reply) => {
    await answerWith(reply, refuse('NOT_FOUND', { isJob: false }));
  });
  gateRoutes(app, routeParts);
  boxRoutes(app, parts);
  jobRoutes(app, routeParts);
  clusterRoutes(app, routeParts);
  shelfRoutes(app, routeParts);
  catalogueRoutes(app, routeParts);
  recordRoutes(app, routeParts);
  await photographRoutes(app, routeParts);
  if (parts.webFolder !== undefined) {
    pageRoute(app, parts.webFolder, routeParts.build);
    await app.register(fastifyStatic, {
      root: parts.webFolder,
      cacheControl: true,
      maxAge: 0,
      etag: true,
      setHeaders: (reply, path) => {
        if (path.endsWith('.woff2')) void reply.header('cache-control', KEPT_FOR_EVER);
      },
    });
  }
  const endLive = attachLive(app.server, { ...routeParts, limits, connections });
  app.addHook('preClose', endLive);
  return app;
}

/** Who may ask what, before anything is read of a request. STOP is never counted and always has a connection. */
function guard(app: FastifyInstance, gate: Gate, limits: ServerLimits): ReturnType<typeof keepRoom> {
  const connections = keepRoom(app.server, limits);
  const buckets = new TokenBuckets(limits.requests);
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(securityHeaders);
    const visitor = gate.admit(request.raw);
    if (visitor.kind === 'refused') return answerWith(reply, visitor);
    const route = request.routeOptions.url;
    if (route === STOP_ROUTE) return undefined;
    if (connections.isForStop(request.raw.socket))
      return answerWith(reply.header('connection', 'close'), refuse('HOST_FULL'));
    if (!buckets.take(countedAs(visitor))) return answerWith(reply, refuse('TOO_FAST'));
    const refusal = gate.whyNot(visitor, needOf(request.method, route));
    return refusal === undefined ? undefined : answerWith(reply, refusal);
  });
  return connections;
}

const STOP_ROUTE = '/api/stop';

/** Whose requests are counted together. */
const countedAs = ({ isHere, device, peer }: Visitor): string => (isHere ? 'here' : (device?.id ?? peer));

/** Names a built page by its script, so that a page and a host that do not belong together know it. */
function buildOf(webFolder: string | undefined): string {
  const script = webFolder === undefined ? undefined : join(webFolder, 'main.js');
  if (script === undefined || !existsSync(script)) return 'no page';
  return createHash('sha256').update(readFileSync(script)).digest('hex').slice(0, 12);
}

/** The page is told which build it is, so that it knows a newer host from its own. */
function pageRoute(app: FastifyInstance, webFolder: string, build: string): void {
  app.get('/', async (_request, reply) => {
    const page = await readFile(join(webFolder, 'index.html'), 'utf8');
    return reply
      .header('cache-control', 'no-cache')
      .type('text/html; charset=utf-8')
      .send(page.replace('name="build" content=""', `name="build" content="${build}"`));
  });
}

const statusOf = (error: unknown): number =>
  error instanceof Error && 'statusCode' in error && typeof error.statusCode === 'number'
    ? error.statusCode
    : 500;
