import type { relayTimes } from './circuit';
import type { Random } from './random';
import type { Alarm, Clock } from './rp2040';

type Times = (typeof relayTimes)[keyof typeof relayTimes];

/** One relay contact: it follows its coil late, and it bounces when it closes. */
export class ContactPart {
  isClosed = false;
  readonly #clock: Clock;
  readonly #times: Times;
  readonly #random: Random;
  readonly #changed: () => void;
  readonly #alarm: Alarm;
  #isEnergised = false;
  #settlesAtNanos = 0;

  constructor(clock: Clock, times: Times, random: Random, changed: () => void) {
    this.#clock = clock;
    this.#times = times;
    this.#random = random;
    this.#changed = changed;
    this.#alarm = clock.createAlarm(() => this.#move());
  }

  /** Current through the coil, or none. */
  energise(isEnergised: boolean): void {
    if (isEnergised === this.#isEnergised) return;
    this.#isEnergised = isEnergised;
    const [low, high] = isEnergised ? this.#times.operate : this.#times.release;
    const delayMs = this.#random.between(low, high);
    this.#settlesAtNanos = this.#clock.nanos + (delayMs + (isEnergised ? this.#times.bounce : 0)) * 1e6;
    this.#alarm.schedule(delayMs * 1e6);
  }

  #move(): void {
    const { nanos } = this.#clock;
    const isBouncing = this.#isEnergised && nanos < this.#settlesAtNanos;
    this.isClosed = isBouncing ? !this.isClosed : this.#isEnergised;
    this.#changed();
    if (isBouncing) this.#alarm.schedule(Math.min(0.3e6, this.#settlesAtNanos - nanos));
  }
}
