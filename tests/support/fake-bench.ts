import type { Accepted, JobNews, StopOutcome, StopReport } from '../../host/bench';
import type { ServedBench, ServedJob } from '../../host/server/route-parts';
import type { Refused } from '../../host/core/result';
import { passedOn, refuse } from '../../host/refusals';
import type { JobCommand } from '../../host/job/schema/commands';
import type { EventBody, JobEvent } from '../../host/job/schema/events';
import { foldJob } from '../../host/job/state/fold';
import type { Opening } from '../../host/job/schema/gauge';
import { FakeClusters } from './fake-clusters';
import { jobSummaryOf } from '../../host/words/job-summary';
import type { JobState } from '../../host/job/state/state';
import type { JobListing, LiveFrame } from '../../host/job/wire/job-messages';

/** A bench in memory for tests of the server: it keeps a journal and takes notes; it measures nothing. */
export class FakeBench implements ServedBench {
  readonly desks = new Map<string, FakeDesk>();
  readonly deleted = new Map<string, FakeDesk>();
  readonly archived = new Set<string>();
  readonly assigned = new Map<string, number | undefined>();
  readonly clusters = new FakeClusters(this);
  stops = 0;

  jobs(): Promise<JobListing> {
    const jobs = [...this.desks.values()].flatMap((desk) => {
      const state = foldJob(desk.events);
      if (state === undefined) return [];
      const archived = this.archived.has(state.jobId) ? ({ archived: true } as const) : {};
      return [{ ...jobSummaryOf(state.jobId, state), ...archived }];
    });
    return Promise.resolve({ jobs, unreadable: [] });
  }

  async stopEach(by: string): Promise<StopReport> {
    this.stops += 1;
    await Promise.all([...this.desks.values()].map((desk) => desk.stop(by)));
    return { outcome: 'no-box', boxes: [] };
  }

  createJob(opening: Opening, _by = 'test'): Promise<FakeDesk> {
    const desk = new FakeDesk(`job-${this.desks.size + this.deleted.size + 1}`, opening);
    this.desks.set(desk.jobId, desk);
    return Promise.resolve(desk);
  }

  openJob(jobId: string): Promise<FakeDesk | Refused> {
    const desk = this.desks.get(jobId);
    return Promise.resolve(
      desk === undefined ? refuse('JOURNAL_MISSING', { path: jobId, name: 'job.ndjson' }) : desk,
    );
  }

  async duplicateJob(jobId: string): Promise<FakeDesk | Refused> {
    const desk = await this.openJob(jobId);
    if (!(desk instanceof FakeDesk)) return desk;
    const { title, gauge, vehicle, place, simulated } = desk.state;
    return this.createJob({ title, gauge, vehicle, place, simulated });
  }

  assignBox(jobId: string, boxSerial: number | undefined) {
    this.assigned.set(jobId, boxSerial);
    return 'assigned' as const;
  }

  archiveJob(jobId: string, isArchived: boolean) {
    if (isArchived) this.archived.add(jobId);
    else this.archived.delete(jobId);
    return Promise.resolve({ kind: 'moved' } as const);
  }

  deleteJob(jobId: string) {
    const desk = this.desks.get(jobId);
    if (desk !== undefined) this.deleted.set(jobId, desk);
    this.desks.delete(jobId);
    return Promise.resolve({ kind: 'moved', name: jobId } as const);
  }

  restoreJob(name: string) {
    const desk = this.deleted.get(name);
    if (desk === undefined) return Promise.resolve(refuse('DELETED_MISSING', { name }));
    this.desks.set(name, desk);
    this.deleted.delete(name);
    return Promise.resolve({ kind: 'moved', jobId: name } as const);
  }

  exampleJob() {
    return Promise.resolve(refuse('EXAMPLE_MISSING', { path: 'in memory' }));
  }

  close(): Promise<void> {
    return Promise.resolve();
  }
}

const BEAT_MS = 500;

export class FakeDesk implements ServedJob {
  readonly events: JobEvent[] = [];
  /** Commands that it was given and does not take. */
  readonly refused: JobCommand[] = [];
  readonly screens = new Set<string>();
  readonly #listeners = new Set<(news: JobNews) => void>();
  frame: Omit<LiveFrame, 'lastN' | 'jobId' | 'present'> = {
    link: { state: 'closed', simulated: false },
    box: { state: 'unknown' },
    output: {},
    waiting: { kind: 'nothing' },
  };

  readonly jobId: string;

  constructor(jobId: string, opening: Opening) {
    this.jobId = jobId;
    this.append({ kind: 'job-opened', schema: 1, jobId, ...opening }, 'test');
  }

  append(body: EventBody, by: string): number {
    const n = this.events.length + 1;
    this.events.push({ n, at: new Date(1_700_000_000_000 + n * 1000).toISOString(), by, ...body });
    this.#tell();
    return n;
  }

  show(part: Partial<FakeDesk['frame']>): void {
    this.frame = { ...this.frame, ...part };
    this.#tell();
  }

  get state(): JobState {
    const state = foldJob(this.events);
    if (state === undefined) throw new Error('a job begins with its opening');
    return state;
  }

  get live(): LiveFrame {
    return { jobId: this.jobId, lastN: this.events.length, present: [...this.screens], ...this.frame };
  }

  submit(command: JobCommand, by: string): Promise<Accepted | Refused> {
    if (command.kind !== 'add-note') {
      this.refused.push(command);
      return Promise.resolve(passedOn({ code: 'FAKE_ONLY_NOTES', message: 'the fake bench takes notes' }));
    }
    if (command.text === 'throw') return Promise.reject(new Error('asked to throw'));
    const upToN = this.append({ kind: 'note', text: command.text }, by);
    return Promise.resolve({ kind: 'accepted', events: this.events.slice(upToN - 1), upToN });
  }

  /** In memory there is no place for a picture. */
  readonly photographs: ServedJob['photographs'] = {
    add: () => Promise.resolve(refuse('PHOTOGRAPHS_FULL', { most: 0 })),
    one: (photographId) => Promise.resolve(refuse('PHOTOGRAPH_GONE', { photographId })),
    all: () => Promise.resolve([]),
    tidied: (added) => added,
  };

  /** As the real one: pressed again, it is the same stop. */
  stop(by: string): Promise<StopOutcome> {
    if (this.events.at(-1)?.kind !== 'stopped') this.append({ kind: 'stopped', outcome: 'no-box' }, by);
    return Promise.resolve('no-box');
  }

  seen(screen: string): void {
    this.screens.add(screen);
  }

  gone(screen: string): void {
    this.screens.delete(screen);
  }

  #tell(): void {
    for (const listener of this.#listeners) listener({ kind: 'live', frame: this.live });
  }

  /** As a live box does: it is heard again and again, changed or not. */
  subscribe(listener: (news: JobNews) => void): () => void {
    this.#listeners.add(listener);
    const beat = setInterval(() => {
      if (this.frame.link.state === 'live') listener({ kind: 'live', frame: this.live });
    }, BEAT_MS);
    return () => {
      clearInterval(beat);
      this.#listeners.delete(listener);
    };
  }
}
