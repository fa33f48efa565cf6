import { PulseSum } from './pulse-sum';

/** A supply is called pulsing when its high and low differ by more than this, and by a twentieth of the high. */
const PULSE_MICROVOLT = 200_000;
const PULSE_FRACTION = 0.05;
const ENOUGH_SAMPLES = 64;
/** Stretches kept, the one that grows not counted; with the next two this is the length of the window: about five seconds. */
const STRETCHES = 4;
/** A stretch of a pulsing feed ends with the first rise after this long, so that it holds whole periods. */
const PERIODIC_MS = 1_000;
/** The first one ends earlier, so that something is known soon. */
const FIRST_PERIODIC_MS = 400;
/** A stretch in which nothing rises ends after this long. */
const STEADY_MS = 1_200;
/** No rise for so long: no pulses slower than this are counted. */
const SLOWEST_PERIOD_MS = 3_000;
/** An edge that is farther away falls neither into the next conversion nor beside it: four turns, for edges are known late. */
const CALM_MS = 32;
/** How far past the middle a voltage must go to have changed sides, as a part of the swing. */
const HYSTERESIS = 0.125;
const MICROVOLT_PER_VOLT = 1e6;

/** What the last seconds of terminal voltage show. */
export type Ripple = {
  isKnown: boolean;
  isPulsing: boolean;
  heatMicrovolt: number;
  highMicrovolt: number;
  lowMicrovolt: number;
  dutyPermille: number;
  pulsePeriodMs: number;
};

/**
 * The last few seconds of terminal voltage: duty and the steady voltage that would heat alike. Sums grow with every
 * sample, so that an answer costs the same whatever was seen. A sample is the mean over its conversion; between two
 * samples the voltage is taken to run straight. An edge between them is thus known to less than a sample, and over whole
 * periods those errors cancel.
 */
export class RippleWindow {
  readonly #ring = Array.from({ length: STRETCHES }, () => new PulseSum());
  readonly #total = new PulseSum();
  readonly #result: Ripple = {
    isKnown: false,
    isPulsing: false,
    heatMicrovolt: 0,
    highMicrovolt: 0,
    lowMicrovolt: 0,
    dutyPermille: 1000,
    pulsePeriodMs: 0,
  };
  #open = new PulseSum();
  #next = 0;
  #count = 0;
  #lastMicrovolt = 0;
  #lastAtMs = 0;
  #isHigh = false;
  /** The sample before was on the side of the one before it. */
  #isPlateau = false;
  #evaluatedCount = -1;
  #isPeriodic = false;
  #hasPeriods = false;
  #roseAtMs = 0;
  #edgeAtMs = 0;
  /** How long the feed was high, and low, the last time. */
  #highMs = 0;
  #lowMs = 0;
  /** Sides change beyond these; infinite while there is no swing worth the name. */
  #riseMicrovolt = Infinity;
  #fallMicrovolt = -Infinity;

  /** Forgets everything, as after every change of resistance. */
  restart(): void {
    for (let index = 0; index < STRETCHES; index += 1) this.#ring[index]!.clear();
    this.#open.clear();
    this.#count = 0;
    this.#evaluatedCount = -1;
    this.#isPlateau = false;
    this.#isPeriodic = false;
    this.#hasPeriods = false;
    this.#isHigh = false;
    this.#highMs = 0;
    this.#lowMs = 0;
    this.#riseMicrovolt = Infinity;
    this.#fallMicrovolt = -Infinity;
  }

  push(microvolt: number, atMs: number): void {
    if (!Number.isFinite(microvolt)) return;
    const open = this.#open;
    if (this.#count === 0) {
      this.#roseAtMs = atMs;
      this.#edgeAtMs = atMs;
      open.high = microvolt;
      open.low = microvolt;
    } else if (microvolt > open.high || microvolt < open.low) this.#widen(microvolt);
    this.#count += 1;
    const wasHigh = this.#isHigh;
    this.#isHigh = wasHigh ? microvolt > this.#fallMicrovolt : microvolt > this.#riseMicrovolt;
    if (this.#count > 1) this.#advance(microvolt, atMs, wasHigh);
    this.#lastMicrovolt = microvolt;
    this.#lastAtMs = atMs;
  }

  /** Highest voltage in the window, microvolt; 0 before the first sample. */
  get highMicrovolt(): number {
    let high = this.#open.high;
    for (let index = 0; index < STRETCHES; index += 1) high = Math.max(high, this.#ring[index]!.high);
    return this.#count === 0 ? 0 : high;
  }

  /** Lowest voltage in the window, microvolt; 0 before the first sample. */
  get lowMicrovolt(): number {
    let low = this.#open.low;
    for (let index = 0; index < STRETCHES; index += 1) low = Math.min(low, this.#ring[index]!.low);
    return this.#count === 0 ? 0 : low;
  }

  /** True when nothing is lost by looking elsewhere for one conversion: no edge of a pulsing feed is due. */
  isCalm(nowMs: number): boolean {
    if (!this.#isPeriodic) return true;
    const lastTimeMs = this.#isHigh ? this.#highMs : this.#lowMs;
    return this.#isPlateau && nowMs - this.#edgeAtMs + CALM_MS < lastTimeMs;
  }

  /**
   * Heat, extremes, duty and period of the window. The object is reused by the next call.
   * Source: heat in a resistor goes with the mean square of the voltage. With the means H and L of the plateaus, the duty
   * is (mean - L) / (H - L), and the mean square is shared between the plateaus' mean squares by it.
   */
  evaluate(): Readonly<Ripple> {
    const result = this.#result;
    if (this.#evaluatedCount === this.#count) return result;
    this.#evaluatedCount = this.#count;
    result.highMicrovolt = this.highMicrovolt;
    result.lowMicrovolt = this.lowMicrovolt;
    result.isKnown = this.#count >= ENOUGH_SAMPLES;
    result.isPulsing = result.isKnown && this.#isSwing(result.highMicrovolt, result.lowMicrovolt);
    const total = this.#gather();
    result.dutyPermille = 1000;
    result.pulsePeriodMs = 0;
    if (result.isPulsing) this.#share(total);
    else result.heatMicrovolt = this.#steadyMicrovolt(total);
    return result;
  }

  #steadyMicrovolt({ highCount, highSquares, lowCount, lowSquares }: PulseSum): number {
    const count = highCount + lowCount;
    if (count === 0) return this.#count === 0 ? 0 : Math.abs(this.#lastMicrovolt);
    return Math.sqrt((highSquares + lowSquares) / count) * MICROVOLT_PER_VOLT;
  }

  /** How a pulsing feed shares its time. Without whole periods the extremes stand in for the plateaus. */
  #share(total: PulseSum): void {
    const result = this.#result;
    const { periods, highCount, lowCount, ms } = total;
    const top = result.highMicrovolt / MICROVOLT_PER_VOLT;
    const bottom = result.lowMicrovolt / MICROVOLT_PER_VOLT;
    const hasHigh = periods > 0 && highCount > 0;
    const hasLow = periods > 0 && lowCount > 0;
    const high = hasHigh ? total.highVolt / highCount : top;
    const low = hasLow ? total.lowVolt / lowCount : bottom;
    const highSquare = hasHigh ? total.highSquares / highCount : top * top;
    const lowSquare = hasLow ? total.lowSquares / lowCount : bottom * bottom;
    const mean = ms > 0 ? total.microvoltMs / MICROVOLT_PER_VOLT / ms : high;
    const duty = Math.max(0, Math.min(1, (mean - low) / (high - low)));
    result.dutyPermille = Math.round(1000 * duty);
    result.heatMicrovolt = Math.sqrt(duty * highSquare + (1 - duty) * lowSquare) * MICROVOLT_PER_VOLT;
    if (periods > 0) result.pulsePeriodMs = Math.round(ms / periods);
  }

  #isSwing(high: number, low: number): boolean {
    return high - low > PULSE_MICROVOLT && high - low > PULSE_FRACTION * high;
  }

  /** A new extreme: the middle moves. */
  #widen(microvolt: number): void {
    const open = this.#open;
    if (microvolt > open.high) open.high = microvolt;
    if (microvolt < open.low) open.low = microvolt;
    this.#place();
  }

  #place(): void {
    const { highMicrovolt: high, lowMicrovolt: low } = this;
    const isSwing = this.#isSwing(high, low);
    const middle = (high + low) / 2;
    this.#riseMicrovolt = isSwing ? middle + HYSTERESIS * (high - low) : Infinity;
    this.#fallMicrovolt = isSwing ? middle - HYSTERESIS * (high - low) : -Infinity;
  }

  #advance(microvolt: number, atMs: number, wasHigh: boolean): void {
    const open = this.#open;
    const stepMs = atMs - this.#lastAtMs;
    if (this.#isHigh === wasHigh) {
      open.ms += stepMs;
      open.microvoltMs += 0.5 * (microvolt + this.#lastMicrovolt) * stepMs;
      if (this.#isPlateau) open.addPlateau(wasHigh, this.#lastMicrovolt / MICROVOLT_PER_VOLT);
      this.#isPlateau = true;
      if (open.ms >= STEADY_MS && (!this.#isPeriodic || atMs - this.#roseAtMs > SLOWEST_PERIOD_MS)) {
        this.#isPeriodic = false;
        this.#close();
      }
      return;
    }
    this.#isPlateau = false;
    if (wasHigh) this.#highMs = atMs - this.#edgeAtMs;
    else this.#lowMs = atMs - this.#edgeAtMs;
    this.#edgeAtMs = atMs;
    if (wasHigh) {
      open.ms += stepMs;
      open.microvoltMs += 0.5 * (microvolt + this.#lastMicrovolt) * stepMs;
    } else this.#rise(microvolt, stepMs, atMs);
  }

  /** A period ends where the straight line between two samples passes the middle. */
  #rise(microvolt: number, stepMs: number, atMs: number): void {
    const { highMicrovolt, lowMicrovolt } = this;
    const middle = (highMicrovolt + lowMicrovolt) / 2;
    const before = (middle - this.#lastMicrovolt) / (microvolt - this.#lastMicrovolt);
    const beforeMs = stepMs * Math.max(0, Math.min(1, before));
    let open = this.#open;
    open.ms += beforeMs;
    open.microvoltMs += 0.5 * (middle + this.#lastMicrovolt) * beforeMs;
    if (!this.#isPeriodic) {
      // What was before the first rise is no whole period.
      this.#isPeriodic = true;
      this.#close();
      open = this.#open;
    } else {
      open.periods += 1;
      if (open.ms >= (this.#hasPeriods ? PERIODIC_MS : FIRST_PERIODIC_MS)) {
        this.#hasPeriods = true;
        this.#close();
        open = this.#open;
      }
    }
    open.ms += stepMs - beforeMs;
    open.microvoltMs += 0.5 * (middle + microvolt) * (stepMs - beforeMs);
    this.#roseAtMs = atMs;
  }

  /** The stretch is complete: it joins the ring, and the oldest one becomes the next. */
  #close(): void {
    const oldest = this.#ring[this.#next]!;
    this.#ring[this.#next] = this.#open;
    this.#next = (this.#next + 1) % STRETCHES;
    oldest.clear();
    oldest.high = this.#lastMicrovolt;
    oldest.low = this.#lastMicrovolt;
    this.#open = oldest;
    this.#place();
  }

  /** Whole periods when there are any; else everything. */
  #gather(): PulseSum {
    const total = this.#total;
    total.clear();
    for (let index = 0; index < STRETCHES; index += 1)
      if (this.#ring[index]!.periods > 0) total.addAll(this.#ring[index]!);
    if (total.periods > 0) return total;
    for (let index = 0; index < STRETCHES; index += 1) total.addAll(this.#ring[index]!);
    total.addAll(this.#open);
    total.periods = 0;
    return total;
  }
}
