import { faults } from '../../protocol';
import type { EventFields } from '../../protocol';
import { breakStepMs, limits as boxLimits, outputBreakMs } from '../board/reference-design';
import { CalibrationSession } from '../calibration/session';
import type { GuardContext, Trip } from '../guard/guard';
import { Guards } from '../guard/guards';
import { jobLimits } from '../guard/job-limits';
import { METER_SILENT_MS } from '../guard/meter-silent';
import { isOutputClosed } from '../ladder/table';
import { selfTestStepCount } from './arm';
import { Drive } from './drive';
import { LiveNumbers } from './live';
import type { Parts } from './parts';
import { jobOf, next } from './state';
import type { BoxEvent, BoxState, Job, Latched } from './state';
import type { Task } from './task';
import { TableWatch, emptyView } from './watch';
import { asI32, refuse } from './wire';
import type { Reply } from './wire';

/** How a channel reaches the host. */
export type ChannelVoice = {
  readonly reply: (token: number, reply: Reply) => void;
  readonly announce: (fields: EventFields<'tripped'>) => void;
};

const OPEN_SETTLE_MS = Math.max(outputBreakMs, breakStepMs);
/** Conversions begun before the output was at rest must have left the meter. */
const OPEN_METER_MS = 30;
/** The lease of a task that closes the output without a job. */
const TASK_LEASE_MS = 2000;

/** One output: its state, what it is doing, and the guards over it. */
export class Channel {
  readonly parts: Parts;
  readonly drive: Drive;
  readonly live: LiveNumbers;
  readonly session = new CalibrationSession();
  readonly watch: TableWatch;
  leaseMs = TASK_LEASE_MS;
  heardAtMs = 0;
  readonly #voice: ChannelVoice;
  readonly #guards = new Guards();
  readonly #view = emptyView();
  #state: BoxState = { name: 'safe' };
  #task: Task | undefined;
  #taskToken = 0;
  #openedAtMs = 0;
  #tickedAtMs = 0;
  #job: Job | undefined;
  /** What the contacts make, kept until they move or the table is another. */
  #made = NaN;
  #madeMask = -1;
  #context: GuardContext;

  constructor(parts: Parts, voice: ChannelVoice, nowMs: number) {
    this.parts = parts;
    this.drive = new Drive(parts);
    this.live = new LiveNumbers(parts);
    this.watch = new TableWatch(parts.table);
    this.#context = { limits: jobLimits.thermal, table: parts.table };
    this.#voice = voice;
    this.#latchBootFault(nowMs);
  }

  get state(): BoxState {
    return this.#state;
  }

  get job(): Job | undefined {
    return this.#job;
  }

  get isBusy(): boolean {
    return this.#task !== undefined;
  }

  /** Fault that waits to be cleared, 0 for none. */
  get faultCode(): number {
    return this.#state.name === 'tripped' ? faults[this.#state.latched.fault].number : 0;
  }

  /** Goes over to the next state; opening is done by whoever calls. */
  enter(event: BoxEvent): void {
    const before = this.#job;
    this.#state = next(this.#state, event);
    this.#job = jobOf(this.#state);
    if (this.#job === before) return;
    this.#context = { limits: this.#job?.limits ?? jobLimits.thermal, table: this.parts.table };
  }

  /** The element table is another one from now on. */
  tableChanged(): void {
    this.watch.accept();
    this.#madeMask = -1;
  }

  /** What the contacts of the present mask make, milliohm. */
  get madeMilliohm(): number {
    const { commandedMask } = this.parts.contacts;
    if (commandedMask !== this.#madeMask) {
      this.#madeMask = commandedMask;
      this.#made = this.parts.table.madeMilliohm(commandedMask);
    }
    return this.#made;
  }

  /** Begins something that will answer the request of `token` later. */
  begin(task: Task, token: number): undefined {
    this.#task = task;
    this.#taskToken = token;
    return undefined;
  }

  /** Takes a job on, after its self-test. */
  armed(job: Job): void {
    this.#guards.reset();
    // A measurement that was broken off by a fault may have left it elsewhere, where no guard sees the current.
    this.parts.meter.fix(undefined);
    this.leaseMs = job.limits.leaseMs;
    this.enter({ name: 'armed', job });
  }

  /** Opens the output at once and leaves the job. A task that was under way is broken off. */
  open(nowMs: number): void {
    this.#drop(nowMs);
    this.#breakOff(undefined);
    this.enter({ name: 'opened' });
  }

  /** Opens the output at once but keeps the job: a setting that proved too much. */
  backToArmed(nowMs: number): void {
    const { job } = this;
    this.#drop(nowMs);
    if (job === undefined) return;
    this.enter({ name: 'opened' });
    this.enter({ name: 'armed', job });
  }

  /** Opens the output, latches the fault, tells the host. */
  trip({ fault, measured, limit }: Trip, nowMs: number): void {
    const before = this.#state;
    const task = this.#task;
    const boxMs = nowMs >>> 0;
    // Latched first: from here on no coil is fed, whatever fails below.
    this.#task = undefined;
    this.enter({ name: 'fault', latched: { fault, measured: asI32(measured), limit: asI32(limit), boxMs } });
    try {
      this.#drop(nowMs);
      this.#endOf(task, refuse('TRIPPED', faults[fault].number));
    } finally {
      if (this.#state !== before) this.announceFault();
    }
  }

  announceFault(): void {
    if (this.#state.name !== 'tripped') return;
    const { fault, measured, limit, boxMs } = this.#state.latched;
    this.#voice.announce({ channel: 0, faultCode: faults[fault].number, measured, limit, boxMs });
  }

  /** One turn of the main loop: meter, guards, then what is under way; last the pulse for the hardware dead-man. */
  tick(nowMs: number): void {
    const isFresh = this.#readMeter(nowMs);
    this.#look(nowMs, isFresh);
    this.#work(nowMs, isFresh);
    // Without a fresh meter no pulse: the hardware then opens the output even if every guard has failed to.
    if (this.#wantsCoils() && nowMs - this.parts.meter.sampledAtMs <= METER_SILENT_MS)
      this.parts.coils.pulse();
  }

  #readMeter(nowMs: number): boolean {
    try {
      return this.parts.meter.tick(nowMs);
    } catch {
      // The bus failed: the numbers grow old and the guard acts on their age.
      return false;
    }
  }

  #look(nowMs: number, isFresh: boolean): void {
    this.#fillView(nowMs, isFresh);
    const trip = this.#guards.check(this.#view, this.#context);
    if (trip !== undefined) this.trip(trip, nowMs);
    if (!this.watch.isIntact()) {
      this.trip({ fault: 'CALIBRATION_INVALID', measured: this.parts.goodCopyCount, limit: 2 }, nowMs);
    }
    if (isFresh && (this.#view.isSettled || this.#view.isOutputAtRestOpen)) this.live.sample(nowMs);
    if (!this.#view.isSettled && !this.#view.isOutputAtRestOpen) this.live.restart();
  }

  #work(nowMs: number, isFresh: boolean): void {
    if (this.#state.name !== 'driving') this.parts.contacts.tick(nowMs);
    const task = this.#task;
    const reply = task?.tick(nowMs, isFresh);
    if (reply !== undefined && this.#task === task) this.#finish(reply, nowMs);
    if (task === undefined) this.#keepDriving(nowMs, isFresh);
  }

  /** Between requests the drive goes on trying to take the limiter out. */
  #keepDriving(nowMs: number, isFresh: boolean): void {
    if (this.#state.name !== 'driving') return;
    const outcome = this.drive.tick(nowMs, isFresh, this.#state.job.limits);
    if (typeof outcome === 'string') return;
    const { refusal, detail: measured, limit } = outcome;
    const fault = refusal === 'PREDICTED_CURRENT' ? 'CURRENT_HIGH' : 'ELEMENT_POWER';
    this.trip({ fault, measured, limit }, nowMs);
  }

  #finish(reply: Reply, nowMs: number): void {
    this.#task?.end();
    this.#task = undefined;
    // Without a job nothing may stay closed, whatever the task was.
    if (this.job === undefined && isOutputClosed(this.parts.contacts.commandedMask)) this.#drop(nowMs);
    this.#voice.reply(this.#taskToken, reply);
    if (reply.kind === 'refuse' && reply.refusal === 'SELF_TEST')
      this.trip({ fault: 'SELF_TEST', measured: reply.detail, limit: selfTestStepCount }, nowMs);
  }

  #breakOff(reply: Reply | undefined): void {
    const task = this.#task;
    this.#task = undefined;
    this.#endOf(task, reply);
  }

  #endOf(task: Task | undefined, reply: Reply | undefined): void {
    task?.end();
    if (task !== undefined && reply !== undefined) this.#voice.reply(this.#taskToken, reply);
  }

  #drop(nowMs: number): void {
    this.#openedAtMs = nowMs;
    this.parts.contacts.dropAll(nowMs, OPEN_SETTLE_MS);
    this.parts.source.off();
    this.parts.meter.ripple.restart();
    this.drive.stop();
    this.live.restart();
  }

  #wantsCoils(): boolean {
    return this.job !== undefined || this.#task?.wantsCoils === true;
  }

  #fillView(nowMs: number, isFresh: boolean): void {
    const { drive } = this;
    const { contacts, meter, coils } = this.parts;
    const view = this.#view;
    const job = this.#job;
    const { commandedMask } = contacts;
    const isClosed = isOutputClosed(commandedMask);
    view.elapsedMs = nowMs - this.#tickedAtMs;
    this.#tickedAtMs = nowMs;
    view.isFresh = isFresh && meter.isOutputPair;
    view.isArmed = job !== undefined || this.#task?.isGuarded === true;
    view.isOutputClosed = isClosed;
    view.isDriving = isClosed && job !== undefined;
    view.isSettled = view.isDriving && !contacts.isMoving(nowMs) && drive.isSettled;
    view.isOutputAtRestOpen = !isClosed && nowMs - this.#openedAtMs > OPEN_SETTLE_MS + OPEN_METER_MS;
    view.isCalibrated = this.parts.calibration !== undefined;
    view.terminalMicrovolt = meter.terminalMicrovolt;
    view.currentMicroamp = meter.currentMicroamp;
    view.peakLimitMilliamp = drive.peakLimitMilliamp(this.#context.limits);
    view.meterAgeMs = nowMs - meter.sampledAtMs;
    view.contactMask = commandedMask;
    view.madeMilliohm = this.madeMilliohm;
    view.hostSilentMs = nowMs - this.heardAtMs;
    view.leaseMs = job === undefined ? TASK_LEASE_MS : this.leaseMs;
    view.railMillivolt = coils.railMillivolt();
    view.isRailWanted = this.#wantsCoils();
    view.isHardwareTripped = coils.isHardwareTripped();
  }

  #latchBootFault(nowMs: number): void {
    const { cause, restartCount } = this.parts.device.boot;
    if (cause === 'power') return;
    const boxMs = nowMs >>> 0;
    const latched: Latched =
      cause === 'watchdog'
        ? { fault: 'WATCHDOG_RESET', measured: restartCount, limit: 0, boxMs }
        : { fault: 'BROWN_OUT', measured: 0, limit: boxLimits.railMinMillivolt, boxMs };
    // The voice is not there yet; the box announces what was latched when it is complete.
    this.enter({ name: 'fault', latched });
  }
}
