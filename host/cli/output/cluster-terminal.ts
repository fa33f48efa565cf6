import type { OpenJob } from '../../bench';
import { wrongNeedle, type InSight } from '../../bench/cluster/doubt';
import type { NeedleMoved } from '../../bench/cluster/roll-call';
import type { ReadingQueue } from '../../bench/cluster/reading-queue';
import type { JobCommand } from '../../job';
import type { Surroundings } from '../command';
import { needleCommand, readingCommand } from './sweep-answers';
import { ohmText } from './text-table';

export type TerminalGauge = { readonly jobId: string; readonly place: string; readonly desk: OpenJob };

const NOTHING: Readonly<Record<string, NeedleMoved>> = {
  none: { nothing: 'none' },
  several: { nothing: 'several' },
  '?': { nothing: 'not-sure' },
};

const named = ({ place, desk }: TerminalGauge): string =>
  `${desk.state.gauge.quantity.toUpperCase()}, ${place}`;

/** A person in front of a cluster, asked in a terminal: which needle moved, and where the next ready one is. */
export class ClusterTerminal {
  readonly #gauges: readonly TerminalGauge[];
  readonly #surroundings: Surroundings;
  readonly #by: string;
  #isLeft = false;

  constructor(gauges: readonly TerminalGauge[], surroundings: Surroundings, by: string) {
    this.#gauges = gauges;
    this.#surroundings = surroundings;
    this.#by = by;
  }

  /** Left by its person: nothing more is asked. */
  get isLeft(): boolean {
    return this.#isLeft;
  }

  async whichMoved(boxSerial: number): Promise<NeedleMoved> {
    const choices = this.#gauges.map((gauge, at) => `${at + 1} ${named(gauge)}`).join('; ');
    for (;;) {
      const typed = await this.#surroundings.ask(
        `box ${boxSerial} moved: which needle did? ${choices}; none, several, ? not sure: `,
      );
      if (typed === undefined) return { nothing: 'not-sure' };
      const word = typed.trim().toLowerCase();
      const gauge = this.#gauges[Number(word) - 1];
      if (gauge !== undefined) return { jobId: gauge.jobId };
      const nothing = NOTHING[word];
      if (nothing !== undefined) return nothing;
      this.#surroundings.err('type the number of the gauge whose needle moved, or none, several or ?');
    }
  }

  /** Asks for the needle that is next; answers when it was given, or there is none. */
  async readNext(queue: ReadingQueue): Promise<'asked' | 'nobody' | 'left'> {
    const [next] = queue.waiters;
    const gauge = this.#gauges.find(({ jobId }) => jobId === next?.id);
    if (next === undefined || gauge === undefined) return 'nobody';
    if (next.wants === 'short-step') {
      const ready = await this.#surroundings.ask(
        `${named(gauge)}: look at this needle now; it is held for seconds only. Enter when you look: `,
      );
      if (ready === undefined) return this.#leave();
      queue.beginShort(next.id);
      return 'asked';
    }
    return this.#read(gauge, queue);
  }

  async #read(gauge: TerminalGauge, queue: ReadingQueue): Promise<'asked' | 'left'> {
    const { desk, jobId } = gauge;
    const { waiting, output } = desk.live;
    if (waiting.kind !== 'answer') return 'asked';
    const made = output.madeOhm === undefined ? '' : `${ohmText(output.madeOhm)}, `;
    const wants = waiting.wants === 'needle' ? `below, above or on ${waiting.mark ?? 0}?` : 'where is it?';
    const sinceMs = performance.now();
    const typed = await this.#surroundings.ask(`${named(gauge)}: ${made}${wants} `);
    if (typed === undefined) return this.#leave();
    const word = typed.trim().toLowerCase();
    if (word === 'q') return this.#leave();
    const { stepId } = waiting;
    const command =
      waiting.wants === 'needle' ? needleCommand(word, stepId) : readingCommand(word, stepId, desk);
    if (typeof command === 'string') {
      this.#surroundings.err(command);
      return 'asked';
    }
    const meant = await this.#meant(gauge, command);
    if (meant === undefined) return 'asked';
    const takeBack = queue.read(jobId, performance.now() - sinceMs);
    const given = await desk.submit(meant, this.#by);
    if (given.kind !== 'refused') return 'asked';
    takeBack();
    this.#surroundings.err(given.message);
    return 'asked';
  }

  /** Asks back where the answer fits another needle better; undefined: the right one is read first. */
  async #meant(gauge: TerminalGauge, command: JobCommand): Promise<JobCommand | undefined> {
    if (command.kind !== 'give-reading' || command.atStop !== undefined) return command;
    const inSight = ({ jobId, desk }: TerminalGauge): InSight => ({
      jobId,
      state: desk.state,
      live: desk.live,
    });
    const others = this.#gauges.filter((each) => each !== gauge);
    const doubted = wrongNeedle(command.reading, inSight(gauge), others.map(inSight));
    const other = others.find(({ jobId }) => jobId === doubted);
    if (other === undefined) return command;
    const typed = await this.#surroundings.ask(
      `did you read ${named(other)}? Then type n; if not, Enter keeps it: `,
    );
    return typed?.trim().toLowerCase() === 'n' ? undefined : command;
  }

  async #leave(): Promise<'left'> {
    this.#isLeft = true;
    await Promise.all(this.#gauges.map(({ desk }) => desk.stop(this.#by)));
    return 'left';
  }
}
