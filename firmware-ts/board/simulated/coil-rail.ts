import { chainHold, deadMan, pins, railSense } from '../reference-design';
import type { VirtualClock } from './clock';

const NOMINAL_MILLIVOLT = 5_000;
const FULL_CODE = 2 ** railSense.bits - 1;

/**
 * The hardware dead-man: a retriggerable one-shot that feeds the coils as long as edges arrive. K16's supply ends with it;
 * a second one-shot, fired by that end, keeps the supply of the chain's coils a little longer.
 */
export class CoilRail {
  readonly pulsePin = pins.deadManPulse;
  /** Supply behind the switches; a weak one gives less. */
  supplyMillivolt = NOMINAL_MILLIVOLT;
  /** Comparators on the shunt: latch until the output relay's drive is off, and hold the one-shot cleared. */
  isTripped = false;
  /** Length of the one-shot of this box. */
  readonly lengthMs: number = deadMan.nominalMs;
  /** How much longer this box feeds its chain. */
  readonly holdMs: number = chainHold.lengthFactor * chainHold.timingKilohm * chainHold.timingMicrofarad;
  readonly #clock: VirtualClock;
  readonly #changed: () => void;
  #level = 0;
  #untilMs = -Infinity;
  #chainUntilMs = -Infinity;
  #timer = 0;

  constructor(clock: VirtualClock, changed: () => void) {
    this.#clock = clock;
    this.#changed = changed;
  }

  /** Supply of K16's coil. */
  get isOn(): boolean {
    return !this.isTripped && this.#clock.nowMs < this.#untilMs;
  }

  /** Supply of every other coil. */
  get isChainOn(): boolean {
    return this.isOn || this.#clock.nowMs < this.#chainUntilMs;
  }

  /** Mean of both, as the sense resistors make it. */
  get millivolt(): number {
    return ((this.isOn ? 1 : 0) + (this.isChainOn ? 1 : 0)) * (this.supplyMillivolt / 2);
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
    this.#timer = this.#clock.at(this.#untilMs, () => this.#ended());
    if (!wasOn) this.#changed();
  }

  /** The output relay's drive is off: the latch lets go. The one-shot waits for its next rising edge. */
  release(): void {
    this.isTripped = false;
  }

  /** A comparator has seen too much current. */
  trip(): void {
    if (this.isTripped) return;
    const wasOn = this.isOn;
    this.isTripped = true;
    this.#untilMs = -Infinity;
    if (wasOn) this.#ended();
  }

  #ended(): void {
    this.#chainUntilMs = this.#clock.nowMs + this.holdMs;
    this.#changed();
    this.#clock.at(this.#chainUntilMs, () => this.#changed());
  }
}
