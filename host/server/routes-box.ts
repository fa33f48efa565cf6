import type { FastifyInstance } from 'fastify';
import { refuse } from '../refusals';
import { boxChoice, worldChange, type HostInfo, type PortListing } from '../job/wire/host-messages';
import { listPorts, usbPorts } from '../link';
import { answerWith, checked } from './answer';
import type { AppParts } from './route-parts';

/** What the host is connected to, and what it could be. */
export function boxRoutes(app: FastifyInstance, { bay, version }: AppParts): void {
  app.get('/api/host', async (): Promise<HostInfo> => {
    const simulatedGauges = [...(await bay.simulatedGauges())];
    const simulatedClusters = [...(await bay.simulatedClusters())];
    return { box: bay.choice, simulatedGauges, simulatedClusters, version };
  });
  app.get('/api/ports', async (): Promise<PortListing> => {
    const { ports, warning } = await listPorts();
    const likely = new Set(usbPorts(ports).map((port) => port.path));
    const listed = ports.map((port) => ({
      path: port.path,
      title: port.manufacturer === undefined ? port.path : `${port.path} (${port.manufacturer})`,
      isLikely: likely.has(port.path),
    }));
    const ordered = listed.sort((one, other) => Number(other.isLikely) - Number(one.isLikely));
    return { ports: ordered, ...(warning === undefined ? {} : { warning }) };
  });
  app.post('/api/world', async (request, reply) => {
    const change = checked(worldChange, request.body);
    if ('kind' in change) return answerWith(reply, change);
    if (bay.choice.kind !== 'simulated') return answerWith(reply, refuse('NOT_SIMULATED'));
    bay.tellWorld(change);
    await answerWith(reply, { kind: 'told' });
  });
  app.post('/api/box', async (request, reply) => {
    const choice = checked(boxChoice, request.body);
    await answerWith(reply, choice.kind === 'refused' ? choice : await bay.choose(choice));
  });
}
