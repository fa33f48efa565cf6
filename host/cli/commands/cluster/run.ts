import { OpenJob, systemBenchClock } from '../../../bench';
import { clusterPerson } from '../../../bench/cluster/cluster-person';
import { ClusterRun } from '../../../bench/cluster/cluster-run';
import { ReadingQueue, type QueuedJob } from '../../../bench/cluster/reading-queue';
import type { NeedleMoved } from '../../../bench/cluster/roll-call';
import type { SweepOrder } from '../../../bench/cluster/sweep-together';
import type { ClusterState } from '../../../job';
import type { Surroundings } from '../../command';
import { clusterBench, type ClusterBench } from '../../input/cluster-boxes';
import { confirmationsFrom, sweepChoiceFrom } from '../../input/sweep-options';
import { InputError, RefusedError } from '../../input-error';
import type { Arguments } from '../../options';
import { ClusterTerminal } from '../../output/cluster-terminal';
import { BY, mustBe } from './action';
import { clusterNamed, newCluster, type OpenedCluster } from './open';

/** A needle that moved by less was not seen to move. */
const SEEN_PART = 0.04;
const LOOK_MS = 50;

type Gauge = { readonly jobId: string; readonly place: string; readonly at: number; readonly desk: OpenJob };

/** A cluster with its boxes and open jobs, for as long as one command works on it. */
export class ClusterAtWork {
  readonly #given: Arguments;
  readonly #surroundings: Surroundings;
  readonly #at: ClusterBench;
  readonly #run: ClusterRun;
  readonly #gauges: readonly Gauge[];
  readonly #terminal: ClusterTerminal;
  readonly #abort = new AbortController();

  private constructor(
    parts: { given: Arguments; surroundings: Surroundings; opened: OpenedCluster; at: ClusterBench },
    gauges: readonly Gauge[],
  ) {
    this.#given = parts.given;
    this.#surroundings = parts.surroundings;
    this.#at = parts.at;
    this.#gauges = gauges;
    const { journal, state: opened } = parts.opened;
    const { bench, needleSpeed } = parts.at;
    this.#run = new ClusterRun({ journal, opened, gauges, bench, clock: systemBenchClock, needleSpeed });
    this.#terminal = new ClusterTerminal(gauges, parts.surroundings, BY);
    void parts.surroundings.interrupted.then(() => this.#abort.abort());
  }

  /** Does a work on the named cluster, or on a new one; every output is open when it answers, whatever happened. */
  static async with<Answer>(
    clusterId: string | undefined,
    given: Arguments,
    surroundings: Surroundings,
    work: (cluster: ClusterAtWork) => Promise<Answer>,
  ): Promise<Answer> {
    if (given.flag('auto') && given.text('simulate') === undefined)
      throw new InputError(
        '--auto is for simulated boxes: only there can a simulated person see the needles',
      );
    const opened =
      clusterId === undefined
        ? await newCluster(given, surroundings)
        : await clusterNamed(clusterId, given, surroundings);
    try {
      const at = await clusterBench(given, surroundings);
      try {
        const gauges = await Promise.all(
          opened.state.gauges.map(async ({ jobId, place }, index): Promise<Gauge> => {
            const desk = await at.bench.openJob(jobId);
            if (!(desk instanceof OpenJob)) throw new RefusedError(desk.code, desk.message);
            return { jobId, place, at: index, desk };
          }),
        );
        if (at.boxes.length !== gauges.length)
          throw new InputError(
            `${gauges.length} gauges and ${at.boxes.length} boxes: plug in one box a gauge`,
          );
        // A job that nobody looks at is let go.
        for (const { desk } of gauges) desk.attend(BY);
        return await work(new ClusterAtWork({ given, surroundings, opened, at }, gauges));
      } finally {
        await at.end();
      }
    } finally {
      await opened.journal.close();
    }
  }

  get state(): ClusterState {
    return this.#run.state;
  }

  /** Nothing is driven together before it is known which box is on which gauge: asked in every run of the program. */
  async callRoll(): Promise<void> {
    let before = this.#angles();
    mustBe(
      await this.#run.callRoll({
        by: BY,
        signal: this.#abort.signal,
        about: (boxSerial) => {
          before = this.#angles();
          this.#surroundings.err(`box ${boxSerial} moves its needle now`);
        },
        whichMoved: (boxSerial) =>
          this.#given.flag('auto')
            ? Promise.resolve(this.#seenMoving(before))
            : this.#terminal.whichMoved(boxSerial),
      }),
    );
  }

  async testNeighbours(): Promise<void> {
    this.#surroundings.err('what the gauges do to each other is measured');
    mustBe(
      await this.#run.testNeighbours({
        by: BY,
        signal: this.#abort.signal,
        about: (jobId) => this.#surroundings.err(`  ${this.#run.placeOf(jobId)} goes from end to end`),
      }),
    );
  }

  /** The order that was asked for; gauges that disturb each other too much are swept one at a time unless told otherwise. */
  orderWanted(): SweepOrder {
    const asked = (['one-by-one', 'rounds', 'free'] as const).find((order) => this.#given.flag(order));
    return this.#run.orderFor(asked);
  }

  async sweep(): Promise<void> {
    const condition = this.#given.text('state') === 'as-left' ? 'as-left' : 'as-found';
    mustBe(await this.#run.note([{ kind: 'state-declared', state: condition }], BY));
    for (const { desk } of this.#gauges) await this.#prepare(desk);
    const jobs = this.#gauges.map(({ jobId, desk }) => ({ jobId, job: desk }));
    const queue = new ReadingQueue(jobs, systemBenchClock, this.#at.needleSpeed);
    const person = this.#given.flag('auto') ? this.#simulatedPerson(queue) : undefined;
    const atTerminal = person === undefined ? this.#personAtTerminal(queue, jobs) : undefined;
    try {
      mustBe(
        await this.#run.sweep({
          by: BY,
          order: this.orderWanted(),
          choice: { ...sweepChoiceFrom(this.#given), state: condition },
          queue,
          signal: this.#abort.signal,
          spent: () => ({
            changesMs: person?.changesMs ?? 0,
            doubted: (person?.caught ?? 0) + (person?.falseDoubts ?? 0),
          }),
          trouble: (jobId, { message }) => this.#surroundings.err(`${this.#run.placeOf(jobId)}: ${message}`),
        }),
      );
    } finally {
      person?.leave();
      atTerminal?.();
    }
    this.#refuseUnfinished();
  }

  async #prepare(desk: OpenJob): Promise<void> {
    for (const confirmation of confirmationsFrom(this.#given)) {
      const said = await desk.submit({ kind: 'confirm-safety', confirmation }, BY);
      if (said.kind === 'refused') throw new RefusedError(said.code, said.message);
    }
  }

  #refuseUnfinished(): void {
    const left = this.#gauges.filter(({ desk }) => desk.state.sweeps.at(-1)?.status.kind !== 'finished');
    if (left.length === 0 || this.#terminal.isLeft || this.#abort.signal.aborted) return;
    const places = left.map(({ place }) => place).join(', ');
    throw new RefusedError(
      'SWEEP_PAUSED',
      `not swept to the end: ${places}; what was read is kept in their jobs`,
    );
  }

  #simulatedPerson(queue: ReadingQueue) {
    return clusterPerson({
      jobs: this.#gauges.map(({ jobId, desk }) => ({ jobId, job: desk })),
      queue,
      look: (jobId) => this.#lookAt(this.#gauges.find((gauge) => gauge.jobId === jobId)),
      clock: systemBenchClock,
      needleSpeed: this.#at.needleSpeed,
      seed: this.#given.number('seed') ?? 1,
      name: BY,
    });
  }

  /** Asks as long as the sweeps run; answers how to end it. */
  #personAtTerminal(queue: ReadingQueue, jobs: readonly QueuedJob[]): () => void {
    const over = { isOver: false };
    const leaving = jobs.flatMap((each) => [
      each.job.attend(BY),
      each.job.subscribe((news) => (news.kind === 'live' ? queue.heard(each) : undefined)),
    ]);
    const ask = async (): Promise<void> => {
      while (!over.isOver) {
        const asked = await this.#terminal.readNext(queue);
        if (asked === 'left') return this.#abort.abort();
        if (asked === 'nobody')
          await new Promise<void>((resolve) => systemBenchClock.after(LOOK_MS, resolve));
      }
    };
    void ask();
    return () => {
      over.isOver = true;
      for (const leave of leaving) leave();
    };
  }

  /** Simulated gauges stand in the cluster in the order of their jobs. */
  #lookAt(gauge: Gauge | undefined) {
    const used = [...this.#at.looks.keys()].sort((one, other) => one - other);
    const at = gauge === undefined ? undefined : used[gauge.at];
    return at === undefined ? undefined : this.#at.looks.get(at);
  }

  #angles(): readonly number[] {
    return this.#gauges.map((gauge) => this.#lookAt(gauge)?.angleFraction ?? 0);
  }

  #seenMoving(before: readonly number[]): NeedleMoved {
    const moved = this.#angles().flatMap((angle, at) =>
      Math.abs(angle - (before[at] ?? 0)) > SEEN_PART ? [at] : [],
    );
    const gauge = this.#gauges[moved[0] ?? -1];
    if (gauge === undefined) return { nothing: 'none' };
    return moved.length > 1 ? { nothing: 'several' } : { jobId: gauge.jobId };
  }
}
