import type { OpenJob } from '../../bench';
import {
  currentStep,
  openSweep,
  progressOf,
  type JobCommand,
  type LiveFrame,
  type SweepStatus,
} from '../../job';
import type { Surroundings } from '../command';
import { RefusedError } from '../input-error';
import { handQuestion } from './hand-question';
import { needleCommand, readingCommand, type Question } from './sweep-answers';
import { readingDoubt } from '../../job/state/reading-doubt';
import { plain } from '../../words/notation';
import { doubtWords } from '../../words/reading-doubt';
import { stepWhyWords } from '../../words/sweep';
import { ohmText, significant } from './text-table';

type Asked = Extract<LiveFrame['waiting'], { readonly kind: 'answer' }>;

/** The conversation of a sweep in a terminal: says what is awaited, takes the answers, tells what went wrong. */
export class SweepTerminal {
  readonly #desk: OpenJob;
  readonly #surroundings: Surroundings;
  readonly #by: string;
  #said = '';
  #isInterrupted = false;

  constructor(desk: OpenJob, surroundings: Surroundings, by: string) {
    this.#desk = desk;
    this.#surroundings = surroundings;
    this.#by = by;
    void surroundings.interrupted.then(() => (this.#isInterrupted = true));
  }

  /** Follows a sweep that a simulated person answers, to its end. Refuses a sweep that stops before it. */
  async withSimulatedPerson(): Promise<void> {
    await this.#until(() => {
      this.#tellProgress();
      return this.#status().kind !== 'running';
    });
    const status = this.#status();
    if (status.kind === 'paused')
      throw new RefusedError('SWEEP_PAUSED', `the sweep stopped: ${this.#whyStopped(status.reason)}`);
  }

  /** Asks a person at the terminal until the sweep is over, paused or left. */
  async withPerson(): Promise<void> {
    for (;;) {
      await this.#until(() => {
        this.#tellWaiting();
        return this.#isAsked() || this.#status().kind !== 'running';
      });
      const { waiting } = this.#desk.live;
      const status = this.#status();
      if (status.kind === 'finished' || this.#isInterrupted) return;
      if (status.kind === 'paused') {
        this.#say(`paused: ${this.#whyStopped(status.reason)}; run the same command with --job to go on`);
        return;
      }
      const question =
        handQuestion(this.#desk) ?? (waiting.kind === 'answer' ? this.#question(waiting) : undefined);
      if (question === undefined) continue;
      if ((await this.#askOnce(question)) === 'left') return;
    }
  }

  #status(): SweepStatus {
    return this.#desk.state.sweeps.at(-1)?.status ?? { kind: 'finished', complete: false };
  }

  #whyStopped(reason: string): string {
    const { trip } = this.#desk.live;
    return trip === undefined
      ? reason
      : `${trip.reason}${trip.remedy === undefined ? '' : `; ${trip.remedy}`}`;
  }

  /** A person has to say something before it goes on. */
  #isAsked(): boolean {
    const { kind } = this.#desk.live.waiting;
    return kind === 'answer' || kind === 'put-on' || kind === 'measure';
  }

  #question(asked: Asked): Question {
    const { step, output } = this.#desk.live;
    const made = output.madeOhm === undefined ? '' : `${ohmText(output.madeOhm)}, `;
    const legText = step === undefined ? '' : `needle moving ${step.leg}, `;
    const wants =
      asked.wants === 'needle' ? `is the needle below, above or on ${asked.mark ?? 0}? ` : 'reads? ';
    return {
      text: `${made}${legText}${wants}`,
      command: (word) =>
        asked.wants === 'needle'
          ? needleCommand(word, asked.stepId)
          : readingCommand(word, asked.stepId, this.#desk),
    };
  }

  async #askOnce(question: Question): Promise<'asked' | 'left'> {
    return this.#take(question, await this.#answerTo(question.text));
  }

  async #take(question: Question, text: string | undefined): Promise<'asked' | 'left'> {
    if (text === undefined) {
      await this.#do({ kind: 'pause-sweep', reason: 'the terminal was left' });
      return 'left';
    }
    const word = text.trim().toLowerCase();
    if (word === 'q') {
      await this.#desk.stop(this.#by);
      return 'left';
    }
    const command = question.command(word);
    if (typeof command === 'string') {
      this.#say(command);
      return 'asked';
    }
    const doubt = this.#doubtOf(command);
    if (doubt !== undefined) {
      const again = await this.#answerTo(`${doubt} Enter confirms ${word}; or type what it shows: `);
      if (again === undefined || again.trim() !== '') return this.#take(question, again);
    }
    await this.#do(command);
    return 'asked';
  }

  #doubtOf(command: JobCommand): string | undefined {
    const { state } = this.#desk;
    const sweep = openSweep(state);
    const step = currentStep(sweep);
    if (command.kind !== 'give-reading' || sweep === undefined || step === undefined) return undefined;
    const { sweepId } = sweep;
    return doubtWords(readingDoubt(state, { ...step, sweepId }, command.reading), plain, state.gauge.unit);
  }

  /** What a person types; undefined when the terminal is closed or interrupted. A trip meanwhile is told at once. */
  async #answerTo(question: string): Promise<string | undefined> {
    const tell = this.#desk.subscribe(() => {
      const status = this.#status();
      if (status.kind === 'paused') this.#say(`paused: ${this.#whyStopped(status.reason)}`);
    });
    try {
      return await Promise.race([
        this.#surroundings.ask(question),
        this.#surroundings.interrupted.then(() => undefined),
      ]);
    } finally {
      tell();
    }
  }

  async #do(command: JobCommand): Promise<void> {
    const result = await this.#desk.submit(command, this.#by);
    if (result.kind === 'refused') this.#say(result.message);
  }

  #tellWaiting(): void {
    const { waiting, link } = this.#desk.live;
    // By hand nobody misses a box.
    if (link.reason !== undefined && openSweep(this.#desk.state)?.hand === undefined) this.#say(link.reason);
    if (waiting.kind === 'box' || waiting.kind === 'person') this.#say(waiting.reason);
    if (waiting.kind === 'settling') {
      this.#say(
        `${this.#progressText()}waiting ${significant(waiting.settleMs / 1000, 2)} s: ${waiting.why}`,
      );
    }
  }

  #tellProgress(): void {
    if (this.#desk.live.waiting.kind === 'settling') this.#say(this.#progressText().trim());
  }

  #progressText(): string {
    const sweep = openSweep(this.#desk.state);
    if (sweep === undefined) return '';
    const { done, total } = progressOf(sweep);
    const aim = this.#desk.live.step?.aim;
    const at =
      aim === undefined
        ? ''
        : aim.kind === 'mark'
          ? ` on mark ${aim.reading}`
          : ` at ${ohmText(aim.resistanceOhm)}`;
    const why = stepWhyWords(this.#desk.live.step?.why ?? 'plan');
    return `reading ${Math.min(done + 1, total)} of ${total}${at} ${why === undefined ? '' : `(${why}) `}`;
  }

  /** Once each, however often the frame repeats it. */
  #say(text: string): void {
    if (text === this.#said) return;
    this.#said = text;
    this.#surroundings.err(text);
  }

  #until(isDone: () => boolean): Promise<void> {
    return new Promise((resolve) => {
      if (isDone()) return resolve();
      const end = this.#desk.subscribe(() => {
        if (!isDone()) return;
        end();
        resolve();
      });
      const leave = (): void => {
        end();
        resolve();
      };
      void this.#surroundings.interrupted.then(() => this.#desk.stop(this.#by)).then(leave, leave);
    });
  }
}
