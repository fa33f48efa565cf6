import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import {
  pausedUntold,
  runningSweep,
  understood,
  withGiven,
  type JobCommand,
  type JobEvent,
  type JobState,
  type LiveFrame,
} from '../job';
import { inOrder, within, type LinkClock, type LinkEvent } from '../link';
import type { Journal } from '../store';
import { vitalOf } from './box/vital';
import type { Box } from './box/box';
import type { BenchClock } from './clock';
import { decideCommand, type BoxUse, type CommandTools, type ReEstimator } from './decide/decide-command';
import { pausedBodies } from './sweep/paused';
import { HandRun, type HandRunParts } from './hand/hand-run';
import { BENCH } from './rules';
import { SweepRun } from './sweep/sweep-run';
import type { SweepRunParts } from './sweep/sweep-run-parts';
import { Entries, type Accepted } from './entries';
import { photographsOf, type Photographs } from './photographs';
import type { GrowingState } from './growing-state';
import { JournalLook } from './journal-look';
import { Listeners, type JobNews } from './people/listeners';
import { liveFrameOf, type LiveParts } from './live';
import { Presence } from './people/presence';
import { SenderWatch } from './sender/sender-watch';
import { trippedBody } from './box/trips';
import { endsWatching, allowsDriving } from './decide/command-kinds';
import { Turns } from './turns';

export type StopOutcome = 'box-confirmed-open' | 'box-silent' | 'no-box';

export type OpenJobParts = {
  readonly jobId: string;
  readonly journal: Journal;
  readonly box: Box;
  readonly clock: BenchClock;
  readonly screenClock: LinkClock;
  readonly needleSpeed: number;
  /** One box, one job at a time: refuses when another job drives it, and takes it from whoever only measures. */
  readonly claim: (desk: OpenJob, use: BoxUse) => Refused | undefined;
  readonly choices: LiveParts['choices'];
  readonly reEstimate: ReEstimator;
} & Pick<SweepRunParts, 'gate' | 'neighbours'>;

const CLOSE_STEP_MS = 1_000;

/**
 * One open job: the one place where commands become events. Commands are taken one after the other, each judged against
 * the journal as the one before left it, so two people who press at once are told apart by the journal's order.
 */
export class OpenJob {
  readonly jobId: string;
  readonly photographs: Photographs;
  readonly #parts: OpenJobParts;
  readonly #presence: Presence;
  readonly #engine: SweepRun;
  readonly #hand: HandRun;
  readonly #watch: SenderWatch;
  readonly #listeners = new Listeners(() => this.live);
  readonly #entries: Entries;
  readonly #journalLook: JournalLook;
  readonly #turns = new Turns(() => this.#entries.payOwed());
  #closing: Promise<void> | undefined;
  /** A start is on its way to the disk: the box is taken already, though nothing is driven yet. */
  #isStarting = false;
  /** A sweep was running when this job was told to let go of the box. */
  #hadToStop = false;
  /** A stop is on its way to the journal: pressed again, it is the same stop. */
  #isStopUntold = false;
  /** Counts the stops: what was asked before the last one must not drive after it. */
  #stopCount = 0;

  constructor(parts: OpenJobParts, growing: GrowingState) {
    this.jobId = parts.jobId;
    this.#parts = parts;
    const { journal, box, clock, needleSpeed } = parts;
    this.#presence = new Presence(parts.screenClock);
    this.#entries = new Entries(
      { journal, clock, kept: (events) => this.#kept(events), failed: (reason) => this.#openFor(reason) },
      growing,
    );
    this.photographs = photographsOf({ journal, entries: this.#entries, turns: this.#turns });
    const job = { clock, state: () => this.state, changed: () => this.#listeners.frameDue() };
    const record: HandRunParts['record'] = (choose, by = BENCH) =>
      void this.#turns.take(() => this.#entries.append(choose(this.state), by));
    this.#engine = new SweepRun({ ...parts, ...job, record, presence: this.#presence });
    this.#hand = new HandRun({ ...job, needleSpeed, record });
    this.#journalLook = new JournalLook({
      clock,
      isLive: () => this.#holdsOutput,
      look: () => this.#turns.take(() => this.#entries.look()),
    });
    this.#watch = new SenderWatch({
      ...job,
      box,
      isWatched: () => this.#closing === undefined && this.#presence.everyone().length > 0,
    });
  }

  get #tools(): CommandTools {
    const { box, clock, claim, reEstimate } = this.#parts;
    return {
      ...{ box, clock, reEstimate },
      engine: this.#engine,
      hand: this.#hand,
      watch: this.#watch,
      state: () => this.state,
      events: () => this.events,
      claim: (use) => claim(this, use),
      record: (bodies, by) => void this.#turns.take(() => this.#entries.append(bodies(), by)),
    };
  }

  get state(): JobState {
    return this.#entries.state;
  }

  /** Every event of the journal, oldest first; what a screen that was away has missed is the tail after its number. */
  get events(): readonly JobEvent[] {
    return this.#parts.journal.events;
  }

  /** Why nothing can be entered in this job; it can be looked at all the same. */
  get trouble(): Refused | undefined {
    return this.#parts.journal.trouble;
  }

  get live(): LiveFrame {
    const { written, lapsed, owedPause } = this.#entries;
    const told = { lapsed, owedPause, trouble: this.trouble, watch: this.#watch.live };
    const at = { engine: this.#engine, hand: this.#hand, present: this.#presence.everyone() };
    return liveFrameOf({ ...this.#parts, ...told, ...at, state: pausedUntold(written, owedPause) });
  }

  /** True while this job may close the output, or is about to. */
  get isDriving(): boolean {
    return this.#isStarting || this.#engine.mayDrive;
  }

  /** The output is closed for this job, or may be at any moment. */
  get #holdsOutput(): boolean {
    return this.#engine.mayDrive || this.#engine.output.isUsed;
  }

  /** Somebody looks at this job, or something is done for it: it has to stay open. */
  get isUsed(): boolean {
    return this.isAtWork || this.#presence.everyone().length > 0;
  }

  /** A screen follows it, or something is done for it at this moment. */
  get isAtWork(): boolean {
    return !this.#listeners.isEmpty || this.isDriving || this.#engine.output.isUsed || this.#turns.isBusy;
  }

  /** Answers when the events are on the disk, or with the reason why nothing was done. */
  submit(command: JobCommand, by: string): Promise<Accepted | Refused> {
    this.#presence.seen(by);
    if (this.trouble !== undefined && !endsWatching(command)) return Promise.resolve(this.trouble);
    const stopCount = this.#stopCount;
    return this.#turns.take(() => {
      const taken = allowsDriving(command) ? this.#start(command, by, stopCount) : this.#take(command, by);
      return this.photographs.tidied(taken);
    });
  }

  /** What was asked before now must not drive. */
  callOff(): void {
    this.#stopCount += 1;
  }

  /** Opens the output at once, before anything that waits in line; answers whether the box confirmed it. */
  async stop(by: string): Promise<StopOutcome> {
    this.#presence.seen(by);
    this.#stopCount += 1;
    const wasRunning = runningSweep(this.#entries.written) !== undefined;
    const isNews = (wasRunning || this.#engine.output.made !== undefined) && !this.#isStopUntold;
    if (isNews) this.#isStopUntold = true;
    this.#watch.pause('stopped by hand');
    const outcome = await this.#engine.stop();
    const tell = (): Promise<unknown> => {
      this.#isStopUntold = false;
      return this.#entries.append([{ kind: 'stopped', outcome }], by);
    };
    if (isNews) await this.#turns.take(tell);
    return outcome;
  }

  /** Wants nothing of the box any more, and tells it to open where it may hold something. Waits for nobody. */
  letGo(): void {
    this.#stopCount += 1;
    this.#hadToStop ||= this.isDriving && runningSweep(this.#entries.written) !== undefined;
    this.#watch.pause('this job was closed');
    if (this.#holdsOutput) void this.#engine.stop();
  }

  /** Leaves the box's ohmmeter to somebody else. */
  restBox(reason: string): void {
    this.#watch.pause(reason);
  }

  /** A sign of life of a screen, at least every two seconds while a person can see it. Looking writes nothing. */
  seen(by: string): void {
    this.#presence.seen(by);
    if (this.#entries.lapsedUntold.length > 0) this.#listeners.frameDue();
  }

  /** A screen has gone; when it drove the sweep, the output opens. */
  gone(by: string): void {
    this.#presence.gone(by);
    this.#listeners.frameDue();
  }

  /** For a person at the terminal this program runs in: present until the returned function is called. */
  attend(by: string): () => void {
    return this.#presence.attend(by);
  }

  subscribe(listener: (news: JobNews) => void): () => void {
    return this.#listeners.subscribe(listener);
  }

  /** What the link tells, passed on by the bench; `isMine`: this job is the one that drives, or drove last. */
  heard(event: LinkEvent, isMine: boolean): void {
    switch (event.kind) {
      case 'heartbeat':
        return this.#engine.heard(vitalOf(event.fields, this.#parts.clock.nowMs()));
      case 'tripped':
        this.#engine.boxOpened();
        if (isMine) void this.#turns.take(() => this.#entries.append([trippedBody(event.fields)], BENCH));
        return;
      case 'state':
        if (event.state !== 'live' || !this.isDriving)
          this.#lostBox(event.reason?.message ?? 'the connection to the box was lost');
        this.#listeners.frameDue();
        return;
      case 'restarted':
        return this.#lostBox('the box restarted by itself; its output is open');
      case 'waiting':
      case 'frame':
      case 'frame-damaged':
        return;
    }
  }

  /** Resolves when every event so far is on the disk; does not wait for the box. */
  written(): Promise<void> {
    return this.#parts.journal.written();
  }

  /** Resolves when everything that was asked of this desk has been done. */
  async idle(): Promise<void> {
    await this.#turns.done();
    await this.#engine.settled();
  }

  /** A sweep that was running when the job was last closed waits for a person. To open a job writes nothing. */
  waitForPerson(): void {
    // By hand nothing was driven, and nothing has to be resumed.
    if (this.#hand.sweep !== undefined) return;
    this.#entries.owePause('this job was closed while its sweep ran; resume when you are at the gauge');
  }

  /** Opens the output first; then each step by itself, so that a disk that fails keeps nothing driving. Never rejects. */
  close(): Promise<void> {
    this.#closing ??= this.#end();
    return this.#closing;
  }

  async #end(): Promise<void> {
    this.letGo();
    this.#hand.end();
    this.#watch.end();
    this.#journalLook.end();
    const opened = await within(CLOSE_STEP_MS, () => this.#engine.settled());
    const outcome = opened.kind === 'done' ? opened.value : 'box-silent';
    const tell = (): Promise<unknown> => this.#entries.append([{ kind: 'stopped', outcome }], BENCH);
    const told = async (): Promise<unknown> => this.#hadToStop && this.#turns.take(tell);
    await inOrder(
      [
        { what: 'writing that it was stopped', work: told },
        { what: 'waiting for what was asked', work: () => this.#turns.done() },
        { what: 'closing the journal', work: () => this.#parts.journal.close() },
      ],
      CLOSE_STEP_MS,
    );
    this.#listeners.clear();
  }

  async #take(asked: JobCommand, by: string): Promise<Accepted | Refused> {
    const meant = understood(this.state, asked);
    if (meant.kind === 'refused') return meant;
    const decision = await decideCommand(this.#tools, { ...meant, by });
    switch (decision.kind) {
      case 'refused':
        return decision;
      case 'superseded': {
        const added = await this.#entries.append([decision.body], by);
        return added.kind === 'refused' ? added : decision.refused;
      }
      case 'bodies':
        return this.#entries.append(withGiven(decision.bodies, meant.given, asked), by);
    }
  }

  /** Drives once the start is on the disk; a stop that was pressed since it was asked for is the stronger. */
  async #start(command: JobCommand, by: string, stopCount: number): Promise<Accepted | Refused> {
    if (this.#stopCount !== stopCount) return refuse('STOPPED');
    this.#isStarting = true;
    try {
      const added = await this.#take(command, by);
      if (added.kind === 'refused') return added;
      // A sweep by hand drives nothing.
      if (this.#hand.sweep !== undefined) return added;
      if (this.#stopCount !== stopCount) {
        const paused = pausedBodies(this.#entries.written, 'stopped before anything was driven');
        await this.#entries.append(paused, by);
        return refuse('STOPPED');
      }
      this.#watch.end();
      this.#engine.allow();
      this.#journalLook.begin();
      return added;
    } finally {
      this.#isStarting = false;
    }
  }

  #lostBox(reason: string): void {
    const wasRunning = this.#engine.mayDrive && runningSweep(this.#entries.written) !== undefined;
    this.#engine.boxOpened();
    if (wasRunning) void this.#turns.take(() => this.#entries.append([{ kind: 'box-lost', reason }], BENCH));
  }

  /** Judges anew whether a job can be written that could not be. False: other events lie under its name by now. */
  async goesOn(): Promise<boolean> {
    if (this.trouble === undefined) return true;
    const goesOn = await this.#turns.take(() => this.#entries.reopen());
    this.#listeners.frameDue();
    return goesOn;
  }

  #kept(events: readonly JobEvent[]): void {
    // Before the screens: what a listener throws must not keep the output closed.
    this.#engine.sync();
    this.#hand.sync();
    this.#listeners.tell({ kind: 'events', events });
    this.#listeners.frameDue();
  }

  #openFor(reason: string): void {
    if (this.#holdsOutput) void this.#engine.stop(reason);
  }
}
