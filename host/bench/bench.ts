import { join } from 'node:path';
import { refuse, type Refused } from '../core/result';
import { foldJob, type JobListing, type Opening } from '../job';
import type { BoxLink } from '../link';
import { createJobFolder, jobFolder, listJobs, openJournal } from '../store';
import { Box } from './box';
import type { BenchClock } from './clock';
import { systemBenchClock } from './clock';
import type { BoxUse } from './decide-command';
import { JobDesk } from './desk';

export type BenchOptions = {
  readonly jobsFolder: string;
  /** Kept by the caller, who also closes it after the bench. */
  readonly link: BoxLink;
  readonly clock?: BenchClock;
  /** How many times faster than a real one the needle lives (simulated boxes only): its waits shrink, nothing else. */
  readonly needleSpeed?: number;
  /** A sweep is about to drive: on a simulated bench somebody puts the clips on the gauge. */
  readonly clipsToGauge?: () => void;
};

export type Bench = {
  jobs(): Promise<JobListing>;
  /** Makes a job's folder and opens it. */
  createJob(opening: Opening, by: string): Promise<JobDesk | Refused>;
  /** The same desk for everyone who opens the same job. */
  openJob(jobId: string): Promise<JobDesk | Refused>;
  /** Opens the output, ends every desk, gives back the locks. */
  close(): Promise<void>;
};

class OpenBench implements Bench {
  readonly #jobsFolder: string;
  readonly #clock: BenchClock;
  readonly #box: Box;
  readonly #needleSpeed: number;
  readonly #clipsToGauge: () => void;
  readonly #desks = new Map<string, Promise<JobDesk | Refused>>();
  readonly #open = new Map<string, JobDesk>();
  readonly #unsubscribe: () => void;
  #driver: JobDesk | undefined;

  constructor(options: BenchOptions) {
    this.#jobsFolder = options.jobsFolder;
    this.#clock = options.clock ?? systemBenchClock;
    this.#box = new Box(options.link);
    this.#needleSpeed = options.needleSpeed ?? 1;
    this.#clipsToGauge = options.clipsToGauge ?? (() => undefined);
    this.#unsubscribe = options.link.subscribe((event) => {
      this.#box.heard(event);
      for (const desk of this.#open.values()) desk.heard(event, desk === this.#driver);
    });
  }

  jobs(): Promise<JobListing> {
    return listJobs(this.#jobsFolder);
  }

  async createJob(opening: Opening, by: string): Promise<JobDesk | Refused> {
    const created = await createJobFolder(this.#jobsFolder, opening, { atIso: this.#clock.nowIso(), by });
    return created.kind === 'refused' ? created : this.openJob(created.jobId);
  }

  async openJob(jobId: string): Promise<JobDesk | Refused> {
    const open = this.#desks.get(jobId) ?? this.#openDesk(jobId);
    this.#desks.set(jobId, open);
    const desk = await open;
    // A job that could not be opened may be tried again.
    if (!(desk instanceof JobDesk)) this.#desks.delete(jobId);
    return desk;
  }

  async close(): Promise<void> {
    this.#unsubscribe();
    const desks = await Promise.all(this.#desks.values());
    for (const desk of desks) if (desk instanceof JobDesk) await desk.close();
    this.#desks.clear();
    this.#open.clear();
  }

  async #openDesk(jobId: string): Promise<JobDesk | Refused> {
    const folder = jobFolder(this.#jobsFolder, jobId);
    if (typeof folder !== 'string') return folder;
    const journal = await openJournal(folder, () => this.#clock.nowIso());
    if (journal.kind === 'refused') return journal;
    const state = foldJob(journal.events);
    if (state === undefined) {
      await journal.close();
      return refuse('JOURNAL_NOT_A_JOB', `${join(folder, 'job.ndjson')}: this is not the journal of a job`);
    }
    const parts = { jobId, journal, box: this.#box, clock: this.#clock, needleSpeed: this.#needleSpeed };
    const desk = new JobDesk({ ...parts, claim: (claimant, use) => this.#claim(claimant, use) }, state);
    this.#open.set(jobId, desk);
    await desk.pauseAfterRestart();
    return desk;
  }

  #claim(desk: JobDesk, use: BoxUse): Refused | undefined {
    const driver = this.#driver;
    if (driver !== undefined && driver !== desk && driver.isDriving) {
      return refuse(
        'BOX_BUSY',
        `the box is driving another job ("${driver.state.title}"); pause that sweep first`,
      );
    }
    if (driver !== desk) driver?.restBox('another job uses the box');
    this.#driver = desk;
    if (use === 'drive') this.#clipsToGauge();
    return undefined;
  }
}

/**
 * The bench: jobs on disk, one box, a desk for each open job. Nothing is driven before a person starts or resumes a
 * sweep in this run of the program.
 */
export const openBench = (options: BenchOptions): Bench => new OpenBench(options);
