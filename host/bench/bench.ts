import { join } from 'node:path';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import type { JobListing, Opening } from '../job';
import { reEstimateJob } from '../job/proof/re-estimate-of-job';
import { within, type BoxLink, type LinkClock } from '../link';
import {
  archiveJob,
  createJobFolder,
  deleteJob,
  exampleJob,
  jobFolder,
  JobList,
  openJournal,
  restoreJob,
  type Journal,
} from '../store';
import type { Box } from './box/box';
import { Claims, type StopReport } from './claims';
import type { BenchClock } from './clock';
import { systemBenchClock } from './clock';
import type { BoxUse, ReEstimator } from './decide/decide-command';
import { OpenJob, type StopOutcome } from './open-job';
import { GrowingState } from './growing-state';
import type { InCluster, StepGate } from './sweep/sweep-run-parts';

export type BenchOptions = {
  readonly jobsFolder: string;
  /** Kept by the caller, who also closes it after the bench. */
  readonly link: BoxLink;
  /** Where further boxes are plugged in, or may be. */
  readonly furtherLinks?: readonly BoxLink[];
  readonly clock?: BenchClock;
  /** The time the screens live in, where bench and box are lent another. */
  readonly screenClock?: LinkClock;
  /** How many times faster than a real one the needle lives (simulated boxes only): its waits shrink, nothing else. */
  readonly needleSpeed?: number;
  /** The same for the jobs that are marked as simulated, whatever the others do. */
  readonly simulatedSpeed?: number;
  /** Where the finished job lies that comes with the program. */
  readonly exampleFolder?: string;
  /** Reckons on a thread of its own; left out, here and now. */
  readonly reEstimate?: ReEstimator;
  /** A sweep is about to drive: on a simulated bench somebody puts the clips on the gauge. */
  readonly clipsToGauge?: () => void;
};

export type Bench = {
  jobs(): Promise<JobListing>;
  /** Makes a job's folder and opens it. */
  createJob(opening: Opening, by: string): Promise<OpenJob | Refused>;
  /** The same desk for everyone who opens the same job. */
  openJob(jobId: string): Promise<OpenJob | Refused>;
  /** A job of the same gauge, vehicle and place, with nothing measured yet. */
  duplicateJob(jobId: string, by: string): Promise<OpenJob | Refused>;
  archiveJob(jobId: string, isArchived: boolean): ReturnType<typeof archiveJob>;
  /** Refuses also JOB_AT_WORK. What was deleted is kept and comes back by `restoreJob`. */
  deleteJob(jobId: string): ReturnType<typeof deleteJob>;
  restoreJob(name: string): ReturnType<typeof restoreJob>;
  /** The finished job that came with the program. */
  exampleJob(): ReturnType<typeof exampleJob>;
  /** Says which box is on this job's gauge, where there are several. Refuses BOX_GIVEN_AWAY, JOB_AT_WORK. */
  assignBox(jobId: string, boxSerial: number | undefined): 'assigned' | Refused;
  /** This job is swept together with others from now on, or by itself again. */
  putInCluster(jobId: string, place: InCluster | undefined): void;
  /** Leaves every box to these jobs, a cluster's, until the returned function is called. Refuses BOX_BUSY. */
  holdBoxes(title: string, jobIds: readonly string[]): (() => void) | Refused;
  /** Told of every stop before any box is: what is done with several gauges ends with it. */
  onStop(listener: () => void): void;
  /** Every box that is plugged in, with its number once it has greeted. */
  boxes(): readonly { readonly box: Box; readonly boxSerial: number | undefined }[];
  /** Opens every output, whichever job drives. Pressed again while it opens, it is the same stop. */
  stopAll(by: string): Promise<StopOutcome>;
  /** The same, with what each box that is plugged in answered. None waits for another. */
  stopEach(by: string): Promise<StopReport>;
  /** Opens the output first; then ends every desk by itself and gives back the locks. Never rejects, whatever failed before. */
  close(): Promise<void>;
};

/** A link repeats an unanswered request for three quarters of a second before it gives the box up. */
const OPEN_LIMIT_MS = 1_500;
const DESK_LIMIT_MS = 4_000;
/** A job that nobody has looked at for so long is let go, so that another program may write it. */
const UNUSED_MS = 60_000;
const LOOK_EVERY_MS = 20_000;

const closeDesk = async (opening: Promise<OpenJob | Refused>): Promise<void> => {
  const desk = await opening;
  if (desk instanceof OpenJob) await desk.close();
};

class OpenBench implements Bench {
  readonly #jobsFolder: string;
  readonly #simulatedSpeed: number | undefined;
  readonly #exampleFolder: string;
  readonly #list: JobList;
  readonly #clock: BenchClock;
  readonly #screenClock: LinkClock;
  readonly #claims: Claims;
  readonly #inCluster = new Map<string, InCluster>();
  readonly #stopListeners = new Set<() => void>();
  readonly #needleSpeed: number;
  readonly #clipsToGauge: () => void;
  readonly #reEstimate: ReEstimator;
  readonly #desks = new Map<string, Promise<OpenJob | Refused>>();
  readonly #open = new Map<string, OpenJob>();
  readonly #usedAtMs = new Map<string, number>();
  readonly #leaving = new Map<string, Promise<void>>();
  #cancelLooking: () => void = () => undefined;
  #closing: Promise<void> | undefined;
  #stopping: Promise<StopReport> | undefined;

  constructor(options: BenchOptions) {
    this.#jobsFolder = options.jobsFolder;
    this.#simulatedSpeed = options.simulatedSpeed;
    this.#exampleFolder = options.exampleFolder ?? options.jobsFolder;
    this.#list = new JobList(options.jobsFolder);
    this.#clock = options.clock ?? systemBenchClock;
    this.#screenClock = options.screenClock ?? this.#clock;
    this.#needleSpeed = options.needleSpeed ?? 1;
    this.#clipsToGauge = options.clipsToGauge ?? (() => undefined);
    this.#reEstimate =
      options.reEstimate ?? ((state, senderId) => Promise.resolve(reEstimateJob(state, senderId)));
    this.#claims = new Claims([options.link, ...(options.furtherLinks ?? [])]);
    this.#lookLater();
  }

  jobs(): Promise<JobListing> {
    return this.#list.list();
  }

  async createJob(opening: Opening, by: string): Promise<OpenJob | Refused> {
    const created = await createJobFolder(this.#jobsFolder, opening, { atIso: this.#clock.nowIso(), by });
    return created.kind === 'refused' ? created : this.openJob(created.jobId);
  }

  async openJob(jobId: string): Promise<OpenJob | Refused> {
    this.#usedAtMs.set(jobId, this.#clock.nowMs());
    const opening = this.#desks.get(jobId) ?? this.#tryToOpen(jobId);
    this.#desks.set(jobId, opening);
    const desk = await opening;
    // A job that could not be opened may be tried again, by whoever comes next.
    if (!(desk instanceof OpenJob)) {
      if (this.#desks.get(jobId) !== opening) return desk;
      this.#desks.delete(jobId);
      this.#usedAtMs.delete(jobId);
    } else if (!(await desk.goesOn())) return this.#openAnew(jobId, desk);
    return desk;
  }

  async duplicateJob(jobId: string, by: string): Promise<OpenJob | Refused> {
    const desk = await this.openJob(jobId);
    if (!(desk instanceof OpenJob)) return desk;
    const { title, gauge, printed, vehicle, place, simulated } = desk.state;
    return this.createJob({ title, gauge: printed ?? gauge, vehicle, place, simulated }, by);
  }

  archiveJob(jobId: string, isArchived: boolean): ReturnType<typeof archiveJob> {
    return archiveJob(this.#jobsFolder, jobId, isArchived);
  }

  async deleteJob(jobId: string): ReturnType<typeof deleteJob> {
    const desk = this.#open.get(jobId);
    if (desk?.isAtWork === true) return refuse('JOB_AT_WORK', { title: desk.state.title });
    if (desk !== undefined) this.#letGo(jobId, desk);
    await this.#leaving.get(jobId);
    return deleteJob(this.#jobsFolder, jobId);
  }

  restoreJob(name: string): ReturnType<typeof restoreJob> {
    return restoreJob(this.#jobsFolder, name);
  }

  exampleJob(): ReturnType<typeof exampleJob> {
    return exampleJob(this.#jobsFolder, this.#exampleFolder);
  }

  assignBox(jobId: string, boxSerial: number | undefined): 'assigned' | Refused {
    return this.#claims.assign(jobId, boxSerial);
  }

  putInCluster(jobId: string, place: InCluster | undefined): void {
    if (place === undefined) this.#inCluster.delete(jobId);
    else this.#inCluster.set(jobId, place);
  }

  holdBoxes(title: string, jobIds: readonly string[]): (() => void) | Refused {
    return this.#claims.hold(title, jobIds);
  }

  onStop(listener: () => void): void {
    this.#stopListeners.add(listener);
  }

  boxes(): readonly { readonly box: Box; readonly boxSerial: number | undefined }[] {
    const { berths } = this.#claims;
    return berths.plugged.map((berth) => ({ box: berth.box, boxSerial: berths.serialOf(berth) }));
  }

  async stopAll(by: string): Promise<StopOutcome> {
    return (await this.stopEach(by)).outcome;
  }

  stopEach(by: string): Promise<StopReport> {
    for (const listener of this.#stopListeners) listener();
    const desks = [...this.#open.values()];
    const isDriving = desks.some((desk) => desk.isDriving);
    for (const desk of desks) desk.callOff();
    if (this.#stopping !== undefined && !isDriving) return this.#stopping;
    const stopping = this.#claims.stopBoxes(by).finally(() => {
      if (this.#stopping === stopping) this.#stopping = undefined;
    });
    this.#stopping = stopping;
    return stopping;
  }

  close(): Promise<void> {
    this.#closing ??= this.#end();
    return this.#closing;
  }

  async #end(): Promise<void> {
    this.#cancelLooking();
    // All desks let go before the first answer is waited for; the box is told even when no desk knows that it drives.
    for (const desk of this.#open.values()) desk.letGo();
    await Promise.all(this.#claims.berths.all.map(({ box }) => within(OPEN_LIMIT_MS, () => box.open())));
    const leaving = [...this.#leaving.values()].map((left) => within(DESK_LIMIT_MS, () => left));
    const closing = [...this.#desks.values()].map((opening) =>
      within(DESK_LIMIT_MS, () => closeDesk(opening)),
    );
    await Promise.all([...closing, ...leaving]);
    this.#claims.end();
    this.#desks.clear();
    for (const desk of [...this.#open.values()]) this.#forget(desk);
  }

  #lookLater(): void {
    this.#cancelLooking = this.#clock.after(LOOK_EVERY_MS, () => {
      this.#lookLater();
      for (const [jobId, desk] of [...this.#open]) this.#letGoIfUnused(jobId, desk);
    });
  }

  #letGoIfUnused(jobId: string, desk: OpenJob): void {
    const nowMs = this.#clock.nowMs();
    if (desk.isUsed) this.#usedAtMs.set(jobId, nowMs);
    if (nowMs - (this.#usedAtMs.get(jobId) ?? nowMs) >= UNUSED_MS) this.#letGo(jobId, desk);
  }

  #letGo(jobId: string, desk: OpenJob): void {
    this.#forget(desk);
    this.#desks.delete(jobId);
    this.#usedAtMs.delete(jobId);
    const left = desk.close().finally(() => this.#leaving.delete(jobId));
    this.#leaving.set(jobId, left);
  }

  #forget(desk: OpenJob): void {
    if (this.#open.get(desk.jobId) === desk) this.#open.delete(desk.jobId);
    this.#claims.leave(desk);
  }

  /** What throws while a job is opened is a refusal too: it must not stay in the way of the next try. */
  async #tryToOpen(jobId: string): Promise<OpenJob | Refused> {
    if (this.#closing !== undefined) return refuse('HOST_ENDING');
    try {
      const desk = await this.#openDesk(jobId);
      // The host was told to end meanwhile: nobody else would ever give back the lock.
      if (this.#closing !== undefined && desk instanceof OpenJob) await desk.close();
      return desk;
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      return refuse('JOB_NOT_OPENED', { path: join(this.#jobsFolder, jobId), why });
    }
  }

  async #openAnew(jobId: string, desk: OpenJob): Promise<OpenJob | Refused> {
    await desk.close();
    if (this.#open.get(jobId) === desk) {
      this.#forget(desk);
      this.#desks.delete(jobId);
    }
    return this.openJob(jobId);
  }

  async #openDesk(jobId: string): Promise<OpenJob | Refused> {
    await this.#leaving.get(jobId);
    const folder = jobFolder(this.#jobsFolder, jobId);
    if (typeof folder !== 'string') return folder;
    const journal = await openJournal(folder, () => this.#clock.nowIso());
    if (journal.kind === 'refused') return journal;
    try {
      return await this.#deskOf(jobId, journal);
    } catch (error) {
      // Left open it would stay locked, and the next try would find it in use.
      const desk = this.#open.get(jobId);
      if (desk !== undefined) this.#forget(desk);
      await journal.close();
      throw error;
    }
  }

  async #deskOf(jobId: string, journal: Journal): Promise<OpenJob | Refused> {
    const growing = await GrowingState.of(journal.events);
    if (growing === undefined) {
      await journal.close();
      return refuse('JOURNAL_NOT_A_JOB', { where: join(journal.folder, 'job.ndjson') });
    }
    const [clock, screenClock] = [this.#clock, this.#screenClock];
    const needleSpeed =
      growing.now.simulated && this.#simulatedSpeed !== undefined ? this.#simulatedSpeed : this.#needleSpeed;
    const place = this.#claims.placeFor(jobId);
    const reEstimate = this.#reEstimate;
    const parts = { jobId, journal, box: place.box, clock, screenClock, needleSpeed, reEstimate };
    const gate: StepGate = async (step, signal) => this.#inCluster.get(jobId)?.gate(step, signal);
    const neighbours = () => this.#inCluster.get(jobId)?.neighbours() ?? [];
    const claim = (claimant: OpenJob, use: BoxUse): Refused | undefined => this.#claim(claimant, use);
    const choices = () => this.#claims.choicesFor(jobId);
    const desk = new OpenJob({ ...parts, gate, neighbours, claim, choices }, growing);
    this.#claims.enter(desk, place);
    this.#open.set(jobId, desk);
    desk.waitForPerson();
    return desk;
  }

  #claim(desk: OpenJob, use: BoxUse): Refused | undefined {
    if (this.#closing !== undefined) return refuse('HOST_ENDING');
    const refused = this.#claims.claim(desk);
    if (refused !== undefined) return refused;
    if (use === 'drive') this.#clipsToGauge();
    return undefined;
  }
}

/**
 * The bench: jobs on disk, one box or several, a desk for each open job. Nothing is driven before a person starts or resumes a
 * sweep in this run of the program.
 */
export const openBench = (options: BenchOptions): Bench => new OpenBench(options);
