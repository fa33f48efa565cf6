import type { ClusterCommand } from '../../job/schema/cluster-commands';
import type { ClusterEvent } from '../../job/schema/cluster-events';
import { foldCluster, type ClusterState } from '../../job/state/cluster-state';
import type { ClusterFrame } from '../../job/wire/cluster-messages';
import type { HostMessage, Right } from '../../job/wire/host-messages';
import type { Refusal } from '../../job/wire/job-messages';
import { createSignal, type Signal } from '../signal';
import { stopByPost, type BoxesStopped, type StopOutcome } from './http';
import { connectToJob, type Connection, type JobConnection } from './job-connection';
import { isOutputLive } from './lost-contact';
import { lost, Questions, type Outcome } from './questions';
import { keepLine } from './socket';
import type { Self } from './this-device';

/** What became of a press of STOP, box by box where the host said so. */
export type StopAllNews =
  | { readonly kind: 'sent' | 'unsent' }
  | { readonly kind: 'answered'; readonly outcome: StopOutcome; readonly boxes: NonNullable<BoxesStopped> };

/** What the whole page draws by, told when any of its jobs has news. */
export type ClusterNow = {
  readonly next: { readonly jobId: string; readonly wants: 'reading' | 'short-step' } | undefined;
  readonly liveCount: number;
  readonly isTripped: boolean;
  /** Readings of all sweeps, and how long the longest of them still takes. */
  readonly done: number;
  readonly total: number;
  readonly minutesLeft: number;
};

const NOTHING_YET: ClusterNow = {
  next: undefined,
  liveCount: 0,
  isTripped: false,
  done: 0,
  total: 0,
  minutesLeft: 0,
};

export type ClusterConnection = {
  readonly clusterId: string;
  readonly screen: string;
  readonly right: Signal<Right | undefined>;
  readonly isOld: Signal<boolean>;
  readonly state: Signal<ClusterState | undefined>;
  readonly live: Signal<ClusterFrame | undefined>;
  /** Each gauge's own job, in the order of their places. This screen is present at every one of them. */
  readonly jobs: Signal<readonly JobConnection[]>;
  readonly now: Signal<ClusterNow>;
  readonly connection: Signal<Connection>;
  readonly refusal: Signal<Refusal | undefined>;
  readonly stopNews: Signal<StopAllNews | undefined>;
  readonly send: (command: ClusterCommand) => Promise<Outcome>;
  readonly stop: () => void;
  readonly close: () => void;
};

const isHostMessage = (message: unknown): message is HostMessage =>
  typeof message === 'object' && message !== null && 'kind' in message;

type Signals = Omit<ClusterConnection, 'screen' | 'send' | 'stop' | 'close'> & {
  readonly events: Signal<readonly ClusterEvent[]>;
  readonly name: Signal<string | undefined>;
};

const signalsOf = (clusterId: string): Signals => ({
  clusterId,
  right: createSignal<Right | undefined>(undefined),
  isOld: createSignal(false),
  events: createSignal<readonly ClusterEvent[]>([]),
  state: createSignal<ClusterState | undefined>(undefined),
  live: createSignal<ClusterFrame | undefined>(undefined),
  jobs: createSignal<readonly JobConnection[]>([]),
  now: createSignal<ClusterNow>(NOTHING_YET),
  connection: createSignal<Connection>('connecting'),
  refusal: createSignal<Refusal | undefined>(undefined),
  stopNews: createSignal<StopAllNews | undefined>(undefined),
  name: createSignal<string | undefined>(undefined),
});

/** A line to the host for a cluster, and one for each of its jobs. */
export function connectToCluster(clusterId: string, self: Self): ClusterConnection {
  const cluster = signalsOf(clusterId);
  const questions = new Questions();
  const follow = (): void =>
    void line.say({ kind: 'follow-cluster', clusterId, afterN: cluster.events.get().length });
  const stop = (): void => {
    const kind = line.say({ kind: 'stop', id: questions.nextId() }) ? 'sent' : 'unsent';
    cluster.stopNews.set({ kind });
    void stopByPost().then((answer) => {
      if (answer.kind === 'answer') takeStopped(cluster, answer.body);
    });
  };
  const line = keepLine({
    opened: () => {
      line.say({ kind: 'hello', ...self });
      follow();
      cluster.connection.set('connected');
      if (cluster.stopNews.get()?.kind === 'unsent') stop();
    },
    heard: (text) => {
      try {
        take(cluster, questions, { text, follow, self });
      } catch {
        cluster.isOld.set(true);
      }
    },
    lost: () => {
      cluster.connection.set('lost');
      cluster.live.set(undefined);
      questions.settleAll(lost);
      if (cluster.stopNews.get()?.kind === 'sent') cluster.stopNews.set({ kind: 'unsent' });
      lookNow(cluster);
    },
    quiet: () => undefined,
    isTalkative: () => cluster.stopNews.get()?.kind === 'sent',
  });
  return {
    ...cluster,
    get screen() {
      return cluster.name.get() ?? self.screen;
    },
    send: async (command) => {
      const outcome = await questions.ask((id) => line.say({ kind: 'cluster-command', id, command }));
      // Asked back about, not refused.
      const isDoubt = outcome.kind === 'refused' && outcome.code === 'FITS_OTHER_NEEDLE';
      cluster.refusal.set(outcome.kind === 'refused' && !isDoubt ? outcome : undefined);
      return outcome;
    },
    stop,
    close: () => {
      line.close();
      questions.settleAll(lost);
      for (const job of cluster.jobs.get()) job.close();
    },
  };
}

type Arrived = { readonly text: string; readonly follow: () => void; readonly self: Self };

function take(cluster: Signals, questions: Questions, { text, follow, self }: Arrived): void {
  const message: unknown = JSON.parse(text);
  if (!isHostMessage(message)) return undefined;
  switch (message.kind) {
    case 'welcome':
      cluster.name.set(message.by);
      cluster.right.set(message.right);
      return message.build === self.build ? undefined : cluster.isOld.set(true);
    case 'cluster-events': {
      const known = cluster.events.get();
      const fresh = message.events.filter(({ n }) => n > known.length);
      if (fresh[0] !== undefined && fresh[0].n !== known.length + 1) return follow();
      cluster.events.set([...known, ...fresh]);
      cluster.state.set(foldCluster(cluster.events.get()));
      return joinJobs(cluster, self);
    }
    case 'cluster-live':
      cluster.live.set(message.frame);
      return lookNow(cluster);
    case 'accepted':
      return questions.settle(message.id, { kind: 'accepted', upToN: message.upToN });
    case 'refused':
      return questions.settle(message.id, message);
    case 'stopped':
      return takeStopped(cluster, message);
    case 'misread': {
      const misread: Refusal = { kind: 'refused', code: 'MISREAD', message: message.message };
      if (message.id !== undefined && questions.isPending(message.id))
        return questions.settle(message.id, misread);
      return cluster.refusal.set(misread);
    }
    case 'dash':
    case 'box':
    case 'events':
    case 'live':
      return undefined;
  }
}

/** A job's own line as soon as the cluster is known to have it. */
function joinJobs(cluster: Signals, self: Self): void {
  const gauges = cluster.state.get()?.gauges ?? [];
  const known = cluster.jobs.get();
  if (gauges.length === known.length) return;
  const jobs = gauges.map(({ jobId, place }) => {
    const before = known.find((job) => job.jobId === jobId);
    if (before !== undefined) return before;
    const fresh = connectToJob(jobId, self, place);
    fresh.live.subscribe(() => lookNow(cluster));
    return fresh;
  });
  for (const job of known) if (!jobs.includes(job)) job.close();
  cluster.jobs.set(jobs);
}

function takeStopped(
  cluster: Signals,
  { outcome, boxes }: { readonly outcome: StopOutcome; readonly boxes?: BoxesStopped },
): void {
  cluster.stopNews.set({ kind: 'answered', outcome, boxes: boxes ?? [] });
}

function lookNow(cluster: Signals): void {
  const doing = cluster.live.get()?.doing;
  const jobs = cluster.jobs.get();
  const next = doing?.kind === 'sweep' ? doing.waiters[0] : undefined;
  const before = cluster.now.get();
  const liveCount = jobs.filter((job) => isOutputLive(job.live.get())).length;
  const isTripped = jobs.some((job) => job.live.get()?.trip !== undefined);
  // Once outputs are live anew, an answered stop is an old story.
  if (liveCount > before.liveCount && cluster.stopNews.get()?.kind === 'answered')
    cluster.stopNews.set(undefined);
  const progress = jobs.flatMap((job) => job.live.get()?.progress ?? []);
  const now: ClusterNow = {
    next,
    liveCount,
    isTripped,
    done: progress.reduce((sum, each) => sum + each.done, 0),
    total: progress.reduce((sum, each) => sum + each.total, 0),
    minutesLeft: Math.ceil(Math.max(0, ...progress.map((each) => each.minutesLeft))),
  };
  if (JSON.stringify(now) !== JSON.stringify(before)) cluster.now.set(now);
}
