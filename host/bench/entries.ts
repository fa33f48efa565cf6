import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import { pausedUntold, runningSweep, type EventBody, type JobEvent, type JobState } from '../job';
import {
  isLongBreak,
  LONGEST_BREAK_HOURS,
  lapsedConfirmations,
  withoutLapsed,
} from '../job/state/confirmations';
import type { Journal } from '../store';
import type { BenchClock } from './clock';
import { pausedBodies } from './sweep/paused';
import { BENCH } from './rules';
import type { GrowingState } from './growing-state';

/** `upToN`: the newest event of this answer, or of the journal where nothing was added. */
export type Accepted = {
  readonly kind: 'accepted';
  readonly events: readonly JobEvent[];
  readonly upToN: number;
};

type EntriesParts = {
  readonly journal: Journal;
  readonly clock: BenchClock;
  /** What is on the disk now, before any screen hears of it. */
  readonly kept: (events: readonly JobEvent[]) => void;
  /** What could not be written must not be driven either. */
  readonly failed: (reason: string) => void;
};

/** What a job's journal holds, what follows from it at this hour, and the one way to add to it. */
export class Entries {
  readonly #parts: EntriesParts;
  readonly #growing: GrowingState;
  /** A sweep stands still and the journal could not be told: why, as it is owed to it. */
  #owedPause: string | undefined;

  constructor(parts: EntriesParts, growing: GrowingState) {
    this.#parts = parts;
    this.#growing = growing;
  }

  /** As it is at this hour. */
  get state(): JobState {
    return pausedUntold(withoutLapsed(this.written, this.#parts.clock.nowIso()), this.owedPause);
  }

  /** Why a sweep stands still that the journal calls running; the next entry tells the journal. */
  get owedPause(): string | undefined {
    return runningSweep(this.written) === undefined ? undefined : this.#owedPause;
  }

  /** A sweep stands still, and nothing is written for that alone. */
  owePause(reason: string): void {
    if (runningSweep(this.written) !== undefined) this.#owedPause ??= reason;
  }

  /** As the journal alone says it. */
  get written(): JobState {
    return this.#growing.now;
  }

  get lapsed(): ReturnType<typeof lapsedConfirmations> {
    return lapsedConfirmations(this.written, this.#parts.clock.nowIso());
  }

  /** Written before the next real entry, so that no event of the bench itself ends a break; looking writes nothing. */
  get lapsedUntold(): readonly EventBody[] {
    return lapsedBodies(this.written, this.#parts.clock.nowIso());
  }

  async append(bodies: readonly EventBody[], by: string): Promise<Accepted | Refused> {
    if (bodies.length === 0) return this.#accepted([]);
    // First what lapsed: otherwise this entry would end the break, and what was said would count again.
    const lapsed = this.lapsedUntold;
    const told = lapsed.length === 0 ? undefined : await this.#put(lapsed, BENCH);
    return told?.kind === 'refused' ? told : this.#put(bodies, by);
  }

  /** What the journal could not be told when it was due. */
  async payOwed(): Promise<void> {
    const reason = this.#owedPause;
    if (reason === undefined) return;
    this.#owedPause = undefined;
    const told = await this.append(pausedBodies(this.written, reason), BENCH);
    if (told.kind === 'refused') this.#owedPause = reason;
  }

  /** Looks whether the journal can still be kept; where it cannot, it is as if a write had failed. */
  async look(): Promise<void> {
    const trouble = await this.#parts.journal.look();
    if (trouble !== undefined) this.#fail(trouble);
  }

  /** Judges anew whether a job can be written that could not be. False: other events lie under its name by now. */
  async reopen(): Promise<boolean> {
    const found = await this.#parts.journal.reopen();
    if (found.kind === 'reopened') this.#keep(found.events);
    return found.kind === 'reopened' || found.code !== 'JOURNAL_OTHER';
  }

  #keep(added: readonly JobEvent[]): void {
    if (added.length === 0) return;
    this.#growing.add(this.#parts.journal.events, added);
    this.#parts.kept(added);
  }

  #accepted(events: readonly JobEvent[]): Accepted {
    return { kind: 'accepted', events, upToN: events.at(-1)?.n ?? this.written.lastN };
  }

  async #put(bodies: readonly EventBody[], by: string): Promise<Accepted | Refused> {
    const written = await this.#write(bodies, by);
    if (written.kind === 'refused') {
      this.#fail(written);
      return written;
    }
    this.#keep(written.events);
    return this.#accepted(written.events);
  }

  #fail({ message }: Refused): void {
    const reason = `the output was opened, since the journal could not be written: ${message}`;
    this.owePause(reason);
    this.#parts.failed(reason);
  }

  async #write(bodies: readonly EventBody[], by: string): ReturnType<Journal['append']> {
    const { journal } = this.#parts;
    try {
      return await journal.append(bodies, by);
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      return refuse('JOURNAL_WRITE_FAILED', {
        why: `${journal.folder}: not written, ${why}. See that its disk is there and has room.`,
      });
    }
  }
}

const lapseReason = ({ lastAt }: JobState, nowIso: string): string =>
  isLongBreak(lastAt, nowIso)
    ? `nothing was entered for more than ${LONGEST_BREAK_HOURS} hours`
    : 'its time is over';

/** Takes back what was said of a vehicle before a long break, or too long ago. */
const lapsedBodies = (state: JobState, nowIso: string): EventBody[] =>
  lapsedConfirmations(state, nowIso).map((confirmation) => ({
    kind: 'safety-lapsed',
    confirmation,
    reason: lapseReason(state, nowIso),
  }));
