import type { Server } from 'node:http';
import type { Socket } from 'node:net';
import type { ServerLimits } from './limits';

/** What is known of a connection. `waiting`: it has asked for nothing yet, or was answered and holds on. */
type Kept = { readonly peer: string; state: 'waiting' | 'busy' | 'for-stop' };

export type Connections = {
  /** This connection came when all were taken: it is served a STOP and nothing else. */
  isForStop(socket: Socket): boolean;
  /** A screen has said who it is: its socket is no longer let go for others. */
  settle(socket: Socket): void;
};

/**
 * Keeps room for STOP. When all connections are taken, the one that has waited longest without asking for anything is
 * let go, of the peer that holds the most of them. When all are at work, the newcomer may stop and nothing else.
 */
export function keepRoom(server: Server, limits: ServerLimits): Connections {
  const kept = new Map<Socket, Kept>();
  server.on('connection', (socket: Socket) => {
    const peer = socket.remoteAddress ?? '';
    const isFull = kept.size >= limits.mostConnections && !letOneGo(kept);
    if (isFull && kept.size >= limits.mostConnections + limits.connectionsForStop) return socket.destroy();
    kept.set(socket, { peer, state: isFull ? 'for-stop' : 'waiting' });
    socket.once('close', () => kept.delete(socket));
    return undefined;
  });
  server.on('request', (request, response) => {
    const connection = kept.get(request.socket);
    if (connection === undefined || connection.state === 'for-stop') return;
    connection.state = 'busy';
    response.once('close', () => (connection.state = 'waiting'));
  });
  return {
    isForStop: (socket) => kept.get(socket)?.state === 'for-stop',
    settle: (socket) => {
      const connection = kept.get(socket);
      if (connection !== undefined) connection.state = 'busy';
    },
  };
}

function letOneGo(kept: Map<Socket, Kept>): boolean {
  const waiting = [...kept].filter(([, { state }]) => state === 'waiting');
  const counts = new Map<string, number>();
  for (const [, { peer }] of waiting) counts.set(peer, (counts.get(peer) ?? 0) + 1);
  const most = Math.max(0, ...counts.values());
  const [victim] = waiting.find(([, { peer }]) => counts.get(peer) === most) ?? [];
  if (victim === undefined) return false;
  kept.delete(victim);
  victim.destroy();
  return true;
}
