import { ohmmeter } from '../board/reference-design';
import type { Contacts } from '../ladder/contacts';
import { Average } from './average';
import { groundPair, ohmmeterPair, outputPair } from './meter';
import type { Meter, MeterPair } from './meter';
import { referenceMilliohm } from './source';
import type { CurrentSource, SourceRange } from './source';

/**
 * Relative standard uncertainty of reference, divider and amplifier together. Their limits, 0.1 % and 0.05 %, are the
 * same for every measurement of one box, so twice this must reach their sum.
 */
export const RATIO_UNCERTAINTY = 0.000_75;

const OFF_SAMPLES = 16;
export const ON_SAMPLES = 32;
const GAIN_SAMPLES = 12;
/** The first samples after a change began before it. */
const SKIP_SAMPLES = 2;

export type KelvinParts = {
  readonly meter: Meter;
  readonly source: CurrentSource;
  readonly contacts: Contacts;
};

export type KelvinResult = {
  readonly ohm: number;
  /** After the second set of contacts was made, less `ohm`: what one contact adds. 0 without a second set. */
  readonly addedOhm: number;
  readonly addedUncertaintyOhm: number;
  readonly uncertaintyOhm: number;
  readonly terminalMicrovolt: number;
  readonly currentMicroamp: number;
  /** Terminal voltage with the source off. */
  readonly offMicrovolt: number;
  /** Shunt reading, source off and on, for the gain of the current channel; 0 samples when not asked for. */
  readonly shuntOffMicroamp: number;
  readonly shuntOnMicroamp: number;
  /** Both ground channels, source off; with the shunt only. */
  readonly groundSenseMicrovolt: number;
  readonly groundOffsetMicrovolt: number;
};

export type KelvinOptions = {
  readonly range: SourceRange;
  readonly withShunt: boolean;
  /** Contacts to go to for a second look, without closing any other contact anew. */
  readonly secondMask?: number;
};

type Phase =
  | 'moving'
  | 'off'
  | 'shunt-off'
  | 'ground-off'
  | 'rising'
  | 'on'
  | 'shunt-on'
  | 'moving-again'
  | 'on-again'
  | 'done';

/**
 * One ratio measurement: voltage across the unknown by voltage across the reference, which carries the same current,
 * less what is there with the source off (thermal voltages, offsets). The converters' common reference cancels.
 */
export class KelvinMeasurement {
  readonly #parts: KelvinParts;
  readonly #options: KelvinOptions;
  readonly #terminal = new Average();
  readonly #reference = new Average();
  readonly #offTerminal = new Average();
  readonly #offReference = new Average();
  readonly #againTerminal = new Average();
  readonly #againReference = new Average();
  readonly #shuntOff = new Average();
  readonly #shuntOn = new Average();
  readonly #groundSense = new Average();
  readonly #groundOffset = new Average();
  #phase: Phase = 'moving';
  #skip = SKIP_SAMPLES;
  #sinceMs = 0;

  constructor(parts: KelvinParts, options: KelvinOptions) {
    this.#parts = parts;
    this.#options = options;
    parts.source.off();
    parts.meter.fix(ohmmeterPair);
  }

  /** True when finished. */
  tick(nowMs: number, isFresh: boolean): boolean {
    const { contacts, meter } = this.#parts;
    contacts.tick(nowMs);
    switch (this.#phase) {
      case 'moving':
        if (!contacts.isMoving(nowMs)) this.#enter('off', nowMs);
        return false;
      case 'off':
        if (this.#gather(isFresh, [this.#offTerminal, this.#offReference], OFF_SAMPLES))
          this.#afterOff(nowMs);
        return false;
      case 'shunt-off':
        if (this.#gatherShunt(isFresh, this.#shuntOff)) this.#look(groundPair, 'ground-off', nowMs);
        return false;
      case 'ground-off':
        if (this.#gatherGround(isFresh)) this.#rise(nowMs);
        return false;
      case 'rising':
        if (nowMs - this.#sinceMs >= ohmmeter.settleMs) this.#enter('on', nowMs);
        return false;
      case 'on':
        if (this.#gather(isFresh, [this.#terminal, this.#reference], ON_SAMPLES)) this.#afterOn(nowMs);
        return false;
      case 'shunt-on':
        if (this.#gatherShunt(isFresh, this.#shuntOn)) this.#enter('done', nowMs);
        return false;
      case 'moving-again':
        if (!contacts.isMoving(nowMs)) this.#enter('on-again', nowMs);
        return false;
      case 'on-again':
        if (this.#gather(isFresh, [this.#againTerminal, this.#againReference], ON_SAMPLES))
          this.#enter('done', nowMs);
        return false;
      case 'done':
        meter.fix(undefined);
        return true;
    }
  }

  /** Source off, meter back to its schedule. */
  end(): void {
    this.#parts.source.off();
    this.#parts.meter.fix(undefined);
  }

  result(): KelvinResult {
    const referenceOhm = referenceMilliohm(this.#options.range) / 1000;
    const across = this.#terminal.mean - this.#offTerminal.mean;
    const reference = this.#reference.mean - this.#offReference.mean;
    const ohm = (across / reference) * referenceOhm;
    const currentMicroamp = reference / referenceOhm;
    const amp = Math.max(1, Math.abs(currentMicroamp));
    const noiseOhm = Math.hypot(this.#terminal.uncertainty, this.#offTerminal.uncertainty) / amp;
    const addedOhm = this.#againOhm(referenceOhm, ohm);
    const addedNoiseOhm = Math.hypot(this.#terminal.uncertainty, this.#againTerminal.uncertainty) / amp;
    return {
      ohm,
      addedOhm,
      addedUncertaintyOhm: Math.hypot(addedNoiseOhm, addedOhm * RATIO_UNCERTAINTY),
      uncertaintyOhm: Math.hypot(noiseOhm, ohm * RATIO_UNCERTAINTY),
      terminalMicrovolt: across,
      currentMicroamp,
      offMicrovolt: this.#offTerminal.mean,
      shuntOffMicroamp: this.#shuntOff.mean,
      shuntOnMicroamp: this.#shuntOn.mean,
      groundSenseMicrovolt: this.#groundSense.mean,
      groundOffsetMicrovolt: this.#groundOffset.mean,
    };
  }

  #againOhm(referenceOhm: number, firstOhm: number): number {
    if (this.#againTerminal.count === 0) return 0;
    const across = this.#againTerminal.mean - this.#offTerminal.mean;
    const reference = this.#againReference.mean - this.#offReference.mean;
    return (across / reference) * referenceOhm - firstOhm;
  }

  #enter(phase: Phase, nowMs: number): void {
    this.#phase = phase;
    this.#sinceMs = nowMs;
    this.#skip = SKIP_SAMPLES;
  }

  #afterOff(nowMs: number): void {
    if (!this.#options.withShunt) return this.#rise(nowMs);
    this.#look(outputPair, 'shunt-off', nowMs);
  }

  #look(pair: MeterPair, phase: Phase, nowMs: number): void {
    this.#parts.meter.fix(pair);
    this.#enter(phase, nowMs);
  }

  #rise(nowMs: number): void {
    this.#parts.meter.fix(ohmmeterPair);
    this.#parts.source.on(this.#options.range);
    this.#enter('rising', nowMs);
  }

  #afterOn(nowMs: number): void {
    const { withShunt, secondMask } = this.#options;
    if (withShunt) this.#parts.meter.fix(outputPair);
    if (secondMask !== undefined) this.#parts.contacts.moveTo(secondMask, nowMs);
    this.#enter(withShunt ? 'shunt-on' : secondMask === undefined ? 'done' : 'moving-again', nowMs);
  }

  #gather(isFresh: boolean, [terminal, reference]: readonly [Average, Average], enough: number): boolean {
    if (!isFresh || this.#isSkipping()) return false;
    terminal.push(this.#parts.meter.terminalMicrovolt);
    reference.push(this.#parts.meter.referenceMicrovolt);
    return terminal.count >= enough;
  }

  #gatherShunt(isFresh: boolean, shunt: Average): boolean {
    if (!isFresh || this.#isSkipping()) return false;
    shunt.push(this.#parts.meter.currentMicroamp);
    return shunt.count >= GAIN_SAMPLES;
  }

  #gatherGround(isFresh: boolean): boolean {
    if (!isFresh || this.#isSkipping()) return false;
    this.#groundSense.push(this.#parts.meter.groundSenseMicrovolt);
    this.#groundOffset.push(this.#parts.meter.groundOffsetMicrovolt);
    return this.#groundSense.count >= GAIN_SAMPLES;
  }

  #isSkipping(): boolean {
    if (this.#skip === 0) return false;
    this.#skip -= 1;
    return true;
  }
}
