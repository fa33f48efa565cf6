import type { IncomingMessage, Server } from 'node:http';
import { Socket } from 'node:net';
import type { Duplex } from 'node:stream';
import { WebSocketServer, type WebSocket } from 'ws';
import type { RouteParts } from './route-parts';
import type { Connections } from './connections';
import type { ServerLimits } from './limits';
import { ScreenNames } from './screen-names';
import { serveScreen, type ScreenHosts } from './screen';

const LIVE_PATH = '/live';
/** A pasted datasheet table as commands is far smaller. */
const MOST_MESSAGE_BYTES = 64 * 1024;
const PING_EVERY_MS = 5_000;

export type LiveParts = RouteParts & { readonly limits: ServerLimits; readonly connections: Connections };

/** Takes over the upgrade requests of a server for the screens' sockets. Returns what ends them all. */
export function attachLive(server: Server, parts: LiveParts): () => Promise<void> {
  const { gate, connections } = parts;
  const sockets = new WebSocketServer({
    noServer: true,
    maxPayload: MOST_MESSAGE_BYTES,
    perMessageDeflate: false,
  });
  const hosts: ScreenHosts = {
    ...parts,
    names: new ScreenNames(parts.devices),
    sockets: new Map(),
    screens: new Set(),
  };
  const answered = new WeakSet<WebSocket>();
  const begin = (socket: WebSocket, request: IncomingMessage): void => {
    answered.add(socket);
    socket.on('pong', () => answered.add(socket));
    const settle = (): void => connections.settle(request.socket);
    void serveScreen({ socket, visitor: gate.visitorOf(request), settle }, hosts);
  };
  const onUpgrade = (request: IncomingMessage, stream: Duplex, head: Buffer): void => {
    stream.on('error', () => undefined);
    const refusal = whyNot(request, stream, parts);
    if (refusal !== undefined)
      stream.end(`HTTP/1.1 ${refusal}\r\nconnection: close\r\ncontent-length: 0\r\n\r\n`);
    else sockets.handleUpgrade(request, stream, head, (socket) => begin(socket, request));
  };
  server.on('upgrade', onUpgrade);
  // A phone that left the garage sends no goodbye: a socket that misses a whole round of pings is gone.
  const pinging = setInterval(() => {
    for (const socket of sockets.clients) {
      if (!answered.delete(socket)) socket.terminate();
      else socket.ping();
    }
  }, PING_EVERY_MS);
  return async () => {
    clearInterval(pinging);
    server.off('upgrade', onUpgrade);
    for (const socket of sockets.clients) socket.terminate();
    await new Promise<void>((resolve) => sockets.close(() => resolve()));
  };
}

function whyNot(request: IncomingMessage, stream: Duplex, parts: LiveParts): string | undefined {
  const visitor = parts.gate.admit(request);
  if (visitor.kind === 'refused') return '403 Forbidden';
  if (request.url?.split('?')[0] !== LIVE_PATH) return '404 Not Found';
  if (parts.gate.whyNot(visitor, 'watch') !== undefined) return '401 Unauthorized';
  const isForStop = stream instanceof Socket && parts.connections.isForStop(stream);
  return isForStop ? '503 Service Unavailable' : undefined;
}
