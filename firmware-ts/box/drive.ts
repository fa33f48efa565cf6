import { contactBits } from '../board/reference-design';
import { predict } from '../guard/prediction';
import type { Prediction } from '../guard/prediction';
import type { JobLimits } from '../guard/job-limits';
import { isLimiterIn } from '../ladder/table';
import type { ElementTable } from '../ladder/table';
import type { Contacts } from '../ladder/contacts';
import type { Meter } from '../meter/meter';

/** The first sample may have begun before the contacts came to rest; two more must agree. */
const SAMPLES_TO_SETTLE = 3;
/** Two samples in a row must agree this well before anything is predicted from them. */
const STEADY_FRACTION = 0.05;

export type DriveParts = { readonly contacts: Contacts; readonly meter: Meter; readonly table: ElementTable };

/** `limited`: made, but with the limiter still in the path because nothing proves that it may come out. */
export type DriveOutcome = 'moving' | 'made' | 'limited' | Extract<Prediction, { kind: 'too-much' }>;

/**
 * Brings the output from one resistance to another. The limiter goes in first and comes out only when volts and amps,
 * measured with it, prove that the setting without it is bearable; a present operating point that proves it already
 * spares the gauge the detour.
 */
export class Drive {
  readonly #parts: DriveParts;
  #wantedMask = 0;
  #restSample = -1;
  #lastMicroamp = NaN;
  #isSteady = false;
  #openCircuitMicrovolt = 0;

  constructor(parts: DriveParts) {
    this.#parts = parts;
  }

  get wantedMask(): number {
    return this.#wantedMask;
  }

  /** Contacts at rest and the meter has followed. */
  get isSettled(): boolean {
    return this.#restSample >= 0 && this.#parts.meter.sampleCount - this.#restSample >= SAMPLES_TO_SETTLE;
  }

  /** Highest voltage seen with the output open: from it comes the source resistance of the circuit. */
  noteOpenCircuit(microvolt: number): void {
    this.#openCircuitMicrovolt = microvolt;
  }

  /** Whether a setting would be bearable, judged from the present operating point. */
  foresee(contactMask: number, limits: JobLimits): Prediction {
    if (!this.isSettled || !this.#isSteady) return { kind: 'unknown' };
    const { meter, table } = this.#parts;
    const point = {
      terminalMicrovolt: meter.terminalMicrovolt,
      currentMicroamp: meter.currentMicroamp,
      openCircuitMicrovolt: this.#openCircuitMicrovolt,
    };
    return predict(point, { contactMask, table }, limits);
  }

  /** Starts on the way to a mask. */
  go(contactMask: number, limits: JobLimits, nowMs: number): void {
    const isProven = isLimiterIn(contactMask) || this.foresee(contactMask, limits).kind === 'bearable';
    this.#wantedMask = contactMask;
    this.#move(isProven ? contactMask : contactMask & ~contactBits.limiterBypassMask, nowMs);
  }

  /** To be called at every tick while driving. */
  tick(nowMs: number, isFresh: boolean, limits: JobLimits): DriveOutcome {
    const { contacts, meter } = this.#parts;
    contacts.tick(nowMs);
    if (contacts.isMoving(nowMs)) return 'moving';
    if (this.#restSample < 0) this.#restSample = meter.sampleCount;
    if (isFresh) this.#look(meter.currentMicroamp);
    if (!this.isSettled) return 'moving';
    if (contacts.commandedMask === this.#wantedMask) return 'made';
    return isFresh ? this.#prove(limits, nowMs) : 'limited';
  }

  /** Forgets everything, after the output was opened. */
  stop(): void {
    this.#restSample = -1;
    this.#wantedMask = 0;
    this.#isSteady = false;
  }

  #look(microamp: number): void {
    this.#isSteady = Math.abs(microamp - this.#lastMicroamp) <= STEADY_FRACTION * Math.abs(microamp);
    this.#lastMicroamp = microamp;
  }

  #prove(limits: JobLimits, nowMs: number): DriveOutcome {
    const prediction = this.foresee(this.#wantedMask, limits);
    switch (prediction.kind) {
      case 'bearable':
        this.#move(this.#wantedMask, nowMs);
        return 'moving';
      case 'unknown':
        return 'limited';
      case 'too-much':
        return prediction;
    }
  }

  #move(contactMask: number, nowMs: number): void {
    const { contacts, meter } = this.#parts;
    if (contacts.commandedMask === contactMask && this.#restSample >= 0) return;
    this.#restSample = -1;
    this.#lastMicroamp = NaN;
    this.#isSteady = false;
    meter.ripple.restart();
    contacts.moveTo(contactMask, nowMs);
  }
}
