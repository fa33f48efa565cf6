import type { Refused } from '../../core/result';
import { foldCluster, type ClusterOpeningAsked, type Opening } from '../../job';
import { refuse } from '../../refusals';
import type { LinkClock } from '../../link';
import { createCluster, createJobFolder, listClusters, openCluster } from '../../store';
import type { BenchClock } from '../clock';
import { ClusterDesk } from './cluster-desk';
import { ClusterRun, type RunBench, type RunGauge } from './cluster-run';

export type ClustersBench = RunBench & {
  openJob(jobId: string): Promise<RunGauge['desk'] | Refused>;
  onStop(listener: () => void): void;
};

export type ClustersParts = {
  readonly jobsFolder: string;
  readonly bench: ClustersBench;
  readonly clock: BenchClock;
  readonly screenClock: LinkClock;
  readonly needleSpeed: number;
  /** Of clusters that are marked as simulated. */
  readonly simulatedSpeed?: number | undefined;
};

const UNUSED_LOOKS = 3;
const LOOK_EVERY_MS = 20_000;

const isDesk = (desk: ClusterDesk | Refused): desk is ClusterDesk => desk instanceof ClusterDesk;

/** The clusters of one bench: the same desk for everyone who opens the same one. */
export class Clusters {
  readonly #parts: ClustersParts;
  readonly #desks = new Map<string, Promise<ClusterDesk | Refused>>();
  readonly #open = new Map<ClusterDesk, { unusedLooks: number }>();
  #cancelLooking: () => void = () => undefined;
  #isClosed = false;

  constructor(parts: ClustersParts) {
    this.#parts = parts;
    parts.bench.onStop(() => {
      for (const desk of this.#open.keys()) desk.callOff();
    });
    this.#lookLater();
  }

  async open(clusterId: string): Promise<ClusterDesk | Refused> {
    if (this.#isClosed) return refuse('HOST_ENDING');
    const opening = this.#desks.get(clusterId) ?? this.#tryToOpen(clusterId);
    this.#desks.set(clusterId, opening);
    const desk = await opening;
    if (!isDesk(desk)) this.#desks.delete(clusterId);
    return desk;
  }

  /** A new cluster, with an ordinary job for each gauge. Refuses JOBS_FOLDER. */
  async create(
    { gauges, ...opening }: ClusterOpeningAsked,
    by: string,
  ): Promise<{ readonly kind: 'created'; readonly clusterId: string } | Refused> {
    const { jobsFolder, clock } = this.#parts;
    const stamp = { atIso: clock.nowIso(), by };
    const created = await createCluster(jobsFolder, opening, stamp);
    if (created.kind === 'refused') return created;
    const journal = await openCluster(jobsFolder, created.clusterId, () => clock.nowIso());
    if (journal.kind === 'refused') return journal;
    try {
      for (const { place, opening: asked } of gauges) {
        const job = await createJobFolder(jobsFolder, asked, stamp);
        if (job.kind === 'refused') return job;
        const added = await journal.append([{ kind: 'gauge-added', jobId: job.jobId, place }], by);
        if (added !== 'appended') return added;
      }
      return created;
    } finally {
      await journal.close();
    }
  }

  /** A new cluster of the same kind: descriptions and places are copied, readings are not. */
  async again(
    clusterId: string,
    called: { readonly title?: string | undefined; readonly vehicle?: string | undefined },
    by: string,
  ): Promise<{ readonly kind: 'created'; readonly clusterId: string } | Refused> {
    const desk = await this.open(clusterId);
    if (!isDesk(desk)) return desk;
    const { title, feed, simulated, vehicle } = desk.state;
    const next = { title: called.title ?? title, vehicle: called.vehicle ?? vehicle };
    const gauges = desk.gauges.map(({ place, desk: job }) => ({
      place,
      opening: openingLike(job.state, next.vehicle),
    }));
    return this.create({ ...next, feed, simulated, gauges }, by);
  }

  list(): ReturnType<typeof listClusters> {
    return listClusters(this.#parts.jobsFolder);
  }

  /** Ends whatever is done; never rejects. */
  async close(): Promise<void> {
    this.#isClosed = true;
    this.#cancelLooking();
    const desks = await Promise.all([...this.#desks.values()]);
    this.#desks.clear();
    this.#open.clear();
    await Promise.all(desks.filter(isDesk).map((desk) => desk.close().catch(() => undefined)));
  }

  /** One that nobody looks at is let go, so that another program may write it. */
  #lookLater(): void {
    this.#cancelLooking = this.#parts.clock.after(LOOK_EVERY_MS, () => {
      this.#lookLater();
      for (const [desk, look] of [...this.#open]) {
        look.unusedLooks = desk.isUsed ? 0 : look.unusedLooks + 1;
        if (look.unusedLooks < UNUSED_LOOKS) continue;
        this.#open.delete(desk);
        this.#desks.delete(desk.clusterId);
        void desk.close();
      }
    });
  }

  async #tryToOpen(clusterId: string): Promise<ClusterDesk | Refused> {
    const { jobsFolder, bench, clock, screenClock, needleSpeed, simulatedSpeed } = this.#parts;
    const journal = await openCluster(jobsFolder, clusterId, () => clock.nowIso());
    if (journal.kind === 'refused') return journal;
    const opened = foldCluster(journal.events);
    const gauges: RunGauge[] = [];
    let trouble: Refused | undefined =
      opened === undefined ? refuse('JOURNAL_NOT_A_JOB', { where: journal.folder }) : undefined;
    for (const { jobId, place } of opened?.gauges ?? []) {
      const desk = await bench.openJob(jobId);
      if ('kind' in desk) trouble ??= desk;
      else gauges.push({ jobId, place, desk });
    }
    if (trouble !== undefined || opened === undefined) {
      await journal.close();
      return trouble ?? refuse('JOURNAL_NOT_A_JOB', { where: journal.folder });
    }
    const speed = opened.simulated ? (simulatedSpeed ?? needleSpeed) : needleSpeed;
    const run = new ClusterRun({ journal, opened, gauges, bench, clock, needleSpeed: speed });
    const desk = new ClusterDesk({
      clusterId,
      run,
      events: () => journal.events,
      boxes: () =>
        bench
          .boxes()
          .flatMap(({ box, boxSerial }) => (box.isLive && boxSerial !== undefined ? [boxSerial] : [])),
      stopAll: (by) => bench.stopAll(by),
      clock,
      screenClock,
      needleSpeed: speed,
      closed: () => journal.close(),
    });
    this.#open.set(desk, { unusedLooks: 0 });
    return desk;
  }
}

const openingLike = (
  { title, gauge, printed, place, simulated }: RunGauge['desk']['state'],
  vehicle: string,
): Opening => ({ title, gauge: printed ?? gauge, vehicle, place, simulated });
