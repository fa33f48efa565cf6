import { converter, meterChannels, pins, quantityFromReading } from '../board/reference-design';
import type { MeterChannelName } from '../board/reference-design';
import type { Device } from '../device';
import type { Digital } from '../ecma419';
import { Converter } from './converter';
import { RippleWindow } from './ripple';

/** What the two converters measure together: the first on converter 0, the second on converter 1. */
export type MeterPair = { readonly first: MeterChannelName; readonly second: MeterChannelName };

const output: MeterPair = { first: 'terminal', second: 'current' };
const feed: MeterPair = { first: 'supply', second: 'groundOffset' };
export const groundPair: MeterPair = { first: 'groundSense', second: 'groundOffset' };
export const ohmmeterPair: MeterPair = { first: 'terminal', second: 'reference' };
export const outputPair = output;

/** Volts and amps of the output four times in five; the guard is never blind for longer than two conversions. */
const schedule: readonly MeterPair[] = [
  output,
  output,
  output,
  output,
  feed,
  output,
  output,
  output,
  output,
  groundPair,
];

/** Longer than any conversion, shorter than the guard's patience. */
const SILENT_MS = 5 * converter.conversionMs;

/** Corrections found by the self-calibration; a zero is what a channel reads at zero volts. */
export type MeterCorrection = {
  readonly currentGainPartsPerMillion: number;
  readonly currentOffsetNanoamp: number;
  readonly terminalZeroMicrovolt: number;
  readonly groundSenseZeroMicrovolt: number;
  readonly groundOffsetZeroMicrovolt: number;
};

/** The meter as it is. */
export const uncorrected: MeterCorrection = {
  currentGainPartsPerMillion: 0,
  currentOffsetNanoamp: 0,
  terminalZeroMicrovolt: 0,
  groundSenseZeroMicrovolt: 0,
  groundOffsetZeroMicrovolt: 0,
};

/**
 * Scale of a divider that ends on the bias, as a part of its nominal one, from what it reads at zero volts.
 * Source: with its ratio off by e it reads V (1 + e) - e bias, which at V = 0 is -e bias.
 */
export const scaleFromZero = (zeroMicrovolt: number): number =>
  1 - zeroMicrovolt / meterChannels.terminal.offset;

const straightened = (microvolt: number, zeroMicrovolt: number): number =>
  (microvolt - zeroMicrovolt) / scaleFromZero(zeroMicrovolt);

/** Reads the converters and keeps the latest numbers. A number that was never read is NaN and fails every check. */
export class Meter {
  readonly ripple = new RippleWindow();
  correction = uncorrected;
  terminalMicrovolt = NaN;
  currentMicroamp = NaN;
  supplyMicrovolt = NaN;
  groundSenseMicrovolt = NaN;
  groundOffsetMicrovolt = NaN;
  referenceMicrovolt = NaN;
  /** When volts and amps were last read. */
  sampledAtMs = 0;
  /** Counts the samples of the fixed pair or of the output. */
  sampleCount = 0;
  readonly #converters: readonly [Converter, Converter];
  readonly #ready: Digital;
  #fixedPair: MeterPair | undefined;
  #pair: MeterPair = output;
  #sampledPair: MeterPair = output;
  #slot = 0;
  #startedAtMs = -1;

  constructor(device: Device) {
    const [first, second] = converter.addresses;
    this.#converters = [new Converter(device, first), new Converter(device, second)];
    this.#ready = new device.io.Digital({ pin: pins.meterReady, mode: device.io.Digital.InputPullUp });
  }

  /** True when the last sample was volts and amps of the output. */
  get isOutputPair(): boolean {
    return this.#sampledPair === output;
  }

  /** Reads one pair only, as the ohmmeter does; `undefined` goes back to the schedule. */
  fix(pair: MeterPair | undefined): void {
    this.#fixedPair = pair;
  }

  /**
   * Takes a finished conversion and starts the next. True when volts and amps (or the fixed pair) are fresh.
   * Throws when the bus does; the caller lets the age of the numbers grow and the guard acts on that.
   */
  tick(nowMs: number): boolean {
    // The first time too: a box whose converter does not answer must boot and say so.
    if (this.#startedAtMs < 0 || nowMs - this.#startedAtMs > SILENT_MS) return this.#revive(nowMs);
    // The ready line is low when converter 1 has a result; the time is checked as well because the line may hang.
    if (nowMs - this.#startedAtMs < converter.conversionMs || this.#ready.read() !== 0) return false;
    // Converter 0 has a clock of its own and no line: one that has lost its setting would repeat its last number for ever.
    if (!this.#converters[0].hasResult()) return false;
    const pair = this.#pair;
    this.#keep(pair.first, this.#converters[0].readMicrovolt());
    this.#keep(pair.second, this.#converters[1].readMicrovolt());
    this.#begin(nowMs);
    const isFresh = pair === (this.#fixedPair ?? output);
    if (isFresh) this.#sampled(pair, nowMs);
    return isFresh;
  }

  #sampled(pair: MeterPair, nowMs: number): void {
    this.sampledAtMs = nowMs;
    this.#sampledPair = pair;
    this.sampleCount += 1;
    if (pair === output) this.ripple.push(this.terminalMicrovolt, nowMs);
  }

  /** A conversion that never ends, or could not be started: the chips are set up anew. */
  #revive(nowMs: number): false {
    this.#startedAtMs = nowMs;
    for (const chip of this.#converters) chip.configure();
    return this.#begin(nowMs);
  }

  #begin(nowMs: number): false {
    this.#slot = (this.#slot + 1) % schedule.length;
    this.#pair = this.#fixedPair ?? schedule[this.#slot]!;
    this.#startedAtMs = nowMs;
    this.#converters[0].start(meterChannels[this.#pair.first].input);
    this.#converters[1].start(meterChannels[this.#pair.second].input);
    return false;
  }

  #keep(name: MeterChannelName, readingMicrovolt: number): void {
    const quantity = quantityFromReading(name, readingMicrovolt);
    const { correction } = this;
    switch (name) {
      case 'terminal':
        this.terminalMicrovolt = straightened(quantity, correction.terminalZeroMicrovolt);
        return;
      case 'current':
        this.currentMicroamp =
          (quantity - correction.currentOffsetNanoamp / 1000) *
          (1 + correction.currentGainPartsPerMillion / 1e6);
        return;
      case 'supply':
        this.supplyMicrovolt = quantity;
        return;
      case 'groundSense':
        this.groundSenseMicrovolt = straightened(quantity, correction.groundSenseZeroMicrovolt);
        return;
      case 'groundOffset':
        this.groundOffsetMicrovolt = straightened(quantity, correction.groundOffsetZeroMicrovolt);
        return;
      case 'reference':
        this.referenceMicrovolt = quantity;
        return;
    }
  }
}
