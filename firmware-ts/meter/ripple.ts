/** Samples kept: at one in about 9 ms, four and a half seconds, two periods of a slow stabiliser. */
const WINDOW = 512;
/** A supply is called pulsing when its high and low differ by more than this, and by a twentieth of the high. */
const PULSE_MICROVOLT = 200_000;
const PULSE_FRACTION = 0.05;
const ENOUGH_SAMPLES = 64;

/** What a window of terminal voltage shows. */
export type Ripple = {
  isKnown: boolean;
  isPulsing: boolean;
  heatMicrovolt: number;
  highMicrovolt: number;
  lowMicrovolt: number;
  dutyPermille: number;
  pulsePeriodMs: number;
};

/** The last few seconds of terminal voltage: duty and the steady voltage that would heat alike. */
export class RippleWindow {
  readonly #microvolt = new Float32Array(WINDOW);
  /** Low sixteen bits of the time: the window is far shorter than the minute after which they repeat. */
  readonly #atMs = new Uint16Array(WINDOW);
  readonly #result: Ripple = {
    isKnown: false,
    isPulsing: false,
    heatMicrovolt: 0,
    highMicrovolt: 0,
    lowMicrovolt: 0,
    dutyPermille: 0,
    pulsePeriodMs: 0,
  };
  #count = 0;
  #next = 0;

  /** Forgets the window, as after every change of resistance. */
  restart(): void {
    this.#count = 0;
    this.#next = 0;
  }

  push(microvolt: number, atMs: number): void {
    if (!Number.isFinite(microvolt)) return;
    this.#microvolt[this.#next] = microvolt;
    this.#atMs[this.#next] = atMs;
    this.#next = (this.#next + 1) % WINDOW;
    this.#count = Math.min(this.#count + 1, WINDOW);
  }

  /**
   * Root mean square, extremes, duty and period of the window. The object is reused by the next call.
   * Source: heat in a resistor goes with the mean square of the voltage; derived in tests/firmware/meter/ripple.
   */
  evaluate(): Readonly<Ripple> {
    const result = this.#result;
    this.#extremes();
    result.isKnown = this.#count >= ENOUGH_SAMPLES;
    const swing = result.highMicrovolt - result.lowMicrovolt;
    result.isPulsing =
      result.isKnown && swing > PULSE_MICROVOLT && swing > PULSE_FRACTION * result.highMicrovolt;
    this.#edges((result.highMicrovolt + result.lowMicrovolt) / 2);
    if (!result.isPulsing) {
      result.dutyPermille = 1000;
      result.pulsePeriodMs = 0;
    }
    return result;
  }

  #index(age: number): number {
    return (this.#next - this.#count + age + 2 * WINDOW) % WINDOW;
  }

  #extremes(): void {
    const result = this.#result;
    let squares = 0;
    let high = -Number.MAX_VALUE;
    let low = Number.MAX_VALUE;
    for (let age = 0; age < this.#count; age += 1) {
      const value = this.#microvolt[this.#index(age)]!;
      squares += value * value;
      if (value > high) high = value;
      if (value < low) low = value;
    }
    result.highMicrovolt = this.#count === 0 ? 0 : high;
    result.lowMicrovolt = this.#count === 0 ? 0 : low;
    result.heatMicrovolt = this.#count === 0 ? 0 : Math.sqrt(squares / this.#count);
  }

  /** Duty and heat over whole periods when there are any, so that a cut-off pulse does not bias them. */
  #edges(threshold: number): void {
    let firstRise = -1;
    let lastRise = -1;
    let rises = 0;
    for (let age = 1; age < this.#count; age += 1) {
      const isRise = this.#at(age - 1) <= threshold && this.#at(age) > threshold;
      if (!isRise) continue;
      if (firstRise < 0) firstRise = age;
      lastRise = age;
      rises += 1;
    }
    const hasPeriods = rises >= 2;
    this.#shareAbove(threshold, hasPeriods ? firstRise : 0, hasPeriods ? lastRise : this.#count);
    const spanMs = hasPeriods
      ? (this.#atMs[this.#index(lastRise)]! - this.#atMs[this.#index(firstRise)]!) & 0xffff
      : 0;
    this.#result.pulsePeriodMs = hasPeriods ? Math.round(spanMs / (rises - 1)) : 0;
  }

  #shareAbove(threshold: number, from: number, to: number): void {
    if (to <= from) return;
    let above = 0;
    let squares = 0;
    for (let age = from; age < to; age += 1) {
      const value = this.#at(age);
      if (value > threshold) above += 1;
      squares += value * value;
    }
    this.#result.dutyPermille = Math.round((1000 * above) / (to - from));
    this.#result.heatMicrovolt = Math.sqrt(squares / (to - from));
  }

  #at(age: number): number {
    return this.#microvolt[this.#index(age)]!;
  }
}
