import { leastRunMs } from '../../core/cluster';
import type { Refused } from '../../core/result';
import { foldCluster, neighboursOf, openSweep, type ClusterBody, type ClusterState } from '../../job';
import type { SweepChoice } from '../../job';
import { refuse } from '../../refusals';
import type { ClusterJournal } from '../../store';
import type { Box } from '../box/box';
import type { BenchClock } from '../clock';
import { neighbourTest } from './neighbour-test';
import type { ReadingQueue } from './reading-queue';
import { berthsOf, rollCall, type NeedleMoved } from './roll-call';
import { sweepTogether, type SweepOrder, type SweptMember } from './sweep-together';
import type { InCluster } from '../sweep/sweep-run-parts';

/** One gauge of an open cluster: its job, where it sits. */
export type RunGauge = {
  readonly jobId: string;
  readonly place: string;
  readonly desk: SweptMember['desk'];
};

/** What a run asks of the bench its boxes are at. */
export type RunBench = {
  boxes(): readonly { readonly box: Box; readonly boxSerial: number | undefined }[];
  assignBox(jobId: string, boxSerial: number | undefined): 'assigned' | Refused;
  putInCluster(jobId: string, place: InCluster | undefined): void;
  /** Nobody else drives one of the boxes until the returned function is called. Refuses BOX_BUSY. */
  holdBoxes(title: string, jobIds: readonly string[]): (() => void) | Refused;
  stopAll(by: string): Promise<unknown>;
};

export type ClusterRunParts = {
  readonly journal: ClusterJournal;
  readonly opened: ClusterState;
  readonly gauges: readonly RunGauge[];
  readonly bench: RunBench;
  readonly clock: BenchClock;
  readonly needleSpeed: number;
};

export type Asker = { readonly by: string; readonly signal: AbortSignal };

export type RunSweep = Asker & {
  readonly order: SweepOrder;
  readonly choice: SweepChoice;
  readonly queue: ReadingQueue;
  /** Asked when the sweep is over: what the person spent between needles, ms, and how many answers were doubted. */
  readonly spent: () => { readonly changesMs: number; readonly doubted: number };
  readonly trouble: (jobId: string, refused: Refused) => void;
};

const MS_PER_MINUTE = 60_000;

const isRefused = (value: object): value is Refused => 'kind' in value && value.kind === 'refused';

/**
 * What is done with the gauges of a cluster together; whatever was found is in the cluster's journal before it answers,
 * and every output is open then. For a person at a terminal and at a page alike.
 */
export class ClusterRun {
  readonly #parts: ClusterRunParts;
  /** Boxes of which somebody has said in this run of the program whose needle they move, with how to stop listening. */
  readonly #called = new Map<number, () => void>();

  constructor(parts: ClusterRunParts) {
    this.#parts = parts;
  }

  get state(): ClusterState {
    return foldCluster(this.#parts.journal.events) ?? this.#parts.opened;
  }

  get gauges(): readonly RunGauge[] {
    return this.#parts.gauges;
  }

  placeOf(jobId: string): string {
    return this.gauges.find((gauge) => gauge.jobId === jobId)?.place ?? jobId;
  }

  note(bodies: readonly ClusterBody[], by: string): Promise<'appended' | Refused> {
    return this.#parts.journal.append(bodies, by);
  }

  /** Gauges whose sweep was left, and those not yet swept in this condition; all of them where none is. */
  get due(): ReadonlySet<string> {
    const { state: condition } = this.state;
    const left = this.gauges.filter(({ desk: { state } }) => {
      const isSwept = state.sweeps.some(
        (each) => each.state === condition && each.status.kind === 'finished',
      );
      return openSweep(state) !== undefined || !isSwept;
    });
    return new Set((left.length === 0 ? this.gauges : left).map(({ jobId }) => jobId));
  }

  /**
   * Which box is on which gauge: asked in every run of the program, before anything is driven together. Refuses
   * CLUSTER_BOXES, BOX_SERIAL_TWICE, BOX_BUSY, ROLL_CALL_TWICE, ROLL_CALL_UNCLEAR, and what a box refuses.
   */
  async callRoll(
    asker: Asker & {
      readonly about: (boxSerial: number) => void;
      readonly whichMoved: (boxSerial: number) => Promise<NeedleMoved>;
    },
  ): Promise<'called' | Refused> {
    const { clock, needleSpeed } = this.#parts;
    const boxes = this.#boxes();
    if ('kind' in boxes) return boxes;
    const gauges = this.gauges.map(({ jobId, desk }) => ({ jobId, gauge: desk.state.gauge }));
    const called = await this.#held(() => rollCall({ ...asker, gauges, boxes, clock, needleSpeed }));
    if (isRefused(called)) return called;
    const noted = await this.note(
      called.map(({ boxSerial, moved, milliamp }) => ({
        kind: 'roll-call',
        boxSerial,
        moved,
        ...(milliamp === undefined ? {} : { milliamp }),
      })),
      asker.by,
    );
    if (noted !== 'appended') return noted;
    const berths = berthsOf(called, this.gauges);
    if ('kind' in berths) return berths;
    return this.#assign([...berths], asker.by);
  }

  /** What the gauges do to each other, by the boxes' own meters. Refuses ROLL_CALL_FIRST, BOX_SERIAL_TWICE, BOX_BUSY, what a box refuses. */
  async testNeighbours(
    asker: Asker & { readonly about: (jobId: string) => void },
  ): Promise<'measured' | Refused> {
    const members = this.#members();
    if ('kind' in members) return members;
    const isBatteryLeadOnBench = this.state.feed.isBatteryLeadOnBench === true;
    const { clock } = this.#parts;
    const found = await this.#held(() => neighbourTest({ ...asker, members, clock, isBatteryLeadOnBench }));
    if (isRefused(found)) return found;
    const cells = found.map(({ movedId, watchedId, ...cell }) => ({
      movedJobId: movedId,
      watchedJobId: watchedId,
      ...cell,
    }));
    const noted = await this.note([{ kind: 'neighbours-measured', cells }], asker.by);
    return noted === 'appended' ? 'measured' : noted;
  }

  /** As wanted; gauges that disturb each other too much are swept one at a time unless somebody wants otherwise. */
  orderFor(wanted: SweepOrder | undefined): SweepOrder {
    const verdict = neighboursOf(this.state)?.verdict ?? 'none-seen';
    return wanted ?? (verdict === 'none-seen' || verdict === 'small' ? 'free' : 'one-by-one');
  }

  /** Sweeps what is due, or goes on with what was left. Refuses ROLL_CALL_FIRST, BOX_SERIAL_TWICE, BOX_BUSY. */
  async sweep(asked: RunSweep): Promise<'swept' | Refused> {
    const members = this.#members();
    if ('kind' in members) return members;
    const { clock, needleSpeed, bench } = this.#parts;
    const { by, order, queue } = asked;
    const sinceMs = clock.nowMs();
    const { due } = this;
    const putInCluster: RunBench['putInCluster'] = (jobId, place) => bench.putInCluster(jobId, place);
    const cells = neighboursOf(this.state)?.cells ?? [];
    const swept = await this.#held(async () => {
      try {
        await sweepTogether({ ...asked, members, due, clock, putInCluster, cells });
      } finally {
        await bench.stopAll(by);
      }
      return {};
    });
    if (isRefused(swept)) return swept;
    const { changesMs, doubted } = asked.spent();
    if (queue.readings.length === 0) return 'swept';
    const noted = await this.note(
      [
        {
          kind: 'swept',
          order,
          minutes: ((clock.nowMs() - sinceMs) * needleSpeed) / MS_PER_MINUTE,
          leastMinutes: leastRunMs(queue.readings, changesMs) / MS_PER_MINUTE,
          readings: queue.readings.length,
          doubted,
        },
      ],
      by,
    );
    return noted === 'appended' ? 'swept' : noted;
  }

  /** Whether every gauge has its box, as somebody said since the box was plugged in. */
  get isCalled(): boolean {
    return !('kind' in this.#members());
  }

  end(): void {
    for (const forget of this.#called.values()) forget();
    this.#called.clear();
  }

  async #assign(berths: readonly (readonly [string, number])[], by: string): Promise<'called' | Refused> {
    const { bench } = this.#parts;
    // First all are let go: two of them may have changed places.
    for (const { jobId } of this.gauges) {
      const freed = bench.assignBox(jobId, undefined);
      if (freed !== 'assigned') return freed;
    }
    for (const [jobId, boxSerial] of berths) {
      const assigned = bench.assignBox(jobId, boxSerial);
      if (assigned !== 'assigned') return assigned;
      const noted = await this.note([{ kind: 'berth-assigned', jobId, boxSerial, how: 'roll-call' }], by);
      if (noted !== 'appended') return noted;
      this.#remember(boxSerial);
    }
    return 'called';
  }

  /** Until its plug was pulled: nobody knows where it is put then. */
  #remember(boxSerial: number): void {
    const box = this.#parts.bench.boxes().find((each) => each.boxSerial === boxSerial)?.box;
    if (box === undefined) return;
    this.#called.get(boxSerial)?.();
    const forget = box.link.subscribe((event) => {
      const isGone = event.kind === 'state' && event.state !== 'live' && event.state !== 'silent';
      if (!isGone && event.kind !== 'restarted') return;
      forget();
      this.#called.delete(boxSerial);
    });
    this.#called.set(boxSerial, forget);
  }

  async #held<Answer extends object>(work: () => Promise<Answer>): Promise<Answer | Refused> {
    const { bench } = this.#parts;
    const letGo = bench.holdBoxes(
      this.state.title,
      this.gauges.map(({ jobId }) => jobId),
    );
    if ('kind' in letGo) return letGo;
    try {
      return await work();
    } finally {
      letGo();
    }
  }

  #boxes(): readonly { readonly box: Box; readonly boxSerial: number }[] | Refused {
    const boxes = this.#live();
    const twice = this.#twice(boxes);
    if (twice !== undefined) return twice;
    const gauges = this.gauges.length;
    return boxes.length === gauges ? boxes : refuse('CLUSTER_BOXES', { gauges, boxes: boxes.length });
  }

  #live(): readonly { readonly box: Box; readonly boxSerial: number }[] {
    return this.#parts.bench
      .boxes()
      .flatMap(({ box, boxSerial }) => (box.isLive && boxSerial !== undefined ? [{ box, boxSerial }] : []));
  }

  /** Of two that call themselves the same nobody knows which is meant. */
  #twice(boxes: readonly { readonly boxSerial: number }[]): Refused | undefined {
    const serials = boxes.map(({ boxSerial }) => boxSerial);
    const serial = serials.find((each, at) => serials.indexOf(each) !== at);
    return serial === undefined ? undefined : refuse('BOX_SERIAL_TWICE', { serial });
  }

  #members(): readonly SweptMember[] | Refused {
    const boxes = this.#live();
    const twice = this.#twice(boxes);
    if (twice !== undefined) return twice;
    const members: SweptMember[] = [];
    for (const { jobId, place, desk } of this.gauges) {
      const serial = this.state.gauges.find((gauge) => gauge.jobId === jobId)?.boxSerial;
      const found = boxes.find(({ boxSerial }) => boxSerial === serial);
      if (serial === undefined || found === undefined || !this.#called.has(serial))
        return refuse('ROLL_CALL_FIRST', { place });
      members.push({ jobId, place, gauge: desk.state.gauge, box: found.box, desk });
    }
    return members;
  }
}
