import { randomSource, type RandomSource } from '../../core/numeric/random';
import type { JobCommand } from '../../job';
import type { BenchClock } from '../clock';
import { answerOf, ordinaryPerson, type Human } from '../people/simulated-operator';
import { wrongNeedle } from './doubt';
import type { QueuedJob, ReadingQueue } from './reading-queue';

export type ClusterPersonParts = {
  readonly jobs: readonly QueuedJob[];
  readonly queue: ReadingQueue;
  /** Where the simulated needle of a job stands. */
  readonly look: (jobId: string) => { readonly angleFraction: number } | undefined;
  readonly clock: BenchClock;
  readonly needleSpeed: number;
  readonly seed: number;
  readonly human?: Human;
  /** How often another needle is read than the one that was asked for. */
  readonly mixUpProbability?: number;
  readonly name: string;
};

export type ClusterPerson = {
  /** Time spent on going from one needle to another, ms of the needle's. */
  readonly changesMs: number;
  /** Answers of another needle: given, and asked back about before they counted. */
  readonly mixUps: number;
  readonly caught: number;
  /** Right answers that were doubted. */
  readonly falseDoubts: number;
  leave(): void;
};

/** To read a needle, and to find the next one. Common practice, no source; the times `cluster` plans with. */
const READ_MS = 6_000;
const CHANGE_MS = 2_000;
const USUAL_MIX_UP = 0.02;

/** One person in front of all needles, who reads one at a time, errs as an eye does, and now and then reads another one. */
export const clusterPerson = (parts: ClusterPersonParts): ClusterPerson => new Person(parts);

class Person implements ClusterPerson {
  changesMs = 0;
  mixUps = 0;
  caught = 0;
  falseDoubts = 0;
  readonly #parts: ClusterPersonParts;
  readonly #human: Human;
  readonly #random: RandomSource;
  readonly #parallax: number;
  readonly #leaving: readonly (() => void)[];
  #last: string | undefined;
  #isBusy = false;
  #callOff: () => void = () => undefined;

  constructor(parts: ClusterPersonParts) {
    this.#parts = parts;
    this.#human = parts.human ?? ordinaryPerson;
    this.#random = randomSource(parts.seed);
    this.#parallax = this.#random.normal() * this.#human.parallaxFraction;
    const { jobs, queue, name } = parts;
    this.#leaving = jobs.flatMap((each) => [
      each.job.attend(name),
      each.job.subscribe((news) => {
        if (news.kind !== 'live') return;
        queue.heard(each);
        this.#consider();
      }),
    ]);
  }

  leave(): void {
    this.#callOff();
    this.#isBusy = true;
    for (const leave of this.#leaving) leave();
  }

  #consider(): void {
    if (this.#isBusy) return;
    const { jobs, queue } = this.#parts;
    const [next] = queue.waiters;
    const asked = jobs.find(({ jobId }) => jobId === next?.id);
    if (next === undefined || asked === undefined) return;
    this.#isBusy = true;
    const changeMs = this.#last === undefined || this.#last === next.id ? 0 : CHANGE_MS;
    this.changesMs += changeMs;
    this.#last = next.id;
    if (next.wants === 'reading') return this.#after(changeMs + READ_MS, () => this.#read(asked));
    this.#after(changeMs, () => {
      queue.beginShort(next.id);
      this.#free();
    });
  }

  #read(asked: QueuedJob): void {
    const others = this.#parts.jobs.filter((each) => each !== asked && isMade(each));
    const isMixUp =
      others.length > 0 && this.#random.uniform() < (this.#parts.mixUpProbability ?? USUAL_MIX_UP);
    const seen = isMixUp ? others[Math.floor(this.#random.uniform() * others.length)] : asked;
    const command = this.#answerFrom(asked, seen ?? asked);
    if (command === undefined) return this.#free();
    if (isMixUp) this.mixUps += 1;
    const isDoubted =
      command.kind === 'give-reading' &&
      command.atStop === undefined &&
      wrongNeedle(command.reading, inSight(asked), others.map(inSight)) !== undefined;
    if (!isDoubted) return this.#give(asked, command, READ_MS);
    if (isMixUp) this.caught += 1;
    else this.falseDoubts += 1;
    // "Did you read the other one?": he looks again, at the right one.
    this.#after(READ_MS, () => {
      const again = this.#answerFrom(asked, asked);
      if (again === undefined) this.#free();
      else this.#give(asked, again, 2 * READ_MS);
    });
  }

  #answerFrom({ job }: QueuedJob, seen: QueuedJob): JobCommand | undefined {
    const { waiting } = job.live;
    const at = this.#parts.look(seen.jobId);
    if (waiting.kind !== 'answer' || at === undefined) return undefined;
    const eye = {
      gauge: seen.job.state.gauge,
      human: this.#human,
      random: this.#random,
      parallax: this.#parallax,
    };
    return answerOf(eye, waiting, at.angleFraction);
  }

  #give(asked: QueuedJob, command: JobCommand, tookMs: number): void {
    const takeBack = this.#parts.queue.read(asked.jobId, tookMs);
    void asked.job.submit(command, this.#parts.name).then((given) => {
      if (given.kind === 'refused') takeBack();
      this.#free();
    });
  }

  #after(ms: number, act: () => void): void {
    this.#callOff = this.#parts.clock.after(ms / this.#parts.needleSpeed, act);
  }

  #free(): void {
    this.#isBusy = false;
    this.#consider();
  }
}

const isMade = ({ job }: QueuedJob): boolean => job.live.output.madeOhm !== undefined;
const inSight = ({ jobId, job }: QueuedJob) => ({ jobId, state: job.state, live: job.live });
