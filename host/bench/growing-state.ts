import { foldingJob, foldJob, foldOnwards, type JobEvent, type JobState } from '../job';
import { inSlices } from '../store';

/** What is taken back is nearly always among the newest entries; a seek leaves some events for each. */
const RECENT_EVENTS = 64;

/**
 * The state of an open job while its journal grows. How it was some entries ago is kept as well, so that to take back a
 * recent entry of a long job costs these entries and not the whole journal.
 */
export class GrowingState {
  #now: JobState;
  /** Earlier states, the newer one first. */
  #marks: readonly JobState[];

  private constructor(now: JobState, marks: readonly JobState[]) {
    this.#now = now;
    this.#marks = marks;
  }

  /** Folds a whole journal, in slices. Undefined: not the journal of a job. */
  static async of(events: readonly JobEvent[]): Promise<GrowingState | undefined> {
    const known = events.slice(0, Math.max(1, events.length - RECENT_EVENTS));
    const mark = await inSlices(foldingJob(known));
    if (mark === undefined) return undefined;
    const now = foldOnwards(mark, events.slice(mark.lastN)) ?? (await inSlices(foldingJob(events)));
    return now && new GrowingState(now, [mark]);
  }

  get now(): JobState {
    return this.#now;
  }

  /** `all` is the whole journal, `added` its newest events. */
  add(all: readonly JobEvent[], added: readonly JobEvent[]): void {
    this.#now = foldOnwards(this.#now, added) ?? this.#fromEarlier(all);
    const [newer] = this.#marks;
    if (newer === undefined || this.#now.lastN - newer.lastN >= RECENT_EVENTS)
      this.#marks = [this.#now, ...(newer === undefined ? [] : [newer])];
  }

  #fromEarlier(all: readonly JobEvent[]): JobState {
    for (const mark of this.#marks) {
      const state = foldOnwards(mark, all.slice(mark.lastN));
      if (state !== undefined) return state;
    }
    // What was kept from before this undo is no start for the next one.
    this.#marks = [];
    return foldJob(all) ?? this.#now;
  }
}
