import type { WebSocket } from 'ws';
import type { HostMessage } from '../job/host-wire';
import { explain } from '../job/explain';
import { screenMessage, type ScreenMessage } from '../job/wire';
import type { BenchDoor, DeskDoor } from './bench-door';
import type { BoxBay } from './box-bay';
import { inboxOf, type Inbox } from './inbox';

const CLOSE_NO_JOB = 4004;
const CLOSE_FAILED = 1011;
const CLOSE_SLOW = 4013;
/** A screen on a poor network is spared live frames first; beyond the second limit it reconnects and catches up. */
const SPARE_ABOVE_BYTES = 256 * 1024;
const CLOSE_ABOVE_BYTES = 8 * 1024 * 1024;

export type ScreenHosts = {
  readonly bench: BenchDoor;
  readonly bay: BoxBay;
  /** How many sockets each screen of each job has: a reload opens the new one before the old one is known to be gone. */
  readonly sockets: Map<string, number>;
};

/** Serves one screen until its socket closes. Whatever throws ends this connection and no other. */
export async function serveScreen(socket: WebSocket, hosts: ScreenHosts): Promise<void> {
  const inbox = inboxOf(socket);
  try {
    await converse(socket, inbox, hosts);
  } catch {
    socket.close(CLOSE_FAILED, 'the host could not go on with this screen');
  }
}

type Following = { readonly desk: DeskDoor; readonly screen: string; readonly unfollow: () => void };

async function converse(socket: WebSocket, inbox: Inbox, hosts: ScreenHosts): Promise<void> {
  const say = sayer(socket);
  const stopDash = hosts.bay.subscribeDash((gauge, look) => {
    if (socket.bufferedAmount < SPARE_ABOVE_BYTES)
      say({
        kind: 'dash',
        gauge,
        angleFraction: look.angleFraction,
        atMs: look.ms,
        ...(look.thermometer === undefined ? {} : { thermometer: look.thermometer }),
      });
  });
  const stopChoice = hosts.bay.subscribeChoice((box) => say({ kind: 'box', box }));
  let following: Following | undefined;
  try {
    for (let text = await inbox.next(); text !== undefined; text = await inbox.next()) {
      const message = understood(text);
      if (message.kind === 'misread') say(message);
      else if (message.kind === 'follow') {
        following?.unfollow();
        following = await follow(socket, message, hosts);
      } else if (following === undefined)
        say({ kind: 'misread', message: 'say first which job this screen follows' });
      else void answer(message, following, say).catch(() => socket.close(CLOSE_FAILED, 'the command failed'));
    }
  } finally {
    stopDash();
    stopChoice();
    following?.unfollow();
  }
}

const sayer =
  (socket: WebSocket) =>
  (message: HostMessage): void => {
    if (socket.readyState !== socket.OPEN) return;
    if (socket.bufferedAmount > CLOSE_ABOVE_BYTES)
      socket.close(CLOSE_SLOW, 'too slow; reconnect and catch up');
    else socket.send(JSON.stringify(message));
  };

function understood(text: string): ScreenMessage | Extract<HostMessage, { kind: 'misread' }> {
  let parsed: unknown;
  try {
    parsed = JSON.parse(text);
  } catch {
    return { kind: 'misread', message: 'the message is not JSON' };
  }
  const result = screenMessage.safeParse(parsed);
  return result.success ? result.data : { kind: 'misread', message: explain(result.error), ...idOf(parsed) };
}

function idOf(parsed: unknown): { id?: number } {
  if (typeof parsed !== 'object' || parsed === null || !('id' in parsed)) return {};
  return typeof parsed.id === 'number' && Number.isInteger(parsed.id) && parsed.id >= 0
    ? { id: parsed.id }
    : {};
}

async function follow(
  socket: WebSocket,
  asked: Extract<ScreenMessage, { kind: 'follow' }>,
  hosts: ScreenHosts,
): Promise<Following | undefined> {
  const opened = await hosts.bench.openJob(asked.jobId);
  const say = sayer(socket);
  if (opened.kind === 'refused') {
    say({ kind: 'misread', message: opened.message });
    socket.close(CLOSE_NO_JOB, 'no such job');
    return undefined;
  }
  const { desk } = opened;
  let sentN = asked.afterN;
  const tell = (): void => {
    const events = desk.eventsAfter(sentN);
    const last = events.at(-1);
    if (last !== undefined) {
      sentN = last.n;
      say({ kind: 'events', jobId: desk.jobId, events: [...events] });
    }
    if (socket.bufferedAmount < SPARE_ABOVE_BYTES) say({ kind: 'live', frame: desk.live() });
  };
  const unsubscribe = desk.subscribe(tell);
  const leave = enter(hosts.sockets, `${desk.jobId}\n${asked.screen}`);
  const unfollow = (): void => {
    unsubscribe();
    if (leave() === 0) desk.gone(asked.screen);
  };
  desk.present(asked.screen);
  tell();
  return { desk, screen: asked.screen, unfollow };
}

/** Counts one socket in; the returned function counts it out and answers how many are left. */
function enter(sockets: Map<string, number>, key: string): () => number {
  sockets.set(key, (sockets.get(key) ?? 0) + 1);
  return () => {
    const left = (sockets.get(key) ?? 1) - 1;
    if (left === 0) sockets.delete(key);
    else sockets.set(key, left);
    return left;
  };
}

async function answer(
  message: Exclude<ScreenMessage, { kind: 'follow' }>,
  { desk, screen }: Following,
  say: (message: HostMessage) => void,
): Promise<void> {
  switch (message.kind) {
    case 'present':
      return desk.present(screen);
    case 'command': {
      const outcome = await desk.submit(message.command, screen);
      if (outcome.kind === 'accepted') return say({ kind: 'accepted', id: message.id, upToN: outcome.upToN });
      return say({ kind: 'refused', id: message.id, code: outcome.code, message: outcome.message });
    }
    case 'stop':
      return say({ kind: 'stopped', id: message.id, outcome: await desk.stop(screen) });
  }
}
