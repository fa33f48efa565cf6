import type { JobCommand } from '../../job/commands';
import { isKnownEvent } from '../../job/event-kinds';
import type { JobEvent } from '../../job/events';
import { inShownUnits } from '../../job/command-unit';
import { foldJob } from '../../job/fold';
import type { DashLook, HostMessage, Right } from '../../job/host-wire';
import { frameInUnit, inShownUnit } from '../../job/shown-unit';
import type { JobState } from '../../job/state';
import type { LiveFrame, Refusal } from '../../job/wire';
import { joinEvents } from './events';
import { keepFindings, type FindingsKeeper } from './findings';
import { keepLine } from './line';
import { isOutputLive, reachAfter, type OutOfReach, type StopNews } from './reach';
import type { Self } from './self';
import { createSignal, type Signal } from './signal';
import { stopByPost } from './talk';

export type Connection = 'connecting' | 'connected' | 'lost';
export type Outcome = { readonly kind: 'accepted'; readonly upToN: number } | Refusal;

/** One screen's place at one job: what it knows, and the only way to ask for anything. */
export type Desk = {
  /** What the host calls this screen. */
  readonly screen: string;
  /** What this device may do; undefined before the host has said it. */
  readonly right: Signal<Right | undefined>;
  /** The host is another build than this page, or said what this page does not understand: reload. */
  readonly isOld: Signal<boolean>;
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

/** What the box measures by itself may take most of this. */
const ANSWER_MS = 60_000;
const slow: Refusal = {
  kind: 'refused',
  code: 'HOST_SLOW',
  message: 'The host has not answered for a minute; look at the sheet before you try again.',
};

/** Opens a line to the host for a job; after each loss it catches up from the newest event it has. */
export function openDesk(jobId: string, self: Self): Desk {
  const desk = deskSignals(jobId);
  desk.events.subscribe(desk.findings.stale);
  const pending: Pending = new Map();
  let lastId = 0;
  /** A host that has fallen quiet is still expected to speak, though there is no frame left that says so. */
  let isQuiet = false;
  const follow = (): void => void line.say({ kind: 'follow', jobId, afterN: desk.events.get().length });
  const stop = (): void => {
    lastId += 1;
    const kind = line.say({ kind: 'stop', id: lastId }) ? 'sent' : 'unsent';
    const news: StopNews = { kind, atMs: performance.now() };
    desk.stopNews.set(news);
    void stopBesideTheLine(desk, news.atMs);
  };
  const line = keepLine({
    opened: () => {
      line.say({ kind: 'hello', ...self });
      follow();
      desk.connection.set('connected');
      if (desk.stopNews.get()?.kind === 'unsent') stop();
    },
    heard: (text) => {
      isQuiet = false;
      try {
        take(desk, pending, { text, follow, build: self.build });
      } catch {
        // What a newer host says must not end an older page: STOP stays under the hand.
        desk.isOld.set(true);
      }
    },
    lost: () => {
      isQuiet = false;
      loseHost(desk, pending);
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
    get screen() {
      return desk.name.get() ?? self.screen;
    },
    send: (command) => {
      lastId += 1;
      return ask(desk, pending, { id: lastId, command, say: line.say });
    },
    stop,
    close: () => {
      line.close();
      settleAll(pending, lost);
    },
  };
}

type Asked = {
  readonly id: number;
  readonly command: JobCommand;
  readonly say: ReturnType<typeof keepLine>['say'];
};

/** Settles when the host has answered, or when it cannot any more. */
function ask(desk: DeskSignals, pending: Pending, { id, command, say }: Asked): Promise<Outcome> {
  return new Promise((resolve) => {
    const late = setTimeout(() => settle(pending, id, slow), ANSWER_MS);
    pending.set(id, (outcome) => {
      clearTimeout(late);
      desk.refusal.set(outcome.kind === 'refused' ? outcome : undefined);
      resolve(outcome);
    });
    const shown = desk.state.get();
    const inOurs = shown === undefined ? command : inShownUnits(command, shown);
    if (!say({ kind: 'command', id, command: inOurs })) settle(pending, id, lost);
  });
}

function loseHost(desk: DeskSignals, pending: Pending): void {
  desk.connection.set('lost');
  takeFrame(desk, undefined, performance.now());
  settleAll(pending, lost);
  const news = desk.stopNews.get();
  if (news?.kind === 'sent') desk.stopNews.set({ ...news, kind: 'unsent' });
}

/** The second way of a stop. Whichever is answered first is what the person is told. */
async function stopBesideTheLine(desk: DeskSignals, pressedAtMs: number): Promise<void> {
  const answer = await stopByPost();
  const news = desk.stopNews.get();
  if (answer.kind === 'refused' || news === undefined || news.kind === 'answered') return;
  if (news.atMs !== pressedAtMs) return;
  desk.stopNews.set({ kind: 'answered', outcome: answer.body.outcome });
  if (answer.body.outcome === 'box-confirmed-open') desk.reach.set(undefined);
}

type DeskSignals = Omit<Desk, 'screen' | 'send' | 'stop' | 'close'> & {
  readonly name: Signal<string | undefined>;
};

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
  right: createSignal<Right | undefined>(undefined),
  isOld: createSignal(false),
  name: createSignal<string | undefined>(undefined),
});

/** The present moment as a frame tells it; undefined: the host is lost. */
function takeFrame(desk: DeskSignals, frame: LiveFrame | undefined, nowMs: number): void {
  const known = { frame: desk.live.get(), reach: desk.reach.get() };
  desk.reach.set(reachAfter(known, frame, nowMs));
  // Once the output is live anew, an answered stop is an old story.
  if (isOutputLive(frame) && !isOutputLive(known.frame) && desk.stopNews.get()?.kind === 'answered')
    desk.stopNews.set(undefined);
  desk.live.set(frame);
  const [lapsed, told] = [frame?.lapsed ?? [], known.frame?.lapsed ?? []];
  // A lost host tells nothing: what lapsed stays lapsed.
  if (frame !== undefined && lapsed.join() !== told.join())
    showState(desk, foldJob(desk.events.get().filter(isKnownEvent)));
}

/** The job as it is now, in the shown unit: what was said of a vehicle before a long break counts no more. */
function showState(desk: DeskSignals, folded: JobState | undefined): void {
  if (folded === undefined) return desk.state.set(undefined);
  const lapsed = desk.live.get()?.lapsed ?? [];
  const confirmations = folded.confirmations.filter((each) => !lapsed.includes(each));
  desk.state.set(inShownUnit({ ...folded, confirmations }));
}

/** See `talk.ts` on why the shape is trusted once the kind is known to be an object's. */
const isHostMessage = (message: unknown): message is HostMessage =>
  typeof message === 'object' && message !== null && 'kind' in message;

type Arrived = { readonly text: string; readonly follow: () => void; readonly build: string };

function take(desk: DeskSignals, pending: Pending, arrived: Arrived): void {
  const message: unknown = JSON.parse(arrived.text);
  if (!isHostMessage(message)) return;
  switch (message.kind) {
    case 'welcome':
      desk.name.set(message.by);
      desk.right.set(message.right);
      return message.build === arrived.build ? undefined : desk.isOld.set(true);
    case 'events': {
      const joined = joinEvents(desk.events.get(), message.events);
      if (joined === undefined) return arrived.follow();
      const understood = joined.filter(isKnownEvent);
      if (understood.length < joined.length) desk.isOld.set(true);
      desk.events.set(joined);
      return showState(desk, foldJob(understood));
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
    case 'misread': {
      const misread: Refusal = { kind: 'refused', code: 'MISREAD', message: message.message };
      if (message.id !== undefined && pending.has(message.id)) return settle(pending, message.id, misread);
      return desk.refusal.set(misread);
    }
    default:
      // A newer host has more to say than this page knows of.
      desk.isOld.set(true);
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
