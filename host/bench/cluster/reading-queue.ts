import { readingOrder, type RunReading, type Waiter } from '../../core/cluster';
import type { AnsweredJob } from '../people/simulated-operator';
import type { BenchClock } from '../clock';

/** One job of the cluster, as whoever reads its needle sees it. */
export type QueuedJob = { readonly jobId: string; readonly job: AnsweredJob };

type Short = { readonly sinceMs: number; readonly begin: () => void };

/**
 * Whose needle is to be read, for the one person in front of them all. It looks at nothing but what every job shows of
 * itself, and keeps count of what was waited for and read.
 */
export class ReadingQueue {
  readonly #jobs: readonly QueuedJob[];
  readonly #clock: BenchClock;
  readonly #needleSpeed: number;
  readonly #since = new Map<string, { readonly key: string; readonly sinceMs: number }>();
  readonly #short = new Map<string, Short>();
  /** What the plan makes the needle wait, by step and reason: no reading before that counts. */
  readonly #waits = new Map<string, Map<string, number>>();
  readonly #readings: RunReading[] = [];
  #longestReadyMs = 0;

  constructor(jobs: readonly QueuedJob[], clock: BenchClock, needleSpeed: number) {
    this.#jobs = jobs;
    this.#clock = clock;
    this.#needleSpeed = needleSpeed;
  }

  get readings(): readonly RunReading[] {
    return this.#readings;
  }

  /** The longest that a settled needle waited for its person. */
  get longestReadyMs(): number {
    return this.#longestReadyMs;
  }

  /** A job's news: notes since when its needle is ready, and what it waits for. */
  heard({ jobId, job }: QueuedJob): void {
    const { waiting, lastN } = job.live;
    if (waiting.kind === 'settling') {
      const waits = this.#waits.get(jobId) ?? new Map<string, number>();
      waits.set(`${waiting.stepId} ${waiting.why}`, waiting.settleMs * this.#needleSpeed);
      this.#waits.set(jobId, waits);
    }
    if (waiting.kind !== 'answer') return void this.#since.delete(jobId);
    const key = `${waiting.stepId} ${lastN}`;
    if (this.#since.get(jobId)?.key !== key) this.#since.set(jobId, { key, sinceMs: this.#clock.nowMs() });
  }

  /** A short step asks for the person's eyes; `begin` lets it begin. Answers how to take the wish back. */
  askFor(jobId: string, begin: () => void): () => void {
    this.#short.set(jobId, { sinceMs: this.#clock.nowMs(), begin });
    return () => void this.#short.delete(jobId);
  }

  /** Lets a short step begin, with the person looking. */
  beginShort(jobId: string): void {
    const short = this.#short.get(jobId);
    this.#short.delete(jobId);
    short?.begin();
  }

  /** Another needle first: this one waits as if it had only now come to rest. */
  postpone(jobId: string): void {
    const nowMs = this.#clock.nowMs();
    const [since, short] = [this.#since.get(jobId), this.#short.get(jobId)];
    if (since !== undefined) this.#since.set(jobId, { ...since, sinceMs: nowMs });
    if (short !== undefined) this.#short.set(jobId, { ...short, sinceMs: nowMs });
  }

  get waiters(): readonly Waiter[] {
    const ready = this.#jobs.flatMap(({ jobId, job }): Waiter[] => {
      const { waiting } = job.live;
      const since = this.#since.get(jobId);
      if (waiting.kind !== 'answer' || since === undefined) return [];
      const mustEndMs =
        waiting.mustEndInMs === undefined ? {} : { mustEndMs: this.#clock.nowMs() + waiting.mustEndInMs };
      return [{ id: jobId, wants: 'reading', sinceMs: since.sinceMs, ...mustEndMs }];
    });
    const short = [...this.#short].map(([id, { sinceMs }]): Waiter => ({ id, wants: 'short-step', sinceMs }));
    return readingOrder([...ready, ...short]);
  }

  /** A reading was given after `readMs` of looking. Answers how to take that back, where it was refused. */
  read(jobId: string, readMs: number): () => void {
    const since = this.#since.get(jobId);
    if (since !== undefined)
      this.#longestReadyMs = Math.max(this.#longestReadyMs, this.#clock.nowMs() - since.sinceMs);
    const waits = this.#waits.get(jobId) ?? new Map<string, number>();
    this.#waits.delete(jobId);
    const waitMs = [...waits.values()].reduce((sum, each) => sum + each, 0);
    const reading = { id: jobId, waitMs, readMs };
    this.#readings.push(reading);
    return () => void this.#readings.splice(this.#readings.indexOf(reading), 1);
  }
}
