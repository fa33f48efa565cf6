import type { JobCommand } from '../../job/commands';
import type { JobEvent } from '../../job/events';
import { foldJob } from '../../job/fold';
import type { DashLook, HostMessage } from '../../job/host-wire';
import type { JobState } from '../../job/state';
import type { LiveFrame, Refusal, ScreenMessage } from '../../job/wire';
import { joinEvents } from './events';
import { keepFindings, type FindingsKeeper } from './findings';
import { createSignal, type Signal } from './signal';

export type Connection = 'connecting' | 'connected' | 'lost';
export type Outcome = { readonly kind: 'accepted'; readonly upToN: number } | Refusal;

/** One screen's place at one job: what it knows, and the only way to ask for anything. */
export type Desk = {
  readonly screen: string;
  readonly events: Signal<readonly JobEvent[]>;
  readonly state: Signal<JobState | undefined>;
  readonly live: Signal<LiveFrame | undefined>;
  readonly dash: Signal<DashLook | undefined>;
  readonly connection: Signal<Connection>;
  /** What the host last refused, until the next command is accepted. */
  readonly refusal: Signal<Refusal | undefined>;
  readonly findings: FindingsKeeper;
  readonly send: (command: JobCommand) => Promise<Outcome>;
  readonly stop: () => void;
  readonly close: () => void;
};

type Pending = Map<number, (outcome: Outcome) => void>;

const RETRY_MS = [250, 500, 1000, 2000, 4000] as const;
/** The bench takes a screen for absent after a few seconds of silence. */
const PRESENT_EVERY_MS = 1500;

const lost: Refusal = {
  kind: 'refused',
  code: 'HOST_LOST',
  message: 'The connection to the host was lost before it answered; look at the sheet before you try again.',
};

/** Opens the socket for a job and keeps it open; after each loss it catches up from the newest event it has. */
export function openDesk(jobId: string, screen: string): Desk {
  const desk = deskSignals(jobId);
  desk.events.subscribe(desk.findings.stale);
  const pending: Pending = new Map();
  let socket: WebSocket | undefined;
  let tries = 0;
  let lastId = 0;
  let isClosed = false;

  const say = (message: ScreenMessage): boolean => {
    if (socket?.readyState !== WebSocket.OPEN) return false;
    socket.send(JSON.stringify(message));
    return true;
  };
  const follow = (): void => void say({ kind: 'follow', jobId, screen, afterN: desk.events.get().length });
  const connect = (): void => {
    if (isClosed) return;
    const fresh = new WebSocket(`${location.origin.replace(/^http/, 'ws')}/live`);
    socket = fresh;
    fresh.addEventListener('open', () => {
      tries = 0;
      follow();
      desk.connection.set('connected');
    });
    fresh.addEventListener('message', ({ data }) => take(desk, pending, { text: String(data), follow }));
    fresh.addEventListener('close', () => {
      desk.connection.set('lost');
      desk.live.set(undefined);
      settleAll(pending, lost);
      if (!isClosed) setTimeout(connect, RETRY_MS[Math.min(tries, RETRY_MS.length - 1)]);
      tries += 1;
    });
  };
  const present = setInterval(() => {
    if (document.visibilityState === 'visible') say({ kind: 'present' });
  }, PRESENT_EVERY_MS);
  connect();

  return {
    ...desk,
    screen,
    send: (command) =>
      new Promise((resolve) => {
        lastId += 1;
        const settle = (outcome: Outcome): void => {
          desk.refusal.set(outcome.kind === 'refused' ? outcome : undefined);
          resolve(outcome);
        };
        if (say({ kind: 'command', id: lastId, command })) pending.set(lastId, settle);
        else settle(lost);
      }),
    stop: () => {
      lastId += 1;
      // Without a socket the host cannot be told; the box opens by itself once heartbeats end, and the page says so.
      if (!say({ kind: 'stop', id: lastId })) desk.refusal.set({ ...lost, code: 'STOP_NOT_SENT' });
    },
    close: () => {
      isClosed = true;
      clearInterval(present);
      socket?.close();
    },
  };
}

type DeskSignals = Omit<Desk, 'screen' | 'send' | 'stop' | 'close'>;

const deskSignals = (jobId: string): DeskSignals => ({
  findings: keepFindings(jobId),
  events: createSignal<readonly JobEvent[]>([]),
  state: createSignal<JobState | undefined>(undefined),
  live: createSignal<LiveFrame | undefined>(undefined),
  dash: createSignal<DashLook | undefined>(undefined),
  connection: createSignal<Connection>('connecting'),
  refusal: createSignal<Refusal | undefined>(undefined),
});

/** See `talk.ts` on why the shape is trusted once the kind is known to be an object's. */
const isHostMessage = (message: unknown): message is HostMessage =>
  typeof message === 'object' && message !== null && 'kind' in message;

type Arrived = { readonly text: string; readonly follow: () => void };

function take(desk: DeskSignals, pending: Pending, arrived: Arrived): void {
  const message: unknown = JSON.parse(arrived.text);
  if (!isHostMessage(message)) return;
  switch (message.kind) {
    case 'events': {
      const joined = joinEvents(desk.events.get(), message.events);
      if (joined === undefined) return arrived.follow();
      desk.events.set(joined);
      return desk.state.set(foldJob(joined));
    }
    case 'live':
      return desk.live.set(message.frame);
    case 'dash':
      return desk.dash.set(message);
    case 'box':
      return desk.dash.set(undefined);
    case 'accepted':
      return settle(pending, message.id, { kind: 'accepted', upToN: message.upToN });
    case 'refused':
      return settle(pending, message.id, { kind: 'refused', code: message.code, message: message.message });
    case 'stopped':
      return;
    case 'misread':
      return desk.refusal.set({ kind: 'refused', code: 'MISREAD', message: message.message });
  }
}

function settle(pending: Pending, id: number, outcome: Outcome): void {
  pending.get(id)?.(outcome);
  pending.delete(id);
}

function settleAll(pending: Pending, outcome: Outcome): void {
  const waiting = [...pending.values()];
  pending.clear();
  for (const resolve of waiting) resolve(outcome);
}
