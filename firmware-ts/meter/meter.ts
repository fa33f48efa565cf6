import {
  converter,
  meterChannels,
  microvoltFromCode,
  pins,
  quantityFromReading,
} from '../board/reference-design';
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

/** After so many samples of volts and amps another pair is due, feed and ground in turn. */
const OUTPUT_SAMPLES = 4;
/** It waits while an edge of a pulsing feed may fall into it, but not longer than for so many samples. */
const OUTPUT_SAMPLES_MAX = 20;

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

/** From a converter's code to a channel's quantity, corrections included: reckoned once, used in every turn. */
class Scale {
  #gain = 0;
  #offset = 0;

  constructor(name: MeterChannelName) {
    this.set(name, 0, 1);
  }

  /** The quantity by the channel's nominal law, less a zero, times a gain. */
  set(name: MeterChannelName, zero: number, gain: number): void {
    const atZero = quantityFromReading(name, 0);
    this.#gain = (quantityFromReading(name, microvoltFromCode(1)) - atZero) * gain;
    this.#offset = (atZero - zero) * gain;
  }

  of(code: number): number {
    return code * this.#gain + this.#offset;
  }
}

/** Reads the converters and keeps the latest numbers. A number that was never read is NaN and fails every check. */
export class Meter {
  readonly ripple = new RippleWindow();
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
  readonly #terminal = new Scale('terminal');
  readonly #current = new Scale('current');
  readonly #supply = new Scale('supply');
  readonly #groundSense = new Scale('groundSense');
  readonly #groundOffset = new Scale('groundOffset');
  readonly #reference = new Scale('reference');
  #correction = uncorrected;
  #fixedPair: MeterPair | undefined;
  #pair: MeterPair = output;
  #sampledPair: MeterPair = output;
  #outputCount = 0;
  #isFeedNext = false;
  #startedAtMs = -1;

  constructor(device: Device) {
    const [first, second] = converter.addresses;
    this.#converters = [new Converter(device, first), new Converter(device, second)];
    this.#ready = new device.io.Digital({ pin: pins.meterReady, mode: device.io.Digital.InputPullUp });
  }

  get correction(): MeterCorrection {
    return this.#correction;
  }

  /** Source of the dividers' gains: scaleFromZero. */
  set correction(correction: MeterCorrection) {
    this.#correction = correction;
    const { terminalZeroMicrovolt, groundSenseZeroMicrovolt, groundOffsetZeroMicrovolt } = correction;
    const { currentOffsetNanoamp, currentGainPartsPerMillion } = correction;
    this.#current.set('current', currentOffsetNanoamp / 1000, 1 + currentGainPartsPerMillion / 1e6);
    const divider = (scale: Scale, name: MeterChannelName, zeroMicrovolt: number): void =>
      scale.set(name, zeroMicrovolt, 1 / scaleFromZero(zeroMicrovolt));
    divider(this.#terminal, 'terminal', terminalZeroMicrovolt);
    divider(this.#groundSense, 'groundSense', groundSenseZeroMicrovolt);
    divider(this.#groundOffset, 'groundOffset', groundOffsetZeroMicrovolt);
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
    const first = this.#converters[0].readCode();
    const second = this.#converters[1].readCode();
    // The next one first: it runs while the numbers are looked at.
    this.#begin(nowMs);
    if (pair === output) {
      this.terminalMicrovolt = this.#terminal.of(first);
      this.currentMicroamp = this.#current.of(second);
    } else {
      this.#keep(pair.first, first);
      this.#keep(pair.second, second);
    }
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
    this.#pair = this.#fixedPair ?? this.#nextPair(nowMs);
    this.#startedAtMs = nowMs;
    this.#converters[0].start(meterChannels[this.#pair.first].input);
    this.#converters[1].start(meterChannels[this.#pair.second].input);
    return false;
  }

  /** The guard is never blind for longer than two conversions. */
  #nextPair(nowMs: number): MeterPair {
    const count = this.#outputCount;
    if (count < OUTPUT_SAMPLES || (count < OUTPUT_SAMPLES_MAX && !this.ripple.isCalm(nowMs))) {
      this.#outputCount = count + 1;
      return output;
    }
    this.#outputCount = 0;
    this.#isFeedNext = !this.#isFeedNext;
    return this.#isFeedNext ? feed : groundPair;
  }

  #keep(name: MeterChannelName, code: number): void {
    switch (name) {
      case 'terminal':
        this.terminalMicrovolt = this.#terminal.of(code);
        return;
      case 'current':
        this.currentMicroamp = this.#current.of(code);
        return;
      case 'supply':
        this.supplyMicrovolt = this.#supply.of(code);
        return;
      case 'groundSense':
        this.groundSenseMicrovolt = this.#groundSense.of(code);
        return;
      case 'groundOffset':
        this.groundOffsetMicrovolt = this.#groundOffset.of(code);
        return;
      case 'reference':
        this.referenceMicrovolt = this.#reference.of(code);
        return;
    }
  }
}
