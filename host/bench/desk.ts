import { refuse, type Refused } from '../core/result';
import {
  runningSweep,
  understood,
  withGiven,
  type EventBody,
  type Given,
  type JobCommand,
  type JobEvent,
  type JobState,
  type LiveFrame,
} from '../job';
import type { LinkEvent } from '../link';
import type { Journal } from '../store';
import { decideNeedle, decideReading, type AnswerDecision } from './answers';
import { vitalOf, type Box } from './box';
import { captureMeasurement, captureSenderPoint } from './capture';
import { clearTrip } from './clear-trip';
import type { BenchClock } from './clock';
import { decide, isBoxCommand, type BoxCommand } from './decide';
import { boxNews, lapsedBodies, pausedBodies, refold } from './desk-news';
import { BENCH, SweepEngine } from './engine';
import { drivingHindrance, sourceHindrance } from './hindrances';
import { liveFrameOf } from './live';
import { Presence } from './presence';
import { SenderWatch } from './sender-watch';
import { decideStart, type StartDoor } from './starts';
import { trippedBody } from './trips';
import { decideWatch, isWatchCommand, type WatchCommand } from './watch-commands';

export type Accepted = { readonly kind: 'accepted'; readonly events: readonly JobEvent[] };

export type DeskNews =
  | { readonly kind: 'events'; readonly events: readonly JobEvent[] }
  | { readonly kind: 'live'; readonly frame: LiveFrame };

export type BoxUse = 'drive' | 'measure';

export type StopOutcome = 'box-confirmed-open' | 'box-silent' | 'no-box';

export type DeskParts = {
  readonly jobId: string;
  readonly journal: Journal;
  readonly box: Box;
  readonly clock: BenchClock;
  readonly needleSpeed: number;
  /** One box, one job at a time: refuses when another job drives it, and takes it from whoever only measures. */
  readonly claim: (desk: JobDesk, use: BoxUse) => Refused | undefined;
};

const bodiesOf = (bodies: readonly EventBody[]): AnswerDecision => ({ kind: 'bodies', bodies: [...bodies] });

/**
 * One open job: the one place where commands become events. Commands are taken one after the other, each judged against
 * the journal as the one before left it, so two people who press at once are told apart by the journal's order.
 */
export class JobDesk {
  readonly jobId: string;
  readonly #parts: DeskParts;
  readonly #presence = new Presence();
  readonly #engine: SweepEngine;
  readonly #watch: SenderWatch;
  readonly #listeners = new Set<(news: DeskNews) => void>();
  #state: JobState;
  #turn: Promise<unknown> = Promise.resolve();
  #isFrameDue = false;
  #isClosed = false;
  /** A start is on its way to the disk: the box is taken already, though nothing is driven yet. */
  #isStarting = false;
  /** Counts the stops: what was asked before the last one must not drive after it. */
  #stopCount = 0;

  constructor(parts: DeskParts, state: JobState) {
    this.jobId = parts.jobId;
    this.#parts = parts;
    this.#state = state;
    this.#engine = new SweepEngine({
      box: parts.box,
      clock: parts.clock,
      needleSpeed: parts.needleSpeed,
      presence: this.#presence,
      state: () => this.#state,
      record: (choose, by = BENCH) => void this.#inTurn(() => this.#append(choose(this.#state), by)),
      changed: () => this.#frameDue(),
    });
    this.#watch = new SenderWatch({
      box: parts.box,
      clock: parts.clock,
      state: () => this.#state,
      changed: () => this.#frameDue(),
      isWatched: () => !this.#isClosed && this.#presence.everyone(parts.clock.nowMs()).length > 0,
    });
  }

  get state(): JobState {
    return this.#state;
  }

  /** Every event of the journal, oldest first; what a screen that was away has missed is the tail after its number. */
  get events(): readonly JobEvent[] {
    return this.#parts.journal.events;
  }

  get live(): LiveFrame {
    const { jobId, box, clock } = this.#parts;
    const present = this.#presence.everyone(clock.nowMs());
    const watch = this.#watch.live;
    return liveFrameOf({ jobId, state: this.#state, box, engine: this.#engine, watch, present });
  }

  /** True while this job may close the output, or is about to. */
  get isDriving(): boolean {
    return this.#isStarting || this.#engine.mayDrive;
  }

  /** Answers when the events are on the disk, or with the reason why nothing was done. */
  submit(command: JobCommand, by: string): Promise<Accepted | Refused> {
    this.#presence.seen(by, this.#parts.clock.nowMs());
    const stopCount = this.#stopCount;
    return this.#inTurn(() =>
      allowsDriving(command) ? this.#start(command, by, stopCount) : this.#take(command, by),
    );
  }

  /** Opens the output at once, before anything that waits in line; answers whether the box confirmed it. */
  async stop(by: string): Promise<StopOutcome> {
    this.#presence.seen(by, this.#parts.clock.nowMs());
    this.#stopCount += 1;
    const wasRunning = runningSweep(this.#state) !== undefined;
    const wasMade = this.#engine.output.made !== undefined;
    this.#watch.pause('stopped by hand');
    const outcome = await this.#engine.stop();
    if (wasRunning || wasMade) await this.#inTurn(() => this.#append([{ kind: 'stopped', outcome }], by));
    return outcome;
  }

  /** Leaves the box's ohmmeter to somebody else. */
  restBox(reason: string): void {
    this.#watch.pause(reason);
  }

  /** A sign of life of a screen, at least every two seconds while a person can see it. */
  seen(by: string): void {
    this.#presence.seen(by, this.#parts.clock.nowMs());
    if (this.#lapsed().length > 0) void this.#inTurn(() => Promise.resolve());
  }

  /** A screen has gone; when it drove the sweep, the output opens. */
  gone(by: string): void {
    this.#presence.gone(by);
    this.#frameDue();
  }

  /** For a person at the terminal this program runs in: present until the returned function is called. */
  attend(by: string): () => void {
    return this.#presence.attend(by);
  }

  subscribe(listener: (news: DeskNews) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** What the link tells, passed on by the bench; `isMine`: this job is the one that drives, or drove last. */
  heard(event: LinkEvent, isMine: boolean): void {
    switch (event.kind) {
      case 'heartbeat':
        this.#engine.heard(vitalOf(event.fields, this.#parts.clock.nowMs()));
        return;
      case 'tripped':
        this.#engine.boxOpened();
        if (isMine) void this.#inTurn(() => this.#append([trippedBody(event.fields)], BENCH));
        return;
      case 'state':
        if (event.state !== 'live')
          this.#lostBox(event.reason?.message ?? 'the connection to the box was lost');
        this.#frameDue();
        return;
      case 'restarted':
        this.#lostBox('the box restarted by itself; its output is open');
        return;
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
    await this.#turn;
    await this.#engine.settled();
  }

  /** A sweep that was running when the program ended waits for a person. */
  async pauseAfterRestart(): Promise<void> {
    const reason = 'the program was started again; resume when you are at the gauge';
    await this.#inTurn(() => this.#append(pausedBodies(this.#state, reason), BENCH));
  }

  async close(): Promise<void> {
    if (this.#isClosed) return;
    this.#stopCount += 1;
    if (this.isDriving) await this.stop(BENCH);
    this.#watch.end();
    this.#isClosed = true;
    await this.idle();
    await this.#parts.journal.close();
    this.#listeners.clear();
  }

  #inTurn<Answer>(action: () => Promise<Answer>): Promise<Answer> {
    const answer = this.#turn.then(() => this.#append(this.#lapsed(), BENCH)).then(action);
    this.#turn = answer.catch(() => undefined);
    return answer;
  }

  async #take(asked: JobCommand, by: string): Promise<Accepted | Refused> {
    const meant = understood(this.#state, asked);
    if (meant.kind === 'refused') return meant;
    const { command, given } = meant;
    const decision = isWatchCommand(command)
      ? this.#decideWatch(command, by, given)
      : await this.#decide(command);
    switch (decision.kind) {
      case 'refused':
        return decision;
      case 'superseded': {
        const added = await this.#append([decision.body], by);
        return added.kind === 'refused' ? added : refuse('ANSWER_SUPERSEDED', decision.message);
      }
      case 'bodies':
        return this.#append(withGiven(decision.bodies, given, asked), by);
    }
  }

  /** Drives once the start is on the disk; a stop that was pressed since it was asked for is the stronger. */
  async #start(command: JobCommand, by: string, stopCount: number): Promise<Accepted | Refused> {
    const stopped = refuse('STOPPED', 'stop was pressed after this was asked for; ask again if you mean it');
    if (this.#stopCount !== stopCount) return stopped;
    this.#isStarting = true;
    try {
      const added = await this.#take(command, by);
      if (added.kind === 'refused') return added;
      if (this.#stopCount !== stopCount) {
        await this.#append(pausedBodies(this.#state, 'stopped before anything was driven'), by);
        return stopped;
      }
      this.#watch.end();
      this.#engine.allow();
      return added;
    } finally {
      this.#isStarting = false;
    }
  }

  #decideWatch(command: WatchCommand, by: string, given: Given | undefined): AnswerDecision {
    const { box, claim } = this.#parts;
    const door = {
      watch: this.#watch,
      clock: this.#parts.clock,
      state: () => this.#state,
      hindrance: () => sourceHindrance(box, this.#engine.mayDrive),
      claim: () => claim(this, 'measure'),
      record: (body: EventBody) => void this.#inTurn(() => this.#append([...this.#boxNews(), body], by)),
    };
    const bodies = decideWatch(door, command, given);
    return 'kind' in bodies ? bodies : bodiesOf(bodies.length === 0 ? [] : [...this.#boxNews(), ...bodies]);
  }

  async #decide(command: Exclude<JobCommand, WatchCommand>): Promise<AnswerDecision> {
    if (isBoxCommand(command)) return this.#decideWithBox(command);
    const bodies = decide(this.#state, this.events, command);
    return 'kind' in bodies ? bodies : bodiesOf(bodies);
  }

  async #decideWithBox(command: BoxCommand): Promise<AnswerDecision> {
    switch (command.kind) {
      case 'start-sweep':
      case 'resume-sweep':
        return this.#withNews(decideStart(this.#state, command, this.#startDoor));
      case 'give-reading':
        return decideReading(this.#state, this.#engine, command);
      case 'give-needle':
        return decideNeedle(this.#state, this.#engine, command);
      case 'wait-longer':
        return this.#engine.waitLonger(command.stepId) ?? bodiesOf([]);
      case 'clear-trip':
        return clearTrip(this.#parts.box, this.#state.trip, this.#engine.vital);
      case 'capture-measurement':
        return this.#withNews(await captureMeasurement(this.#parts.box, command));
      case 'capture-sender-point':
        return this.#withNews(await captureSenderPoint(this.#parts.box, this.#state, command));
    }
  }

  #withNews(body: EventBody | Refused): AnswerDecision {
    return body.kind === 'refused' ? body : bodiesOf([...this.#boxNews(), body]);
  }

  readonly #startDoor: StartDoor = {
    hindrance: () => drivingHindrance(this.#parts.box, this.#state, this.#engine.vital),
    claim: () => this.#parts.claim(this, 'drive'),
  };

  /** Judged before whatever is done next, so that no event of the bench itself ends a break. */
  #lapsed(): EventBody[] {
    return lapsedBodies(this.#state, this.#parts.clock.nowIso());
  }

  #boxNews(): EventBody[] {
    return boxNews(this.#parts.box, this.#state.box);
  }

  #lostBox(reason: string): void {
    const wasRunning = this.#engine.mayDrive && runningSweep(this.#state) !== undefined;
    this.#engine.boxOpened();
    if (wasRunning) void this.#inTurn(() => this.#append([{ kind: 'box-lost', reason }], BENCH));
  }

  async #append(bodies: readonly EventBody[], by: string): Promise<Accepted | Refused> {
    if (bodies.length === 0) return { kind: 'accepted', events: [] };
    const written = await this.#parts.journal.append(bodies, by);
    if (written.kind === 'refused') {
      // What cannot be kept must not be driven either.
      if (this.#engine.mayDrive) void this.#engine.stop();
      return written;
    }
    this.#state = refold(this.#state, this.events, written.events);
    this.#tell({ kind: 'events', events: written.events });
    this.#engine.sync();
    this.#frameDue();
    return { kind: 'accepted', events: written.events };
  }

  /** Many changes of one moment make one frame. */
  #frameDue(): void {
    if (this.#isFrameDue) return;
    this.#isFrameDue = true;
    queueMicrotask(() => {
      this.#isFrameDue = false;
      if (this.#listeners.size > 0) this.#tell({ kind: 'live', frame: this.live });
    });
  }

  #tell(news: DeskNews): void {
    for (const listener of [...this.#listeners]) listener(news);
  }
}

const allowsDriving = (command: JobCommand): boolean =>
  command.kind === 'start-sweep' || command.kind === 'resume-sweep';
