import type { Refused } from '../../host/core/result';
import {
  foldCluster,
  type ClusterBody,
  type ClusterCommand,
  type ClusterEvent,
  type ClusterFrame,
  type ClusterOpeningAsked,
  type ClusterState,
  type Opening,
} from '../../host/job';
import { refuse } from '../../host/refusals';
import type { ServedCluster, ServedClusters } from '../../host/server/route-parts';
import type { FakeDesk } from './fake-bench';

type JobMaker = { createJob(opening: Opening): Promise<FakeDesk> };

/** Clusters in memory: they keep a journal and show what they are told to; nothing is driven. */
export class FakeClusters implements ServedClusters {
  readonly all = new Map<string, FakeCluster>();
  readonly #bench: JobMaker;

  constructor(bench: JobMaker) {
    this.#bench = bench;
  }

  async begin({ gauges, ...opening }: ClusterOpeningAsked): Promise<FakeCluster> {
    const cluster = new FakeCluster(`cluster-${this.all.size + 1}`);
    cluster.append({ kind: 'cluster-opened', schema: 1, clusterId: cluster.clusterId, ...opening });
    for (const { place, opening: asked } of gauges) {
      const desk = await this.#bench.createJob(asked);
      cluster.gauges.push({ jobId: desk.jobId, place, desk });
      cluster.append({ kind: 'gauge-added', jobId: desk.jobId, place });
    }
    this.all.set(cluster.clusterId, cluster);
    return cluster;
  }

  async create(opening: ClusterOpeningAsked) {
    return { kind: 'created' as const, clusterId: (await this.begin(opening)).clusterId };
  }

  again(clusterId: string) {
    return Promise.resolve(refuse('JOURNAL_MISSING', { path: clusterId, name: 'cluster.ndjson' }));
  }

  open(clusterId: string): Promise<FakeCluster | Refused> {
    const found = this.all.get(clusterId);
    return Promise.resolve(found ?? refuse('JOURNAL_MISSING', { path: clusterId, name: 'cluster.ndjson' }));
  }

  list() {
    return Promise.resolve([...this.all.values()].map(({ clusterId, events }) => ({ clusterId, events })));
  }
}

export class FakeCluster implements ServedCluster {
  readonly events: ClusterEvent[] = [];
  readonly gauges: { jobId: string; place: string; desk: FakeDesk }[] = [];
  readonly commands: ClusterCommand[] = [];
  readonly clusterId: string;
  readonly #listeners = new Set<() => void>();
  #frame: Omit<ClusterFrame, 'clusterId' | 'lastN'> = {
    doing: { kind: 'nothing' },
    boxes: [],
    isCalled: false,
  };

  constructor(clusterId: string) {
    this.clusterId = clusterId;
  }

  get state(): ClusterState {
    const state = foldCluster(this.events);
    if (state === undefined) throw new Error('a cluster begins with its opening');
    return state;
  }

  get live(): ClusterFrame {
    return { clusterId: this.clusterId, lastN: this.events.length, ...this.#frame };
  }

  append(body: ClusterBody): void {
    const n = this.events.length + 1;
    this.events.push({ n, at: new Date(1_700_000_000_000 + n * 1000).toISOString(), by: 'test', ...body });
    this.#tell();
  }

  show(part: Partial<Omit<ClusterFrame, 'clusterId' | 'lastN'>>): void {
    this.#frame = { ...this.#frame, ...part };
    this.#tell();
  }

  submit(command: ClusterCommand): Promise<{ readonly kind: 'done' }> {
    this.commands.push(command);
    return Promise.resolve({ kind: 'done' });
  }

  seen(): void {}
  gone(): void {}

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  #tell(): void {
    for (const listener of this.#listeners) listener();
  }
}
