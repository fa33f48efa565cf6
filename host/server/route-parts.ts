import type { Bench, ClusterDesk, Clusters, OpenJob } from '../bench';
import type { Refused } from '../core/result';
import type { Opening } from '../job/schema/gauge';
import type { JobState } from '../job/state/state';
import type { BoxBay } from './box-bay';
import type { Callers } from './callers';
import type { CatalogueDesk } from './catalogue/catalogue-desk';
import type { Computer } from './findings/computer';
import type { Devices } from './devices';
import type { Gate } from './gate';
import type { RecordDesk } from './record/record-desk';
import type { ServerLimits } from './limits';
import type { Pairing } from './pairing';

/** What the server asks of an open job. */
export type ServedJob = Pick<
  OpenJob,
  'jobId' | 'events' | 'state' | 'live' | 'photographs' | 'submit' | 'seen' | 'gone' | 'subscribe'
>;

/** What the server asks of the bench. */
export type ServedBench = Pick<
  Bench,
  'jobs' | 'assignBox' | 'stopEach' | 'close' | 'archiveJob' | 'deleteJob' | 'restoreJob' | 'exampleJob'
> & {
  createJob(opening: Opening, by: string): Promise<ServedJob | Refused>;
  openJob(jobId: string): Promise<ServedJob | Refused>;
  duplicateJob(jobId: string, by: string): Promise<ServedJob | Refused>;
};

/** What the server asks of an open cluster. */
export type ServedCluster = Pick<
  ClusterDesk,
  'clusterId' | 'events' | 'live' | 'state' | 'submit' | 'seen' | 'gone' | 'subscribe'
> & {
  readonly gauges: readonly {
    readonly jobId: string;
    readonly place: string;
    readonly desk: { readonly state: JobState };
  }[];
};

export type ServedClusters = Pick<Clusters, 'create' | 'again' | 'list'> & {
  open(clusterId: string): Promise<ServedCluster | Refused>;
};

export type AppParts = {
  readonly bench: ServedBench;
  /** Left out, this host keeps no clusters. */
  readonly clusters?: ServedClusters | undefined;
  readonly bay: BoxBay;
  readonly computer: Computer;
  readonly catalogue: Omit<CatalogueDesk, 'close'>;
  readonly records: Omit<RecordDesk, 'close'>;
  readonly callers: Callers;
  /** Paired devices; left out, none are kept. */
  readonly devices?: Devices | undefined;
  readonly pairing?: Pairing | undefined;
  readonly limits?: Partial<ServerLimits> | undefined;
  /** The built page; left out, only the API is served. */
  readonly webFolder?: string | undefined;
  readonly version: string;
};

/** What the routes are given: the parts, and what this run adds to them. */
export type RouteParts = AppParts & {
  readonly gate: Gate;
  readonly devices: Devices;
  readonly pairing: Pairing;
  /** Names the page that belongs to this host. */
  readonly build: string;
  /** Drawn anew for each run. */
  readonly stopToken: string;
};
