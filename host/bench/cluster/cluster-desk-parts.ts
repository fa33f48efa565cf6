import type { ClusterEvent } from '../../job';
import type { LinkClock } from '../../link';
import type { BenchClock } from '../clock';
import type { ClusterRun } from './cluster-run';

/** What the desk asks of the bench beside what its run asks. */
export type ClusterDeskParts = {
  readonly clusterId: string;
  readonly run: ClusterRun;
  readonly events: () => readonly ClusterEvent[];
  readonly boxes: () => readonly number[];
  readonly stopAll: (by: string) => Promise<unknown>;
  readonly clock: BenchClock;
  /** The screens live in this one. */
  readonly screenClock: LinkClock;
  readonly needleSpeed: number;
  /** Gives back the journal. */
  readonly closed: () => Promise<void>;
};
