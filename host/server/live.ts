import type { IncomingMessage, Server } from 'node:http';
import type { Duplex } from 'node:stream';
import { WebSocketServer, type WebSocket } from 'ws';
import type { Callers } from './callers';
import { serveScreen, type ScreenHosts } from './screen';

const LIVE_PATH = '/live';
/** A pasted datasheet table as commands is far smaller. */
export const MOST_MESSAGE_BYTES = 64 * 1024;
const MOST_SCREENS = 32;
const PING_EVERY_MS = 5_000;

/** Takes over the upgrade requests of a server for the screens' sockets. Returns what ends them all. */
export function attachLive(
  server: Server,
  callers: Callers,
  parts: Omit<ScreenHosts, 'sockets'>,
): () => Promise<void> {
  const hosts: ScreenHosts = { ...parts, sockets: new Map() };
  const sockets = new WebSocketServer({
    noServer: true,
    maxPayload: MOST_MESSAGE_BYTES,
    perMessageDeflate: false,
  });
  const answered = new WeakSet<WebSocket>();
  sockets.on('connection', (socket) => {
    answered.add(socket);
    socket.on('pong', () => answered.add(socket));
    void serveScreen(socket, hosts);
  });
  const onUpgrade = (request: IncomingMessage, stream: Duplex, head: Buffer): void => {
    const refusal = whyNot(request, callers, sockets.clients.size);
    stream.on('error', () => undefined);
    if (refusal !== undefined)
      stream.end(`HTTP/1.1 ${refusal}\r\nconnection: close\r\ncontent-length: 0\r\n\r\n`);
    else
      sockets.handleUpgrade(request, stream, head, (socket) => sockets.emit('connection', socket, request));
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

function whyNot(request: IncomingMessage, callers: Callers, screenCount: number): string | undefined {
  if (!callers.isKnownHost(request.headers.host) || !callers.isKnownOrigin(request.headers.origin))
    return '403 Forbidden';
  if (request.url?.split('?')[0] !== LIVE_PATH) return '404 Not Found';
  return screenCount >= MOST_SCREENS ? '503 Service Unavailable' : undefined;
}
