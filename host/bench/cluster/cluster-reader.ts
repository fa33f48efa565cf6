import type { Refused } from '../../core/result';
import { understood, type ClusterCommand, type ClusterDoing, type CommandOf } from '../../job';
import { refuse } from '../../refusals';
import type { BenchClock } from '../clock';
import type { ClusterRun, RunGauge } from './cluster-run';
import { wrongNeedle, type InSight } from './doubt';
import { ReadingQueue } from './reading-queue';
import type { SweepOrder } from './sweep-together';

type Sweeping = Extract<ClusterDoing, { kind: 'sweep' }>;
type Asked = Extract<ClusterCommand, { kind: 'give' | 'read-again' | 'begin-short' | 'later' }>;

const inSight = ({ jobId, desk }: RunGauge): InSight => ({ jobId, state: desk.state, live: desk.live });

/** What the one person in front of a sweeping cluster is asked, and what becomes of the answers. */
export class ClusterReader {
  readonly queue: ReadingQueue;
  readonly #run: ClusterRun;
  readonly #order: SweepOrder;
  readonly #clock: BenchClock;
  readonly #needleSpeed: number;
  readonly #changed: () => void;
  #shown: { readonly jobId: string; readonly sinceMs: number } | undefined;
  #doubt: Sweeping['doubt'];
  #doubted = 0;

  constructor(parts: {
    readonly run: ClusterRun;
    readonly order: SweepOrder;
    readonly clock: BenchClock;
    readonly needleSpeed: number;
    readonly changed: () => void;
  }) {
    this.#run = parts.run;
    this.#order = parts.order;
    this.#clock = parts.clock;
    this.#needleSpeed = parts.needleSpeed;
    this.#changed = parts.changed;
    const jobs = parts.run.gauges.map(({ jobId, desk }) => ({ jobId, job: desk }));
    this.queue = new ReadingQueue(jobs, parts.clock, parts.needleSpeed);
  }

  get doubted(): number {
    return this.#doubted;
  }

  get doing(): Sweeping {
    const doubt = this.#doubt;
    return {
      kind: 'sweep',
      order: this.#order,
      waiters: this.queue.waiters.map(({ id, wants }) => ({ jobId: id, wants })),
      ...(doubt === undefined ? {} : { doubt }),
    };
  }

  /** Some job has news. */
  heard(): void {
    for (const { jobId, desk } of this.#run.gauges) this.queue.heard({ jobId, job: desk });
    const [next] = this.queue.waiters;
    if (next?.id !== this.#shown?.jobId)
      this.#shown = next === undefined ? undefined : { jobId: next.id, sinceMs: this.#clock.nowMs() };
    const waiting = this.#gauge(this.#doubt?.jobId)?.desk.live.waiting;
    // What was doubted is not asked any more.
    if (waiting?.kind !== 'answer' || waiting.stepId !== this.#doubt?.stepId) this.#doubt = undefined;
  }

  async answer(asked: Asked, by: string): Promise<{ readonly kind: 'done' } | Refused> {
    if (asked.kind === 'read-again') {
      this.#doubt = undefined;
      this.#changed();
      return { kind: 'done' };
    }
    const gauge = this.#gauge(asked.jobId);
    if (gauge === undefined) return refuse('CLUSTER_NOT_ASKED');
    if (asked.kind === 'give') return this.#give(gauge, asked, by);
    if (asked.kind === 'later') this.queue.postpone(gauge.jobId);
    else this.queue.beginShort(gauge.jobId);
    this.#changed();
    return { kind: 'done' };
  }

  #gauge(jobId: string | undefined): RunGauge | undefined {
    return this.#run.gauges.find((gauge) => gauge.jobId === jobId);
  }

  async #give(
    gauge: RunGauge,
    { command, isSure }: Extract<Asked, { kind: 'give' }>,
    by: string,
  ): Promise<{ readonly kind: 'done' } | Refused> {
    const other =
      command.kind === 'give-reading' && isSure !== true ? this.#meantFor(gauge, command) : undefined;
    if (other !== undefined && command.kind === 'give-reading') {
      const { reading, stepId } = command;
      this.#doubted += 1;
      this.#doubt = { jobId: gauge.jobId, otherJobId: other, reading, stepId };
      this.#changed();
      return refuse('FITS_OTHER_NEEDLE', { place: gauge.place, other: this.#run.placeOf(other) });
    }
    this.#doubt = undefined;
    const isAnswer = command.kind === 'give-reading' || command.kind === 'give-needle';
    const tookMs = (this.#clock.nowMs() - (this.#shown?.sinceMs ?? this.#clock.nowMs())) * this.#needleSpeed;
    const takeBack = isAnswer ? this.queue.read(gauge.jobId, tookMs) : undefined;
    const given = await gauge.desk.submit(command, by);
    if (given.kind === 'refused') takeBack?.();
    this.#changed();
    return given.kind === 'refused' ? given : { kind: 'done' };
  }

  /** The other needle that this reading was probably taken from. */
  #meantFor(gauge: RunGauge, asked: CommandOf<'give-reading'>): string | undefined {
    const meant = understood(gauge.desk.state, asked);
    // A stop looks the same on every dial.
    if (meant.kind === 'refused' || meant.command.kind !== 'give-reading' || asked.atStop !== undefined)
      return undefined;
    const others = this.#run.gauges.filter((each) => each !== gauge);
    return wrongNeedle(meant.command.reading, inSight(gauge), others.map(inSight));
  }
}
