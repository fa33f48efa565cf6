import { contactBits } from '../board/reference-design';
import { predict } from '../guard/prediction';
import type { Feed, Prediction } from '../guard/prediction';
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
  #foreseen:
    | { readonly contactMask: number; readonly sampleCount: number; readonly prediction: Prediction }
    | undefined;
  #feed: Feed = 'unknown';
  #peakMilliamp = 0;
  #wantedPeakMilliamp = 0;
  /** The setting was proved in the turn before: proving and moving take a turn each. */
  #isProved = false;

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

  /** What one sample of current may show now, mA: more than the job's limit only where pulses were foreseen. */
  peakLimitMilliamp(limits: JobLimits): number {
    return this.#peakMilliamp > limits.currentLimitMilliamp
      ? this.#peakMilliamp
      : limits.currentLimitMilliamp;
  }

  /** Keeps what the ripple window knows, because every move makes it begin anew. */
  noteFeed(): void {
    const { isKnown, isPulsing, dutyPermille } = this.#parts.meter.ripple.evaluate();
    if (isKnown) this.#feed = isPulsing ? { duty: dutyPermille / 1000 } : 'steady';
  }

  /** Whether a setting would be bearable, judged from the present operating point. */
  foresee(contactMask: number, limits: JobLimits): Prediction {
    if (!this.isSettled || !this.#isSteady) return { kind: 'unknown' };
    const { meter, table } = this.#parts;
    const last = this.#foreseen;
    // A request asks twice: before it is begun and when it is.
    if (last?.contactMask === contactMask && last.sampleCount === meter.sampleCount) return last.prediction;
    const point = {
      terminalMicrovolt: meter.terminalMicrovolt,
      currentMicroamp: meter.currentMicroamp,
      openCircuitMicrovolt: this.#openCircuitMicrovolt,
    };
    this.noteFeed();
    const prediction = predict(point, { contactMask, table }, limits, this.#feed);
    this.#foreseen = { contactMask, sampleCount: meter.sampleCount, prediction };
    return prediction;
  }

  /** Starts on the way to a mask. */
  go(contactMask: number, limits: JobLimits, nowMs: number): void {
    const foreseen = this.foresee(contactMask, limits);
    const isBearable = foreseen.kind === 'bearable';
    // Asked again for what is there: between two pulses nothing can be foreseen, and nothing has to be.
    const isThere = contactMask === this.#parts.contacts.commandedMask;
    this.#allow(isBearable ? foreseen.peakMilliamp : isThere ? this.#peakMilliamp : 0);
    this.#wantedMask = contactMask;
    this.#isProved = false;
    const isProven = isLimiterIn(contactMask) || isBearable || isThere;
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
    this.#peakMilliamp = this.#wantedPeakMilliamp;
    if (contacts.commandedMask === this.#wantedMask) return 'made';
    if (this.#isProved) {
      this.#move(this.#wantedMask, nowMs);
      return 'moving';
    }
    return isFresh ? this.#prove(limits) : 'limited';
  }

  /** Forgets everything, after the output was opened. */
  stop(): void {
    this.#restSample = -1;
    this.#wantedMask = 0;
    this.#foreseen = undefined;
    this.#isSteady = false;
    this.#isProved = false;
    this.#peakMilliamp = 0;
    this.#wantedPeakMilliamp = 0;
  }

  /** The higher of two circuits' peaks holds until the contacts have come to rest in the second. */
  #allow(peakMilliamp: number): void {
    this.#wantedPeakMilliamp = peakMilliamp;
    if (peakMilliamp > this.#peakMilliamp) this.#peakMilliamp = peakMilliamp;
  }

  #look(microamp: number): void {
    this.#isSteady = Math.abs(microamp - this.#lastMicroamp) <= STEADY_FRACTION * Math.abs(microamp);
    this.#lastMicroamp = microamp;
  }

  #prove(limits: JobLimits): DriveOutcome {
    const prediction = this.foresee(this.#wantedMask, limits);
    switch (prediction.kind) {
      case 'bearable':
        this.#allow(prediction.peakMilliamp);
        this.#isProved = true;
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
    this.#isProved = false;
    meter.ripple.restart();
    contacts.moveTo(contactMask, nowMs);
  }
}
