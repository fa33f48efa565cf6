import type { ClusterState } from '../../job/state/cluster-state';
import { createSignal, type Signal } from '../signal';

const WAYS = ['box', 'resistors', 'potentiometer', 'decade', 'table'] as const;

type Condition = ClusterState['state'];

/** What a sweep is made with: the box, what a person puts on, or a table that was measured elsewhere. */
export type Way = (typeof WAYS)[number];

/** For each job the way that somebody chose on this screen; undefined: nobody has. It stays while the tab lives. */
export type InHand = {
  readonly of: (jobId: string) => Signal<Way | undefined>;
  readonly choose: (jobId: string, way: Way) => void;
  /** The cluster sheet that a job was opened from on this screen. */
  readonly clusterOf: (jobId: string) => string | undefined;
  /** Of a gauge that is swept by hand: what its cluster's sheet said it is. */
  readonly conditionOf: (jobId: string) => Condition | undefined;
  readonly cameFrom: (jobId: string, clusterId: string, condition?: Condition) => void;
};

const keyOf = (jobId: string): string => `needlewright-in-hand ${jobId}`;
const CONDITIONS = ['as-found', 'as-left'] as const;
const conditionKeyOf = (jobId: string): string => `needlewright-condition-of ${jobId}`;
const clusterKeyOf = (jobId: string): string => `needlewright-cluster-of ${jobId}`;

export function createInHand(storage: Pick<Storage, 'getItem' | 'setItem'>): InHand {
  const signals = new Map<string, Signal<Way | undefined>>();
  const of = (jobId: string): Signal<Way | undefined> => {
    const kept = storage.getItem(keyOf(jobId));
    const signal = signals.get(jobId) ?? createSignal(WAYS.find((way) => way === kept));
    signals.set(jobId, signal);
    return signal;
  };
  return {
    of,
    choose: (jobId, way) => {
      storage.setItem(keyOf(jobId), way);
      of(jobId).set(way);
    },
    clusterOf: (jobId) => storage.getItem(clusterKeyOf(jobId)) ?? undefined,
    conditionOf: (jobId) => CONDITIONS.find((each) => each === storage.getItem(conditionKeyOf(jobId))),
    cameFrom: (jobId, clusterId, condition) => {
      storage.setItem(clusterKeyOf(jobId), clusterId);
      if (condition !== undefined) storage.setItem(conditionKeyOf(jobId), condition);
    },
  };
}
