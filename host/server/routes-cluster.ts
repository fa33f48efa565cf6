import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { clusterOpening } from '../job/schema/cluster-commands';
import { folderName, name } from '../job/schema/values';
import { refuse } from '../refusals';
import { answerWith, checked, sendPdf } from './answer';
import { batchTable, clusterSheet } from './cluster-sheet';
import type { RouteParts, ServedCluster } from './route-parts';
import { signatureOf } from './routes-gate';

const clusterPath = z.object({ clusterId: folderName });
const paperPath = clusterPath.extend({ paper: z.enum(['a4', 'letter']) });
const againBody = z.strictObject({ title: name.optional(), vehicle: name.optional() });

/** Clusters by HTTP: begun, listed, begun again. What is done with one goes by its socket. */
export function clusterRoutes(
  app: FastifyInstance,
  { bench, clusters, computer, records, gate }: RouteParts,
): void {
  if (clusters === undefined) return;
  const byOf = (request: FastifyRequest): string => signatureOf(gate.visitorOf(request.raw));
  const idOf = (request: FastifyRequest): string =>
    clusterPath.safeParse(request.params).data?.clusterId ?? '';
  const opened = async (request: FastifyRequest, reply: FastifyReply): Promise<ServedCluster | undefined> => {
    const id = idOf(request);
    const found = id === '' ? refuse('NOT_FOUND', { isJob: false }) : await clusters.open(id);
    if (!('kind' in found)) return found;
    await answerWith(reply, found);
    return undefined;
  };
  app.get('/api/clusters', () => batchTable(computer, bench, clusters));
  app.post('/api/clusters', async (request, reply) => {
    const asked = checked(clusterOpening, request.body);
    if ('kind' in asked) return answerWith(reply, asked);
    const made = await clusters.create(asked, byOf(request));
    return answerWith(reply, made.kind === 'refused' ? made : { clusterId: made.clusterId });
  });
  app.get('/api/clusters/:clusterId/sheet', async (request, reply) => {
    const cluster = await opened(request, reply);
    return cluster === undefined ? reply : answerWith(reply, await clusterSheet(computer, cluster));
  });
  app.get('/api/clusters/:clusterId/sheet/:paper', async (request, reply) => {
    const { clusterId, paper } = paperPath.safeParse(request.params).data ?? {};
    if (clusterId === undefined || paper === undefined)
      return answerWith(reply, refuse('NOT_FOUND', { isJob: false }));
    const cluster = await opened(request, reply);
    if (cluster === undefined) return reply;
    const gauges = cluster.gauges.map(({ place, desk }) => ({ place, job: desk.state }));
    const bytes = await records.clusterFile({ cluster: cluster.state, gauges }, paper);
    if ('kind' in bytes) return answerWith(reply, bytes);
    return sendPdf(reply, bytes, `${clusterId}-cluster`);
  });
  app.post('/api/clusters/:clusterId/again', async (request, reply) => {
    const asked = checked(againBody, request.body);
    if ('kind' in asked) return answerWith(reply, asked);
    const made = await clusters.again(idOf(request), asked, byOf(request));
    return answerWith(reply, made.kind === 'refused' ? made : { clusterId: made.clusterId });
  });
}
