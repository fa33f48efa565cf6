import type { JobCommand } from '../../job/schema/commands';
import { isKnownEvent } from '../../job/schema/event-kinds';
import type { JobEvent } from '../../job/schema/events';
import { inShownUnits } from '../../job/state/shown-command';
import { foldJob } from '../../job/state/fold';
import type { DashLook, HostMessage, Right } from '../../job/wire/host-messages';
import { frameInUnit } from '../../job/wire/frame-in-unit';
import { inShownUnit } from '../../job/state/shown-unit';
import { pausedUntold } from '../../job/state/views';
import type { JobState } from '../../job/state/state';
import type { LiveFrame, Refusal } from '../../job/wire/job-messages';
import { joinEvents } from './join-events';
import { keepFindings, type FindingsKeeper } from './findings-keeper';
import { keepLine } from './socket';
import { isOutputLive, reachAfter, type OutOfReach, type StopNews } from './lost-contact';
import type { Self } from './this-device';
import { createSignal, type Signal } from '../signal';
import { stopByPost } from './http';
import { lost, Questions, type Outcome } from './questions';

export type { Outcome } from './questions';

export type Connection = 'connecting' | 'connected' | 'lost';

/** One screen's place at one job: what it knows, and the only way to ask for anything. */
export type JobConnection = {
  /** The folder it lies in; a copied folder's journal names another. */
  readonly jobId: string;
  /** Where its gauge sits in the cluster it is looked at in; undefined: it is looked at alone. */
  readonly place: string | undefined;
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
  readonly lostContact: Signal<OutOfReach | undefined>;
  /** The last press of STOP, until the output is live again. */
  readonly stopNews: Signal<StopNews | undefined>;
  readonly send: (command: JobCommand) => Promise<Outcome>;
  readonly stop: () => void;
  /** Asks the host to open the job anew, once what kept it from being written is mended. */
  readonly openAgain: () => void;
  readonly close: () => void;
};

/** Opens a line to the host for a job; after each loss it catches up from the newest event it has. */
export function connectToJob(jobId: string, self: Self, place?: string): JobConnection {
  const job = deskSignals(jobId, place);
  job.events.subscribe(job.findings.stale);
  const questions = new Questions();
  /** A host that has fallen quiet is still expected to speak, though there is no frame left that says so. */
  let isQuiet = false;
  const follow = (): void => void line.say(followFrom(job));
  const stop = (): void => {
    const kind = line.say({ kind: 'stop', id: questions.nextId() }) ? 'sent' : 'unsent';
    const news: StopNews = { kind, atMs: performance.now() };
    job.stopNews.set(news);
    void stopBesideTheLine(job, news.atMs);
  };
  const line = keepLine({
    opened: () => {
      line.say({ kind: 'hello', ...self });
      follow();
      job.connection.set('connected');
      if (job.stopNews.get()?.kind === 'unsent') stop();
    },
    heard: (text) => {
      isQuiet = false;
      try {
        take(job, questions, { text, follow, build: self.build });
      } catch {
        // What a newer host says must not end an older page: STOP stays under the hand.
        job.isOld.set(true);
      }
    },
    lost: () => ((isQuiet = false), loseHost(job, questions)),
    quiet: (sinceMs) => {
      if (job.live.get() !== undefined) takeFrame(job, undefined, sinceMs);
      isQuiet = true;
    },
    isTalkative: () =>
      isQuiet || job.live.get()?.link.state === 'live' || job.stopNews.get()?.kind === 'sent',
  });

  return {
    ...job,
    get screen() {
      return job.name.get() ?? self.screen;
    },
    send: async (command) => {
      const shown = job.state.get();
      const inOurs = shown === undefined ? command : inShownUnits(command, shown);
      const outcome = await questions.ask((id) => line.say({ kind: 'command', id, command: inOurs }));
      job.refusal.set(outcome.kind === 'refused' ? outcome : undefined);
      return outcome;
    },
    stop,
    openAgain: () => {
      job.refusal.set(undefined);
      follow();
    },
    close: () => {
      line.close();
      questions.settleAll(lost);
    },
  };
}

const followFrom = ({ jobId, events }: DeskSignals) =>
  ({ kind: 'follow', jobId, afterN: events.get().length }) as const;

function loseHost(job: DeskSignals, questions: Questions): void {
  job.connection.set('lost');
  takeFrame(job, undefined, performance.now());
  questions.settleAll(lost);
  const news = job.stopNews.get();
  if (news?.kind === 'sent') job.stopNews.set({ ...news, kind: 'unsent' });
}

/** The second way of a stop. Whichever is answered first is what the person is told. */
async function stopBesideTheLine(job: DeskSignals, pressedAtMs: number): Promise<void> {
  const answer = await stopByPost();
  const news = job.stopNews.get();
  if (answer.kind === 'refused' || news === undefined || news.kind === 'answered') return;
  if (news.atMs !== pressedAtMs) return;
  job.stopNews.set({ kind: 'answered', outcome: answer.body.outcome });
  if (answer.body.outcome === 'box-confirmed-open') job.lostContact.set(undefined);
}

type DeskSignals = Omit<JobConnection, 'screen' | 'send' | 'stop' | 'openAgain' | 'close'> & {
  readonly name: Signal<string | undefined>;
};

const deskSignals = (jobId: string, place: string | undefined): DeskSignals => ({
  jobId,
  place,
  findings: keepFindings(jobId),
  events: createSignal<readonly JobEvent[]>([]),
  state: createSignal<JobState | undefined>(undefined),
  live: createSignal<LiveFrame | undefined>(undefined),
  dash: createSignal<DashLook | undefined>(undefined),
  connection: createSignal<Connection>('connecting'),
  refusal: createSignal<Refusal | undefined>(undefined),
  lostContact: createSignal<OutOfReach | undefined>(undefined),
  stopNews: createSignal<StopNews | undefined>(undefined),
  right: createSignal<Right | undefined>(undefined),
  isOld: createSignal(false),
  name: createSignal<string | undefined>(undefined),
});

/** The present moment as a frame tells it; undefined: the host is lost. */
function takeFrame(job: DeskSignals, frame: LiveFrame | undefined, nowMs: number): void {
  const known = { frame: job.live.get(), lostContact: job.lostContact.get() };
  job.lostContact.set(reachAfter(known, frame, nowMs));
  // Once the output is live anew, an answered stop is an old story.
  if (isOutputLive(frame) && !isOutputLive(known.frame) && job.stopNews.get()?.kind === 'answered')
    job.stopNews.set(undefined);
  job.live.set(frame);
  const [lapsed, told] = [frame?.lapsed ?? [], known.frame?.lapsed ?? []];
  // A lost host tells nothing: what lapsed stays lapsed.
  const isTold = lapsed.join() === told.join() && frame?.owedPause === known.frame?.owedPause;
  if (frame !== undefined && !isTold) showState(job, foldJob(job.events.get().filter(isKnownEvent)));
}

/** The job as it is now, in the shown unit: what was said of a vehicle before a long break counts no more. */
function showState(job: DeskSignals, folded: JobState | undefined): void {
  if (folded === undefined) return job.state.set(undefined);
  const lapsed = job.live.get()?.lapsed ?? [];
  const confirmations = folded.confirmations.filter((each) => !lapsed.includes(each));
  job.state.set(inShownUnit(pausedUntold({ ...folded, confirmations }, job.live.get()?.owedPause)));
}

/** See `talk.ts` on why the shape is trusted once the kind is known to be an object's. */
const isHostMessage = (message: unknown): message is HostMessage =>
  typeof message === 'object' && message !== null && 'kind' in message;

type Arrived = { readonly text: string; readonly follow: () => void; readonly build: string };

function take(job: DeskSignals, questions: Questions, arrived: Arrived): void {
  const message: unknown = JSON.parse(arrived.text);
  if (!isHostMessage(message)) return;
  switch (message.kind) {
    case 'welcome':
      job.name.set(message.by);
      job.right.set(message.right);
      return message.build === arrived.build ? undefined : job.isOld.set(true);
    case 'events': {
      const joined = joinEvents(job.events.get(), message.events);
      if (joined === undefined) return arrived.follow();
      const understood = joined.filter(isKnownEvent);
      if (understood.length < joined.length) job.isOld.set(true);
      job.events.set(joined);
      return showState(job, foldJob(understood));
    }
    case 'live':
      return takeFrame(job, frameInUnit(message.frame, job.state.get()), performance.now());
    case 'dash':
      return message.place === job.place ? job.dash.set(message) : undefined;
    case 'box':
      return job.dash.set(undefined);
    // Said of clusters, which this line does not follow.
    case 'cluster-events':
    case 'cluster-live':
      return undefined;
    case 'accepted':
      return questions.settle(message.id, { kind: 'accepted', upToN: message.upToN });
    case 'refused':
      return questions.settle(message.id, { kind: 'refused', code: message.code, message: message.message });
    case 'stopped':
      return job.stopNews.set({ kind: 'answered', outcome: message.outcome });
    case 'misread': {
      const misread: Refusal = { kind: 'refused', code: 'MISREAD', message: message.message };
      if (message.id !== undefined && questions.isPending(message.id))
        return questions.settle(message.id, misread);
      return job.refusal.set(misread);
    }
    default:
      // A newer host has more to say than this page knows of.
      job.isOld.set(true);
  }
}
