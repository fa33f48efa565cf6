import { deadMan, pins, railSense } from '../reference-design';
import type { VirtualClock } from './clock';

const NOMINAL_MILLIVOLT = 5_000;
const FULL_CODE = 2 ** railSense.bits - 1;

/** The hardware dead-man: a retriggerable one-shot that feeds the coil rail as long as edges arrive. */
export class CoilRail {
  readonly pulsePin = pins.deadManPulse;
  /** USB supply behind the one-shot; a weak port gives less. */
  supplyMillivolt = NOMINAL_MILLIVOLT;
  /** Comparator on the shunt: latches until the output relay's drive is off, and holds the one-shot cleared. */
  isTripped = false;
  /** Length of the one-shot of this box. */
  readonly lengthMs: number = deadMan.nominalMs;
  readonly #clock: VirtualClock;
  readonly #changed: () => void;
  #level = 0;
  #untilMs = -1;
  #timer = 0;

  constructor(clock: VirtualClock, changed: () => void) {
    this.#clock = clock;
    this.#changed = changed;
  }

  get isOn(): boolean {
    return !this.isTripped && this.#clock.nowMs < this.#untilMs;
  }

  get millivolt(): number {
    return this.isOn ? this.supplyMillivolt : 0;
  }

  /** What the railSense pin converts to. */
  get code(): number {
    const pin = this.millivolt / railSense.scale / railSense.fullScaleMillivolt;
    return Math.max(0, Math.min(FULL_CODE, Math.round(pin * FULL_CODE)));
  }

  /** Pulse pin driven. Only a rising edge counts; a stuck level lets the one-shot run out. */
  drive(level: number): void {
    const isRise = level > this.#level;
    this.#level = level;
    if (!isRise || this.isTripped) return;
    const wasOn = this.isOn;
    this.#untilMs = this.#clock.nowMs + this.lengthMs;
    this.#clock.clear(this.#timer);
    this.#timer = this.#clock.at(this.#untilMs, () => this.#changed());
    if (!wasOn) this.#changed();
  }

  /** The output relay's drive is off: the latch lets go. The one-shot waits for its next rising edge. */
  release(): void {
    this.isTripped = false;
  }

  /** The comparator has seen too much current. */
  trip(): void {
    if (this.isTripped) return;
    this.isTripped = true;
    this.#untilMs = -1;
    this.#changed();
  }
}
