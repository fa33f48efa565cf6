import type { Refused } from '../core/result';
import type { HostMessage } from '../job/wire/host-messages';
import type { ScreenMessage } from '../job/wire/job-messages';
import type { ServedCluster, ServedJob } from './route-parts';

/** What this screen follows: a job, or a cluster. */
export type Followed =
  | { readonly kind: 'job'; readonly job: ServedJob }
  | { readonly kind: 'cluster'; readonly cluster: ServedCluster };
export type Following = Followed & {
  readonly seen: (name: string) => void;
  readonly gone: (name: string) => void;
  readonly unfollow: () => void;
};
/** Whatever can be followed: what is there already, and who is told of more. */
export type Source = {
  readonly key: string;
  readonly isFirst: (name: string) => boolean;
  readonly subscribe: (listener: () => void) => () => void;
  readonly seen: (name: string) => void;
  readonly gone: (name: string) => void;
  /** The events after a number, as they are sent; undefined: there are none. */
  readonly newsAfter: (n: number) => { readonly message: HostMessage; readonly lastN: number } | undefined;
  readonly live: () => HostMessage;
};

/** Hands a command to what it is meant for; undefined: this screen follows something else. */
export async function submitted(
  following: Following,
  message: Extract<ScreenMessage, { kind: 'command' | 'cluster-command' }>,
  name: string,
): Promise<{ readonly kind: 'accepted'; readonly upToN: number } | Refused | undefined> {
  if (following.kind === 'job' && message.kind === 'command')
    return following.job.submit(message.command, name);
  if (following.kind === 'job' || message.kind === 'command') return undefined;
  const { cluster } = following;
  const done = await cluster.submit(message.command, name);
  return done.kind === 'refused' ? done : { kind: 'accepted', upToN: cluster.events.length };
}

export const sourceOfJob = (job: ServedJob): Source => ({
  key: job.jobId,
  isFirst: (name) => job.live.attending === name,
  subscribe: (listener) => job.subscribe(listener),
  seen: (name) => job.seen(name),
  gone: (name) => job.gone(name),
  newsAfter: (n) => {
    const events = job.events.slice(n);
    const lastN = events.at(-1)?.n;
    return lastN === undefined ? undefined : { message: { kind: 'events', jobId: job.jobId, events }, lastN };
  },
  live: () => ({ kind: 'live', frame: job.live }),
});

export const sourceOfCluster = (cluster: ServedCluster): Source => ({
  key: `cluster ${cluster.clusterId}`,
  isFirst: (name) => cluster.live.reader === name,
  subscribe: (listener) => cluster.subscribe(listener),
  seen: (name) => cluster.seen(name),
  gone: (name) => cluster.gone(name),
  newsAfter: (n) => {
    const events = cluster.events.slice(n);
    const lastN = events.at(-1)?.n;
    const { clusterId } = cluster;
    return lastN === undefined
      ? undefined
      : { message: { kind: 'cluster-events', clusterId, events }, lastN };
  },
  live: () => ({ kind: 'cluster-live', frame: cluster.live }),
});
