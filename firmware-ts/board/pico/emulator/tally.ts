import type { BoxCircuit } from './box-circuit';
import type { Chip } from './chip';

/** Callbacks shorter than this are not turns: a byte noted, an interrupt passed on. */
const SHORTEST_TURN_MS = 0.5;

const inOrder = (values: readonly number[]): number[] => [...values].sort((low, high) => low - high);

/** The value below which that part of them lies. */
export function quantile(values: readonly number[], part: number): number {
  const sorted = inOrder(values);
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? NaN;
}

export type Figures = {
  readonly turnCount: number;
  readonly turnMedianMs: number;
  readonly turnP99Ms: number;
  readonly turnMaxMs: number;
  readonly pulseGapMaxMs: number;
  readonly meterAgeMaxMs: number;
};

/** Counts what matters, from outside: turns of the firmware, gaps between pulses, age of volts and amps. */
export class Tally {
  readonly #chip: Chip;
  #turnsMs: number[] = [];
  #lastPulseMs = NaN;
  #pulseGapMs = 0;
  #lastReadMs = NaN;
  #readGapMs = 0;

  constructor(chip: Chip, box: BoxCircuit) {
    this.#chip = chip;
    chip.onCallback = (from, to) => {
      const ms = (to - from) / 1e6;
      if (ms > SHORTEST_TURN_MS) this.#turnsMs.push(ms);
    };
    box.watch.pulse = (nanos) => {
      this.#pulseGapMs = Math.max(this.#pulseGapMs, nanos / 1e6 - this.#lastPulseMs || 0);
      this.#lastPulseMs = nanos / 1e6;
    };
    box.watch.meterRead = (nanos) => {
      this.#readGapMs = Math.max(this.#readGapMs, nanos / 1e6 - this.#lastReadMs || 0);
      this.#lastReadMs = nanos / 1e6;
    };
  }

  /** Counts from now on. */
  restart(): void {
    this.#turnsMs = [];
    this.#pulseGapMs = 0;
    this.#readGapMs = 0;
    this.#lastPulseMs = this.#chip.nowMs;
    this.#lastReadMs = this.#chip.nowMs;
  }

  /** Since the last restart. A gap that has not ended counts too. */
  figures(): Figures {
    const { nowMs } = this.#chip;
    return {
      turnCount: this.#turnsMs.length,
      turnMedianMs: quantile(this.#turnsMs, 0.5),
      turnP99Ms: quantile(this.#turnsMs, 0.99),
      turnMaxMs: quantile(this.#turnsMs, 1),
      pulseGapMaxMs: Math.max(this.#pulseGapMs, nowMs - this.#lastPulseMs || 0),
      meterAgeMaxMs: Math.max(this.#readGapMs, nowMs - this.#lastReadMs || 0),
    };
  }
}
