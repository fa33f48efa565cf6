import type { Refused } from '../../core/result';
import type { ClusterCommand, ClusterDoing, ClusterEvent, ClusterFrame, ClusterState } from '../../job';
import { refuse } from '../../refusals';
import { Presence } from '../people/presence';
import type { ClusterDeskParts } from './cluster-desk-parts';
import type { ClusterRun } from './cluster-run';
import { ClusterReader } from './cluster-reader';
import { HandSweepNotes } from './hand-sweeps';
import { isRunning } from './member';
import type { NeedleMoved } from './roll-call';

export type ClusterDone = { readonly kind: 'done' };
const DONE: ClusterDone = { kind: 'done' };

type Work = {
  /** Whose screen reads; it changes when another one takes over. */
  by: string;
  readonly abort: AbortController;
  /** Whose sweep ran at the last look. */
  running: ReadonlySet<string>;
  doing: ClusterDoing;
  reader?: ClusterReader;
  whichMoved?: { readonly boxSerial: number; readonly say: (moved: NeedleMoved) => void };
};

const LOOK_MS = 500;

/**
 * One open cluster, as every screen sees it: one thing is done with its gauges at a time, by the screen that began it.
 * When that screen goes away, or a stop is pressed, everything ends and every output opens.
 */
export class ClusterDesk {
  readonly #parts: ClusterDeskParts;
  readonly #presence: Presence;
  readonly #hands: HandSweepNotes;
  readonly #listeners = new Set<() => void>();
  readonly #leaving: readonly (() => void)[];
  #work: Work | undefined;
  #trouble: string | undefined;
  #isToldDue = false;
  #isClosed = false;

  constructor(parts: ClusterDeskParts) {
    this.#parts = parts;
    this.#presence = new Presence(parts.screenClock);
    this.#hands = new HandSweepNotes(parts.run, (trouble) => {
      this.#trouble ??= trouble;
      this.#changed();
    });
    this.#leaving = parts.run.gauges.map(({ desk }) => desk.subscribe(() => this.#changed()));
    this.#hands.look();
  }

  get clusterId(): string {
    return this.#parts.clusterId;
  }

  get gauges(): ClusterRun['gauges'] {
    return this.#parts.run.gauges;
  }

  get state(): ClusterState {
    return this.#parts.run.state;
  }

  get events(): readonly ClusterEvent[] {
    return this.#parts.events();
  }

  /** Somebody looks at it, or something is done. */
  get isUsed(): boolean {
    return this.#work !== undefined || this.#listeners.size > 0 || this.#presence.everyone().length > 0;
  }

  get live(): ClusterFrame {
    const work = this.#work;
    const doing = work === undefined ? { kind: 'nothing' as const } : (work.reader?.doing ?? work.doing);
    return {
      clusterId: this.clusterId,
      lastN: this.events.length,
      doing,
      boxes: [...this.#parts.boxes()],
      isCalled: this.#parts.run.isCalled,
      ...(work === undefined ? {} : { reader: work.by }),
      ...(this.#trouble === undefined ? {} : { trouble: this.#trouble }),
    };
  }

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => void this.#listeners.delete(listener);
  }

  seen(by: string): void {
    this.#presence.seen(by);
  }

  gone(by: string): void {
    this.#presence.gone(by);
    if (this.#work?.by === by) this.callOff();
  }

  /** A stop was pressed, or nobody is there: what is done with several gauges ends. */
  callOff(): void {
    this.#work?.abort.abort();
  }

  /** Answers when it was begun or entered, or with why not. */
  async submit(command: ClusterCommand, by: string): Promise<ClusterDone | Refused> {
    this.#presence.seen(by);
    switch (command.kind) {
      case 'call-roll':
        return this.#begin(
          by,
          { kind: 'roll-call', called: 0, of: this.#gaugeCount, isAsked: false },
          (work) => this.#callRoll(work),
        );
      case 'test-neighbours':
        return this.#begin(by, { kind: 'neighbours', moved: 0, of: this.#gaugeCount }, (work) =>
          this.#testNeighbours(work),
        );
      case 'start-sweep': {
        const order = this.#parts.run.orderFor(command.order);
        return this.#begin(by, { kind: 'sweep', order, waiters: [] }, (work) =>
          this.#sweep(work, command, order),
        );
      }
      case 'say-moved':
        return this.#sayMoved(command, by);
      case 'declare-state':
      case 'add-note':
        return this.#note(command, by);
      case 'confirm-safety':
        return this.#toAll(command, by);
      case 'give':
      case 'read-again':
      case 'begin-short':
      case 'later':
        return this.#answer(command, by);
      case 'take-over':
        return this.#takeOver(by);
    }
  }

  /** Ends what is done, opens every output, and gives back the journal. */
  async close(): Promise<void> {
    this.#isClosed = true;
    this.callOff();
    if (this.#work !== undefined) await this.#parts.stopAll(this.#work.by);
    this.#parts.run.end();
    for (const leave of this.#leaving) leave();
    this.#listeners.clear();
    await this.#hands.end();
    await this.#parts.closed();
  }

  get #gaugeCount(): number {
    return this.#parts.run.gauges.length;
  }

  #begin(
    by: string,
    doing: ClusterDoing,
    work: (work: Work) => Promise<string | Refused>,
  ): ClusterDone | Refused {
    if (this.#isClosed) return refuse('HOST_ENDING');
    const before = this.#work;
    if (before !== undefined) return refuse('CLUSTER_AT_WORK', { title: this.state.title, by: before.by });
    const fresh: Work = { by, abort: new AbortController(), running: new Set(), doing };
    this.#work = fresh;
    this.#trouble = undefined;
    this.#watch(fresh);
    void work(fresh)
      .catch((error: unknown) => refuse('CLUSTER_FAILED', { why: whyOf(error) }))
      .then((ended) => {
        this.#work = undefined;
        // What a person ended needs no reason; what broke off stops everything itself, and is told.
        const isCalledOff = fresh.abort.signal.aborted;
        if (typeof ended === 'object' && (!isCalledOff || ended.code === 'CLUSTER_FAILED'))
          this.#trouble = ended.message;
        this.#changed();
      });
    this.#changed();
    return DONE;
  }

  /** The boxes hold resistances that no job drives: they open when their person goes away. */
  #watch(work: Work): void {
    if (this.#work !== work) return;
    if (!this.#presence.isPresent(work.by)) {
      this.#trouble = `${work.by} has gone; every output was opened`;
      work.abort.abort();
      void this.#parts.stopAll(work.by);
      return;
    }
    this.#parts.screenClock.after(LOOK_MS, () => this.#watch(work));
  }

  #callRoll(work: Work): Promise<'called' | Refused> {
    const doing = { kind: 'roll-call' as const, called: 0, of: this.#gaugeCount, isAsked: false };
    const show = (next: Partial<Extract<ClusterDoing, { kind: 'roll-call' }>>): void => {
      work.doing = { ...doing, ...next };
      this.#changed();
    };
    let called = 0;
    return this.#parts.run.callRoll({
      by: work.by,
      signal: work.abort.signal,
      about: (boxSerial) => show({ boxSerial, called }),
      whichMoved: (boxSerial) =>
        new Promise<NeedleMoved>((resolve) => {
          const say = (moved: NeedleMoved): void => {
            delete work.whichMoved;
            called += 1;
            show({ called });
            resolve(moved);
          };
          work.whichMoved = { boxSerial, say };
          work.abort.signal.addEventListener('abort', () => resolve({ nothing: 'not-sure' }), { once: true });
          show({ boxSerial, called, isAsked: true });
        }),
    });
  }

  #testNeighbours(work: Work): Promise<'measured' | Refused> {
    let moved = 0;
    return this.#parts.run.testNeighbours({
      by: work.by,
      signal: work.abort.signal,
      about: (movedJobId) => {
        work.doing = { kind: 'neighbours', moved, of: this.#gaugeCount, movedJobId };
        moved += 1;
        this.#changed();
      },
    });
  }

  #sweep(
    work: Work,
    { choice }: Extract<ClusterCommand, { kind: 'start-sweep' }>,
    order: Extract<ClusterDoing, { kind: 'sweep' }>['order'],
  ): Promise<'swept' | Refused> {
    const { run, clock, needleSpeed } = this.#parts;
    const reader = new ClusterReader({
      run,
      order,
      clock,
      needleSpeed,
      changed: () => this.#changed(),
    });
    work.reader = reader;
    return run.sweep({
      by: work.by,
      signal: work.abort.signal,
      order,
      choice: { ...choice, state: this.state.state },
      queue: reader.queue,
      spent: () => ({ changesMs: 0, doubted: reader.doubted }),
      trouble: (jobId, { message }) => {
        this.#trouble = `${run.placeOf(jobId)}: ${message}`;
        this.#changed();
      },
    });
  }

  #sayMoved(
    { boxSerial, moved }: Extract<ClusterCommand, { kind: 'say-moved' }>,
    by: string,
  ): ClusterDone | Refused {
    const work = this.#work;
    if (work?.whichMoved?.boxSerial !== boxSerial || work.by !== by) return refuse('CLUSTER_NOT_ASKED');
    work.whichMoved.say(moved);
    return DONE;
  }

  async #note(
    command: Extract<ClusterCommand, { kind: 'declare-state' | 'add-note' }>,
    by: string,
  ): Promise<ClusterDone | Refused> {
    if (this.#work !== undefined)
      return refuse('CLUSTER_AT_WORK', { title: this.state.title, by: this.#work.by });
    const noted = await this.#parts.run.note(
      [
        command.kind === 'add-note'
          ? { kind: 'note', text: command.text }
          : { kind: 'state-declared', state: command.state },
      ],
      by,
    );
    this.#changed();
    return noted === 'appended' ? DONE : noted;
  }

  async #toAll(
    command: Extract<ClusterCommand, { kind: 'confirm-safety' }>,
    by: string,
  ): Promise<ClusterDone | Refused> {
    for (const { desk } of this.#parts.run.gauges) {
      const said = await desk.submit(command, by);
      if (said.kind === 'refused') return said;
    }
    return DONE;
  }

  #answer(
    command: Extract<ClusterCommand, { kind: 'give' | 'read-again' | 'begin-short' | 'later' }>,
    by: string,
  ): Promise<ClusterDone | Refused> {
    const { reader, by: readBy } = this.#work ?? {};
    if (reader === undefined) return Promise.resolve(refuse('CLUSTER_NOT_ASKED'));
    if (readBy !== by)
      return Promise.resolve(refuse('CLUSTER_AT_WORK', { title: this.state.title, by: readBy ?? '' }));
    return reader.answer(command, by);
  }

  /** Another screen reads from now on: all gauges, or none. */
  async #takeOver(by: string): Promise<ClusterDone | Refused> {
    const before = this.#work;
    if (before === undefined) return refuse('CLUSTER_NOT_ASKED');
    for (const { desk } of this.#parts.run.gauges)
      if (desk.state.sweeps.at(-1)?.status.kind === 'running') {
        const taken = await desk.submit({ kind: 'take-over' }, by);
        if (taken.kind === 'refused') return taken;
      }
    if (this.#work !== before) return refuse('CLUSTER_NOT_ASKED');
    before.by = by;
    this.#changed();
    return DONE;
  }

  /** A box that trips in its sweep ends all of them: nobody goes on beside a fault that he has not looked at. */
  #endOnTrip(): void {
    const work = this.#work;
    if (work?.reader === undefined) return;
    const { gauges } = this.#parts.run;
    const tripped = gauges.find(({ jobId, desk }) => desk.live.trip !== undefined && work.running.has(jobId));
    work.running = new Set(gauges.flatMap(({ jobId, desk }) => (isRunning(desk.state) ? [jobId] : [])));
    if (tripped === undefined || work.abort.signal.aborted) return;
    this.#trouble = `${tripped.place}: its box tripped, and every output was opened`;
    work.abort.abort();
  }

  /** Many changes of one moment are told once. */
  #changed(): void {
    this.#work?.reader?.heard();
    this.#endOnTrip();
    this.#hands.look();
    if (this.#isToldDue) return;
    this.#isToldDue = true;
    queueMicrotask(() => {
      this.#isToldDue = false;
      for (const listener of [...this.#listeners]) listener();
    });
  }
}

const whyOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));
