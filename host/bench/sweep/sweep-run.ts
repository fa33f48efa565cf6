import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import { currentStep, runningSweep, type Waiting } from '../../job';
import type { Vital } from '../box/vital';
import { pausedBodies } from './paused';
import { Output, type Opened } from '../box/output';
import { flows, PulseHeat } from '../box/pulse-heat';
import { readingFacts, type ReadingFacts } from './reading-facts';
import { StallWatch } from './stall-watch';
import { runStep, type StepTools } from './run-step';
import { nextRun, RESTING, waitingIn, type Deed, type Due, type RunEvent, type RunState } from './run-states';
import { afterLastStep } from './steps';
import { Vitals } from '../box/vitals';
import { waitingAt } from './waiting';
import type { SweepRunParts } from './sweep-run-parts';

/** The box says "driving" at the latest this long after a set; later, "safe" means that it opened by itself. */
const DRIVING_BY_MS = 1_500;

/**
 * Walks the needle through a sweep: does what `nextRun` says. What is to be done next always follows from the journal
 * (`sync` compares it with what is being done), so a crash, an undo, a strike or a second screen needs no case of its
 * own. Only a person's start or resume in THIS run of the program allows driving.
 */
export class SweepRun {
  readonly #parts: SweepRunParts;
  readonly #vitals = new Vitals();
  readonly #output: Output;
  readonly #heat: PulseHeat;
  #state: RunState = RESTING;
  #abort: AbortController | undefined;
  #longerWaits = 0;
  #closing: Promise<Opened> = Promise.resolve('no-box');
  readonly #stallWatch: StallWatch;

  constructor(parts: SweepRunParts) {
    this.#parts = parts;
    this.#output = new Output({ box: parts.box, clock: parts.clock, vitals: this.#vitals });
    this.#stallWatch = new StallWatch(parts.clock, (passedMs) => this.#stoodStill(passedMs));
    this.#heat = new PulseHeat({ ...parts, output: this.#output });
  }

  get output(): Output {
    return this.#output;
  }

  get vital(): Vital | undefined {
    return this.#vitals.latest;
  }

  /** What a pulsing feed heats like. */
  get heat(): Pick<PulseHeat, 'isPulsing' | 'heatVolt'> {
    return this.#heat;
  }

  get mayDrive(): boolean {
    return this.#state.name !== 'resting';
  }

  /** A person has started or resumed a sweep. */
  allow(): void {
    this.#take({ kind: 'allowed', due: this.#due() });
  }

  /** Opens at once; the journal is told by whoever asked. A reason that the journal cannot keep is shown instead. */
  stop(reason?: string): Promise<Opened> {
    this.#take({ kind: 'stopped', ...(reason === undefined ? {} : { reason }) });
    return this.#closing;
  }

  /** The output is open and it was not us: a trip, a restart, a lost box. */
  boxOpened(): void {
    this.#take({ kind: 'box-opened' });
  }

  /** The needle is still moving: the wait of this step starts again. */
  waitLonger(stepId: string): Refused | undefined {
    const waiting = waitingIn(this.#state);
    if (waiting.kind !== 'answer' || waiting.stepId !== stepId) return this.#notAsking(stepId);
    this.#longerWaits += 1;
    this.sync();
    return undefined;
  }

  waitingNow(): Waiting {
    const isSteady = this.#vitals.isSteady(this.#output.madeAtMs);
    return waitingAt(waitingIn(this.#state), this.#parts.clock.nowMs(), isSteady);
  }

  /** A heartbeat of the box. */
  heard(vital: Vital): void {
    this.#vitals.add(vital);
    this.#heat.heard(vital);
    if (this.mayDrive) this.#guard(vital);
    this.#parts.changed();
  }

  /** What is known of the reading a person gives now. Refuses while nothing is asked of this step. */
  facts(stepId: string, wants: 'reading' | 'needle'): ReadingFacts | Refused {
    const { made } = this.#output;
    const waiting = waitingIn(this.#state);
    if (waiting.kind !== 'answer' || waiting.stepId !== stepId || made === undefined)
      return this.#notAsking(stepId);
    if (waiting.wants !== wants) return refuse('OTHER_ANSWER', { wants: waiting.wants });
    // Where nothing flows the needle shows nothing of these ohms; between two pulses that is another matter.
    const isFed = this.#heat.isPulsing ? !this.#heat.isLost : flows(this.#vitals.latest ?? {});
    if (!isFed) return refuse('NO_CURRENT');
    const { clock, needleSpeed, state } = this.#parts;
    return readingFacts(state(), {
      made,
      output: this.#output,
      vital: this.#vitals.latest,
      heat: this.#heat,
      neighbours: this.#parts.neighbours?.(),
      waitedMs: Math.max(0, Math.round((clock.nowMs() - waiting.restingSinceMs) * needleSpeed)),
    });
  }

  /** Compares what the journal asks for with what is being done, and changes the latter. */
  sync(): void {
    this.#take({ kind: 'journal', due: this.#due() });
  }

  /** Waits until an opening under way is answered, and tells the answer; for orderly ends. */
  settled(): Promise<Opened> {
    return this.#closing;
  }

  #due(): Due {
    const sweep = runningSweep(this.#parts.state());
    // What a person puts on is none of the box's business.
    if (sweep === undefined || sweep.hand !== undefined) return { kind: 'nothing' };
    const step = currentStep(sweep);
    if (step === undefined) return { kind: 'what-follows', key: sweep.sweepId };
    const { stepId } = step;
    return { kind: 'step', key: `${stepId} ${step.seen.length} ${this.#longerWaits}`, stepId };
  }

  #take(event: RunEvent): void {
    const { state, deeds } = nextRun(this.#state, event);
    this.#state = state;
    for (const deed of deeds) this.#do(deed);
    this.#parts.changed();
  }

  #do(deed: Deed): void {
    if (typeof deed === 'object') return this.#begin(deed.begin);
    switch (deed) {
      case 'watch-for-stalls':
        return this.#stallWatch.start();
      case 'end-watch':
        return this.#stallWatch.end();
      case 'call-off':
        this.#abort?.abort();
        this.#abort = undefined;
        return;
      case 'open':
        this.#closing = this.#output.open();
        return;
      case 'open-if-used':
        if (this.#output.isUsed) this.#closing = this.#output.open();
        return;
      case 'forget-output':
        this.#output.forget();
        return this.#vitals.clear();
      case 'ask-what-follows':
        return this.#parts.record(afterLastStep);
    }
  }

  #begin(key: string): void {
    const sweep = runningSweep(this.#parts.state());
    const step = currentStep(sweep);
    if (sweep === undefined || step === undefined) return;
    const abort = new AbortController();
    this.#abort = abort;
    const tools: StepTools = {
      ...this.#parts,
      output: this.#output,
      vitals: this.#vitals,
      closed: () => this.#closing,
      show: (shows) => this.#take({ kind: 'shown', key, shows }),
      halt: (reason) => this.#halt(reason),
    };
    runStep({ sweep, step }, tools, abort.signal).catch((error: unknown) => {
      const why = error instanceof Error ? error.message : String(error);
      this.#halt(`the program stumbled (${why}); resume to try again`);
    });
  }

  /** Pauses the sweep with a reason, in the journal, with the output open. */
  #halt(reason: string): void {
    void this.stop();
    this.#parts.record((state) => pausedBodies(state, reason));
  }

  #stoodStill(passedMs: number): void {
    const { leaseMs } = this.#output.armed ?? {};
    if (leaseMs === undefined || passedMs <= leaseMs) return;
    const [stood, lease] = [passedMs, leaseMs].map((ms) => `${(ms / 1_000).toFixed(1)} s`);
    this.#halt(
      `this computer stood still for ${stood}; the box opens its output by itself after ${lease} without a heartbeat; close what keeps the computer busy, see what the box says, then resume`,
    );
  }

  #guard(vital: Vital): void {
    const { presence, clock, state } = this.#parts;
    const nowMs = clock.nowMs();
    const isDueToDrive = this.#output.made !== undefined && nowMs - this.#output.madeAtMs > DRIVING_BY_MS;
    if (isDueToDrive && vital.state === 'safe') {
      this.#halt('the box opened its output by itself; look at its lamp and the clips, then resume');
      return;
    }
    if (vital.state === 'tripped') {
      this.#halt('the box has tripped; see why, clear it, then resume');
      return;
    }
    const attending = state().attending;
    if (attending === undefined || presence.isPresent(attending)) return;
    this.#halt(`nobody is at "${attending}" any more; take over on this screen and resume`);
  }

  #notAsking(stepId: string): Refused {
    const now = this.waitingNow();
    if (now.kind === 'settling' && now.stepId === stepId) {
      const seconds = Math.ceil(Math.max(0, now.settleMs - now.passedMs) / 1_000);
      return refuse('NOT_SETTLED', { leftSecond: seconds });
    }
    return refuse('NOT_ASKING');
  }
}
