import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { openBench, OpenJob, type Bench } from '../../host/bench';
import type { JobCommand, JobEvent, LiveFrame, Opening } from '../../host/job';
import { coolantGauge } from '../job/sample';
import { scratchFolder } from '../store/scratch';
import { FakeBox, type FakeGauge } from './fake-box';
import { runUntil, VirtualClock } from './virtual-clock';

/** Invented: 50 to 120 degC over 320 to 22 ohm, straight in ln R, with stops a little outside. */
export const coolantReading = (ohm: number): number => 50 + (70 * Math.log(320 / ohm)) / Math.log(320 / 22);

export const slowThermal: FakeGauge = {
  restAt: (ohm) => (ohm === undefined ? 45 : Math.min(125, Math.max(45, coolantReading(ohm)))),
  tauMs: 8_000,
  friction: 0.5,
};

export const opening: Opening = {
  title: 'Harrow Six reads high',
  gauge: { ...coolantGauge, marks: [...coolantGauge.marks] },
  vehicle: 'Harrow Six saloon (1964)',
  place: 'bench',
  simulated: false,
};

export const ME = 'laptop';

/** A bench with one open job, a fake box, and a person who is always there. */
export class TestBench {
  readonly clock: VirtualClock;
  readonly box: FakeBox;
  readonly jobsFolder: string;
  bench: Bench;
  desk: OpenJob;
  leave: () => void;

  constructor(parts: { clock: VirtualClock; box: FakeBox; jobsFolder: string; bench: Bench; desk: OpenJob }) {
    this.clock = parts.clock;
    this.box = parts.box;
    this.jobsFolder = parts.jobsFolder;
    this.bench = parts.bench;
    this.desk = parts.desk;
    this.leave = this.desk.attend(ME);
  }

  /** Commands by a person, or the test fails with the refusal. */
  async do(command: JobCommand, by = ME): Promise<readonly JobEvent[]> {
    const result = await this.desk.submit(command, by);
    if (result.kind === 'refused') throw new Error(`${result.code}: ${result.message}`);
    return result.events;
  }

  async refused(command: JobCommand, by = ME): Promise<string> {
    const result = await this.desk.submit(command, by);
    return result.kind === 'refused' ? result.code : 'accepted';
  }

  pass(withinMs: number, isDone?: () => boolean): Promise<boolean> {
    return runUntil(this.clock, () => this.desk.idle(), {
      withinMs,
      ...(isDone === undefined ? {} : { isDone }),
    });
  }

  get waiting(): LiveFrame['waiting'] {
    return this.desk.live.waiting;
  }

  /** Until the bench asks; the step it asks about. */
  async asked(withinMs = 400_000): Promise<string> {
    await this.pass(withinMs, () => this.waiting.kind === 'answer');
    const { waiting } = this;
    if (waiting.kind !== 'answer') throw new Error(`not asked: ${JSON.stringify(this.desk.live)}`);
    return waiting.stepId;
  }

  /** Reads the needle as it is. */
  async read(): Promise<string> {
    const stepId = await this.asked();
    await this.do({ kind: 'give-reading', stepId, reading: this.box.look() });
    return stepId;
  }

  kinds(): string[] {
    return this.desk.events.map((event) => event.kind);
  }

  /** The program dies without a word and is started again. */
  async crash(): Promise<void> {
    const { jobId } = this.desk;
    this.leave();
    await this.bench.close();
    this.bench = openBench({ jobsFolder: this.jobsFolder, link: this.box, clock: this.clock });
    this.desk = await deskOf(this.bench.openJob(jobId));
    this.leave = this.desk.attend(ME);
  }
}

export const deskOf = async (open: ReturnType<Bench['openJob']>): Promise<OpenJob> => {
  const desk = await open;
  if (!(desk instanceof OpenJob)) throw new Error(`${desk.code}: ${desk.message}`);
  return desk;
};

export const testBench = async (
  gauge: FakeGauge = slowThermal,
  start: Opening = opening,
): Promise<TestBench> => {
  const clock = new VirtualClock();
  const box = new FakeBox(clock, gauge);
  const jobsFolder = join(await scratchFolder(), 'jobs');
  const bench = openBench({ jobsFolder, link: box, clock });
  const desk = await deskOf(bench.createJob(start, ME));
  const made = new TestBench({ clock, box, jobsFolder, bench, desk });
  onTestFinished(() => made.bench.close());
  return made;
};
