import type { JobCommand } from '../../job/commands';
import type { JobEvent } from '../../job/events';
import { inShownUnits } from '../../job/command-unit';
import { foldJob } from '../../job/fold';
import type { DashLook, HostMessage } from '../../job/host-wire';
import { frameInUnit, inShownUnit } from '../../job/shown-unit';
import type { JobState } from '../../job/state';
import type { LiveFrame, Refusal } from '../../job/wire';
import { joinEvents } from './events';
import { keepFindings, type FindingsKeeper } from './findings';
import { keepLine } from './line';
import { isOutputLive, reachAfter, type OutOfReach, type StopNews } from './reach';
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
  readonly reach: Signal<OutOfReach | undefined>;
  /** The last press of STOP, until the output is live again. */
  readonly stopNews: Signal<StopNews | undefined>;
  readonly send: (command: JobCommand) => Promise<Outcome>;
  readonly stop: () => void;
  readonly close: () => void;
};

type Pending = Map<number, (outcome: Outcome) => void>;

const lost: Refusal = {
  kind: 'refused',
  code: 'HOST_LOST',
  message: 'The connection to the host was lost before it answered; look at the sheet before you try again.',
};

/** Opens a line to the host for a job; after each loss it catches up from the newest event it has. */
export function openDesk(jobId: string, screen: string): Desk {
  const desk = deskSignals(jobId);
  desk.events.subscribe(desk.findings.stale);
  const pending: Pending = new Map();
  let lastId = 0;
  /** A host that has fallen quiet is still expected to speak, though there is no frame left that says so. */
  let isQuiet = false;
  const follow = (): void =>
    void line.say({ kind: 'follow', jobId, screen, afterN: desk.events.get().length });
  const stop = (): void => {
    lastId += 1;
    const kind = line.say({ kind: 'stop', id: lastId }) ? 'sent' : 'unsent';
    desk.stopNews.set({ kind, atMs: performance.now() });
  };
  const line = keepLine({
    opened: () => {
      follow();
      desk.connection.set('connected');
      if (desk.stopNews.get()?.kind === 'unsent') stop();
    },
    heard: (text) => {
      isQuiet = false;
      take(desk, pending, { text, follow });
    },
    lost: () => {
      isQuiet = false;
      desk.connection.set('lost');
      takeFrame(desk, undefined, performance.now());
      settleAll(pending, lost);
      const news = desk.stopNews.get();
      if (news?.kind === 'sent') desk.stopNews.set({ ...news, kind: 'unsent' });
    },
    quiet: (sinceMs) => {
      if (desk.live.get() !== undefined) takeFrame(desk, undefined, sinceMs);
      isQuiet = true;
    },
    isTalkative: () =>
      isQuiet || desk.live.get()?.link.state === 'live' || desk.stopNews.get()?.kind === 'sent',
  });

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
        const shown = desk.state.get();
        const inOurs = shown === undefined ? command : inShownUnits(command, shown);
        if (line.say({ kind: 'command', id: lastId, command: inOurs })) pending.set(lastId, settle);
        else settle(lost);
      }),
    stop,
    close: line.close,
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
  reach: createSignal<OutOfReach | undefined>(undefined),
  stopNews: createSignal<StopNews | undefined>(undefined),
});

/** The present moment as a frame tells it; undefined: the host is lost. */
function takeFrame(desk: DeskSignals, frame: LiveFrame | undefined, nowMs: number): void {
  const known = { frame: desk.live.get(), reach: desk.reach.get() };
  desk.reach.set(reachAfter(known, frame, nowMs));
  // Once the output is live anew, an answered stop is an old story.
  if (isOutputLive(frame) && !isOutputLive(known.frame) && desk.stopNews.get()?.kind === 'answered')
    desk.stopNews.set(undefined);
  desk.live.set(frame);
}

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
      const state = foldJob(joined);
      return desk.state.set(state === undefined ? undefined : inShownUnit(state));
    }
    case 'live':
      return takeFrame(desk, frameInUnit(message.frame, desk.state.get()), performance.now());
    case 'dash':
      return desk.dash.set(message);
    case 'box':
      return desk.dash.set(undefined);
    case 'accepted':
      return settle(pending, message.id, { kind: 'accepted', upToN: message.upToN });
    case 'refused':
      return settle(pending, message.id, { kind: 'refused', code: message.code, message: message.message });
    case 'stopped':
      return desk.stopNews.set({ kind: 'answered', outcome: message.outcome });
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
