import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type { CommandOf, EventBody, JobState, SenderWatchLive } from '../../job';
import type { Box } from '../box/box';
import { senderKind } from '../box/sender-kind';
import { wait, type BenchClock } from '../clock';
import { senderHindrance } from '../box/hindrances';
import { OHMMETER_RANGES } from '../box/ohmmeter-ranges';
import { driftOf, proposalFor, type WatchedMeasure } from './watch-drift';

const MILLI = 1_000;
const [STRONG, GENTLE] = OHMMETER_RANGES;
/** Between two measurements, so that the small current warms nothing and the line stays free. */
const REST_MS = 400;
/** After a refusal ("nothing connected"), before it is tried again. */
const RETRY_MS = 1_500;
/** A person who reads a thermometer slowly still finds the measurement of that moment. */
const MOST_KEPT = 400;
/** Thermometer and ohmmeter are read within this long of each other. Common practice, no source. */
const SAME_MOMENT_MINUTE = 2 / 60;

export type WatchParts = {
  readonly box: Box;
  readonly clock: BenchClock;
  readonly state: () => JobState;
  readonly changed: () => void;
  readonly isWatched: () => boolean;
};

type Status = SenderWatchLive['status'];

/**
 * The box's ohmmeter on a sender in its bath, again and again, by itself. It lives with the desk and not in the journal:
 * after a restart nothing is measured until a person asks for it again. What is taken from it goes into the journal.
 */
export class SenderWatch {
  readonly #parts: WatchParts;
  #senderId: string | undefined;
  #status: Status = 'paused';
  #reason: string | undefined;
  #trouble: string | undefined;
  #heatingFraction: number | undefined;
  #measures: WatchedMeasure[] = [];
  #lastTakenOhm: number | undefined;
  #nextId = 1;
  #abort: AbortController | undefined;

  constructor(parts: WatchParts) {
    this.#parts = parts;
  }

  get live(): SenderWatchLive | undefined {
    const senderId = this.#senderId;
    if (senderId === undefined) return undefined;
    const last = this.#measures.at(-1);
    const drift = driftOf(this.#measures);
    const propose =
      this.#status === 'measuring' && last !== undefined
        ? proposalFor(last.resistanceOhm, drift, this.#lastTakenOhm)
        : undefined;
    return {
      senderId,
      status: this.#status,
      ...(this.#reason === undefined ? {} : { reason: this.#reason }),
      ...(this.#trouble === undefined ? {} : { trouble: this.#trouble }),
      ...(this.#heatingFraction === undefined ? {} : { heatingFraction: this.#heatingFraction }),
      ...(last === undefined
        ? {}
        : {
            measureId: last.measureId,
            resistanceOhm: last.resistanceOhm,
            uncertaintyOhm: last.uncertaintyOhm,
          }),
      ...(drift === undefined ? {} : { driftOhmPerMinute: drift.ohmPerMinute }),
      ...(propose === undefined ? {} : { propose }),
    };
  }

  /** Starts, or goes on after a pause; another sender starts anew. */
  start(senderId: string): void {
    if (this.#senderId !== senderId) this.#forget();
    this.#senderId = senderId;
    this.#status = 'measuring';
    this.#reason = undefined;
    this.#callOff();
    const abort = new AbortController();
    this.#abort = abort;
    this.#parts.changed();
    void this.#measureOn(abort.signal);
  }

  pause(reason: string): void {
    if (this.#senderId === undefined) return;
    this.#callOff();
    this.#status = 'paused';
    this.#reason = reason;
    this.#heatingFraction = undefined;
    this.#parts.changed();
  }

  end(): void {
    if (this.#senderId === undefined) return;
    this.#callOff();
    this.#forget();
    this.#senderId = undefined;
    this.#parts.changed();
  }

  /** The thermometer at one of the measurements. Refuses a measurement of another watch, or one no longer kept. */
  take(command: CommandOf<'take-watched-point'>): EventBody | Refused {
    const measure = this.#measures.find((each) => each.measureId === command.measureId);
    if (command.senderId !== this.#senderId || measure === undefined) {
      return refuse('MEASURE_GONE');
    }
    const drift = driftOf(this.#measures, measure.atMs)?.ohmPerMinute;
    this.#lastTakenOhm = measure.resistanceOhm;
    const { kind, measureId, ...told } = command;
    return {
      kind: 'sender-point',
      pointId: `p${this.#parts.state().lastN + 1}`,
      ...told,
      resistanceOhm: measure.resistanceOhm,
      resistanceUncertaintyOhm: Math.hypot(
        measure.uncertaintyOhm,
        ((drift ?? 0) * SAME_MOMENT_MINUTE) / Math.sqrt(3),
      ),
      testMicroamp: GENTLE.microamp,
      ...(drift === undefined ? {} : { driftOhmPerMinute: drift }),
      source: 'box',
    };
  }

  /** One measurement of the ohmmeter, as the box gives it; refused while a job that was changed asks for a word first. */
  async measure(microamp: number): Promise<WatchedMeasure | Refused> {
    const { box, state, clock } = this.#parts;
    const hindrance = senderHindrance(state());
    if (hindrance !== undefined) return hindrance;
    const answer = await box.ohmmeter(senderKind(state()), microamp);
    if ('kind' in answer) return answer;
    return {
      measureId: this.#nextId++,
      atMs: clock.nowMs(),
      resistanceOhm: answer.milliohm / MILLI,
      uncertaintyOhm: answer.uncertaintyMilliohm / MILLI,
    };
  }

  /**
   * Takes the watch's place for a while: `work` tells how far it is and answers its trouble, if any. Whatever starts,
   * pauses or ends the watch calls it off.
   */
  async heat(
    senderId: string,
    work: (signal: AbortSignal, show: (fraction: number) => void) => Promise<Refused | undefined>,
  ): Promise<void> {
    this.#callOff();
    if (this.#senderId !== senderId) this.#forget();
    const abort = new AbortController();
    this.#abort = abort;
    this.#senderId = senderId;
    this.#status = 'heating';
    this.#reason = undefined;
    const trouble = await work(abort.signal, (fraction) => {
      if (abort.signal.aborted) return;
      this.#heatingFraction = fraction;
      this.#parts.changed();
    });
    if (abort.signal.aborted) return;
    this.pause(trouble?.message ?? 'the self-heating check is done');
  }

  async #measureOn(signal: AbortSignal): Promise<void> {
    const { clock, isWatched } = this.#parts;
    for (;;) {
      if (!isWatched()) return this.pause('no screen is looking at this job');
      const measure = await this.measure(GENTLE.microamp);
      if (signal.aborted) return;
      if ('kind' in measure) this.#trouble = measure.message;
      else {
        this.#trouble = undefined;
        this.#measures = [...this.#measures.slice(1 - MOST_KEPT), measure];
      }
      this.#parts.changed();
      if (!(await wait(clock, 'kind' in measure ? RETRY_MS : REST_MS, signal))) return;
    }
  }

  #callOff(): void {
    this.#abort?.abort();
    this.#abort = undefined;
  }

  #forget(): void {
    this.#measures = [];
    this.#lastTakenOhm = undefined;
    this.#trouble = undefined;
    this.#reason = undefined;
    this.#heatingFraction = undefined;
  }
}

export { STRONG as STRONG_RANGE, GENTLE as GENTLE_RANGE };
