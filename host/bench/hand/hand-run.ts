import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import {
  currentStep,
  runningSweep,
  type EventBody,
  type JobState,
  type SweepStep,
  type Waiting,
} from '../../job';
import { isByHand, type HandSweep } from '../../job/state/hand-step';
import type { BenchClock } from '../clock';
import { afterLastHandStep } from './plan-hand';

export type HandRunParts = {
  readonly clock: BenchClock;
  /** The needle lives this many times faster than the clock; 1 for everything real. */
  readonly needleSpeed: number;
  readonly state: () => JobState;
  /** Adds to the journal in the desk's turn: what `decide` says of the state as it then is. */
  readonly record: (decide: (state: JobState) => readonly EventBody[], by?: string) => void;
  /** Something a screen shows has changed. */
  readonly changed: () => void;
};

/** What is on the sender wire: since when, and what the ohmmeter showed of it before. */
type On = { readonly stepId: string; readonly sinceMs: number; readonly shownOhm: number | undefined };

/** What is known of the reading that a person gives now. */
export type HandFacts = { readonly waitedMs: number; readonly shownOhm: number | undefined };

/** How often a wait is shown to have gone on. */
const WAIT_SHOWN_MS = 1_000;

/**
 * A sweep in which a person puts the resistances on. It drives nothing and asks nothing of any box: it says what to put
 * on, counts the wait, and takes what is read. What is to be done next always follows from the journal.
 */
export class HandRun {
  readonly #parts: HandRunParts;
  #on: On | undefined;
  #endWait: () => void = () => undefined;

  constructor(parts: HandRunParts) {
    this.#parts = parts;
  }

  /** A sweep by hand is open and running in this job. */
  get sweep(): HandSweep | undefined {
    const sweep = runningSweep(this.#parts.state());
    return sweep !== undefined && isByHand(sweep) ? sweep : undefined;
  }

  waitingNow(): Waiting {
    const step = currentStep(this.sweep);
    if (step === undefined) return { kind: 'nothing' };
    const { stepId } = step;
    if (step.noted !== undefined) return { kind: 'measure', stepId };
    const on = this.#onFor(step);
    if (on === undefined) return { kind: 'put-on', stepId };
    const { settleMs } = this;
    const passedMs = Math.max(0, this.#parts.clock.nowMs() - on.sinceMs);
    if (passedMs >= settleMs) return { kind: 'answer', stepId, wants: 'reading' };
    const seconds = Math.round(settleMs / 1_000);
    const why = `the needle of this kind of gauge needs ${seconds} s to rest`;
    return { kind: 'settling', stepId, settleMs, passedMs, why };
  }

  /** A person has put it on, or brought the needle to its mark: the wait begins. */
  putOn(stepId: string, shownOhm: number | undefined): Refused | undefined {
    const waiting = this.waitingNow();
    if (waiting.kind !== 'put-on' || waiting.stepId !== stepId) return refuse('NOT_ASKING');
    this.#begin({ stepId, sinceMs: this.#parts.clock.nowMs(), shownOhm });
    return undefined;
  }

  /** The needle is still moving: the wait of this step starts again. */
  waitLonger(stepId: string): Refused | undefined {
    const waiting = this.waitingNow();
    if (this.#on === undefined || waiting.kind !== 'answer' || waiting.stepId !== stepId)
      return this.#notAsking(stepId);
    this.#begin({ ...this.#on, sinceMs: this.#parts.clock.nowMs() });
    return undefined;
  }

  /** Refuses while no reading is asked of this step. */
  facts(stepId: string): HandFacts | Refused {
    const waiting = this.waitingNow();
    if (this.#on === undefined || waiting.kind !== 'answer' || waiting.stepId !== stepId)
      return this.#notAsking(stepId);
    const { clock, needleSpeed } = this.#parts;
    const waitedMs = Math.round((clock.nowMs() - this.#on.sinceMs) * needleSpeed);
    return { waitedMs, shownOhm: this.#on.shownOhm };
  }

  /** The journal has grown. */
  sync(): void {
    const { sweep } = this;
    const step = currentStep(sweep);
    if (step === undefined || this.#onFor(step) === undefined) this.#takeOff();
    if (sweep !== undefined && step === undefined) this.#parts.record(afterLastHandStep);
    this.#parts.changed();
  }

  end(): void {
    this.#takeOff();
  }

  /** How long this needle needs, by the clock. */
  private get settleMs(): number {
    return (this.sweep?.settleMs ?? 0) / this.#parts.needleSpeed;
  }

  /** Once it was read it is taken off: it counts no more. */
  #onFor({ stepId, noted }: SweepStep): On | undefined {
    return noted === undefined && this.#on?.stepId === stepId ? this.#on : undefined;
  }

  #begin(on: On): void {
    this.#takeOff();
    this.#on = on;
    this.#parts.changed();
    this.#goOnWaiting(on);
  }

  /** Every screen sees the wait pass. */
  #goOnWaiting(on: On): void {
    const { clock } = this.#parts;
    const leftMs = on.sinceMs + this.settleMs - clock.nowMs();
    if (leftMs <= 0) return;
    this.#endWait = clock.after(Math.min(WAIT_SHOWN_MS, leftMs), () => {
      this.#parts.changed();
      if (this.#on === on) this.#goOnWaiting(on);
    });
  }

  #takeOff(): void {
    this.#endWait();
    this.#endWait = () => undefined;
    this.#on = undefined;
  }

  #notAsking(stepId: string): Refused {
    const now = this.waitingNow();
    if (now.kind === 'settling' && now.stepId === stepId)
      return refuse('NOT_SETTLED', { leftSecond: Math.ceil((now.settleMs - now.passedMs) / 1_000) });
    return refuse('NOT_ASKING');
  }
}
