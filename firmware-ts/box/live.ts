import { limits, meterFlags } from '../../protocol';
import type { Answer } from '../../protocol';
import { groundLead } from '../board/reference-design';
import { isLimiterIn, isOutputClosed } from '../ladder/table';
import { Average } from '../meter/average';
import type { Parts } from './parts';
import { asI32, asU16, asU32, within } from './wire';

const GROUND_LEAD_OHM = groundLead.milliohm / 1000;
/** Samples that a live resistance is made of: an eighth of a second. */
const MEAN_SAMPLES = 12;
/** A pulsing feed leaves this long between its pulses at most; what the last one showed holds no longer. */
const PULSE_AWAY_MS = 3_000;
/**
 * Below this current the resistance is not known well enough to be shown. Between the pulses of a feed some tens of
 * microamps flow all the same, driven by the millivolts between the grounds.
 */
const KNOWN_MICROAMP = 200;
/** Gain of divider, shunt and amplifier after calibration, relative standard uncertainty. */
const GAIN_UNCERTAINTY = 0.001;

/** The numbers a person watches: mean volts and amps since the contacts came to rest. */
export class LiveNumbers {
  readonly #parts: Parts;
  readonly #volt = new Average();
  readonly #amp = new Average();
  #shownMicrovolt = NaN;
  #shownMicroamp = NaN;
  #shownVoltUncertainty = NaN;
  #shownAmpUncertainty = NaN;
  /** Volts and amps of those samples in which current flowed: their ratio is the resistance, pulses or not. */
  #fedCount = 0;
  #fedMicrovoltSum = 0;
  #fedMicroampSum = 0;
  #fedMicrovolt = NaN;
  #fedMicroamp = NaN;
  #fedAtMs = 0;
  #openCircuitMicrovolt = NaN;
  #openCircuitAtMs = 0;
  /** When the output was first seen at rest and open; less than 0 while it is closed. */
  #openFromMs = -1;

  constructor(parts: Parts) {
    this.#parts = parts;
  }

  /** What feeds the gauge: the highest voltage seen with the output open, or the present one when it never was. */
  get feedMicrovolt(): number {
    return Number.isNaN(this.#openCircuitMicrovolt)
      ? this.#parts.meter.terminalMicrovolt
      : this.#openCircuitMicrovolt;
  }

  /** Forgets the mean, when contacts move. */
  restart(): void {
    this.#volt.restart();
    this.#amp.restart();
    this.#shownMicrovolt = NaN;
    this.#shownMicroamp = NaN;
    this.#forgetFed();
    this.#fedMicrovolt = NaN;
    this.#fedMicroamp = NaN;
  }

  /** Takes in a fresh sample taken with contacts at rest. */
  sample(nowMs: number): void {
    const { meter, contacts } = this.#parts;
    const isClosed = isOutputClosed(contacts.commandedMask);
    if (isClosed) this.#openFromMs = -1;
    else if (this.#openFromMs < 0) this.#openFromMs = nowMs;
    this.#sampleFed(nowMs);
    this.#volt.push(meter.terminalMicrovolt);
    this.#amp.push(meter.currentMicroamp);
    if (this.#volt.count < MEAN_SAMPLES) return;
    this.#shownMicrovolt = this.#volt.mean;
    this.#shownMicroamp = this.#amp.mean;
    this.#shownVoltUncertainty = this.#volt.uncertainty;
    this.#shownAmpUncertainty = this.#amp.uncertainty;
    this.#volt.restart();
    this.#amp.restart();
    if (isClosed) return;
    const { highMicrovolt } = meter.ripple;
    // The window began anew when the output opened: until the next pulse what was seen before counts.
    if (highMicrovolt < this.#openCircuitMicrovolt && nowMs - this.#openFromMs <= PULSE_AWAY_MS) return;
    this.#openCircuitMicrovolt = highMicrovolt;
    this.#openCircuitAtMs = nowMs;
  }

  get terminalMicrovolt(): number {
    return Number.isNaN(this.#shownMicrovolt) ? this.#parts.meter.terminalMicrovolt : this.#shownMicrovolt;
  }

  get currentMicroamp(): number {
    return Number.isNaN(this.#shownMicroamp) ? this.#parts.meter.currentMicroamp : this.#shownMicroamp;
  }

  /** True when enough current flows, or flowed in the last pulse, to know the resistance. */
  isResistanceKnown(nowMs: number): boolean {
    const isDriven = isOutputClosed(this.#parts.contacts.commandedMask);
    return isDriven && Number.isFinite(this.#fedMicroamp) && nowMs - this.#fedAtMs <= PULSE_AWAY_MS;
  }

  /** Measured resistance from clip to clip, ohm. The drop of the ground lead is taken off when it is known. */
  get measuredOhm(): number {
    const { groundSenseMicrovolt } = this.#parts.meter;
    const isPulsing = this.#parts.meter.ripple.evaluate().isPulsing;
    // The ground lead is read at another instant: with a pulsing feed its usual resistance stands in for its drop.
    if (isPulsing) return this.#fedMicrovolt / this.#fedMicroamp + GROUND_LEAD_OHM;
    const ground = Number.isFinite(groundSenseMicrovolt) ? groundSenseMicrovolt : 0;
    return (this.#fedMicrovolt - ground) / this.#fedMicroamp;
  }

  get measuredUncertaintyOhm(): number {
    const amp = Math.abs(this.#fedMicroamp);
    // A pulsing feed makes volts and amps scatter together: their ratio does not, so only steady scatter counts.
    const isSteady = !this.#parts.meter.ripple.evaluate().isPulsing;
    const volt = isSteady ? this.#shownVoltUncertainty / amp : 0;
    const current = isSteady ? (this.measuredOhm * this.#shownAmpUncertainty) / amp : 0;
    return Math.hypot(volt, current, this.measuredOhm * GAIN_UNCERTAINTY);
  }

  /** Flags, without those that only the channel knows. */
  flags(isSettled: boolean, nowMs: number): number {
    const { contacts, meter } = this.#parts;
    const ripple = meter.ripple.evaluate();
    const mask = contacts.commandedMask;
    return (
      (this.isResistanceKnown(nowMs) ? meterFlags.resistanceKnown : 0) |
      (isOutputClosed(mask) ? meterFlags.outputMade : 0) |
      (isOutputClosed(mask) && isLimiterIn(mask) ? meterFlags.limiterInPath : 0) |
      (isSettled ? meterFlags.settled : 0) |
      (ripple.isPulsing ? meterFlags.pulsing : 0) |
      (ripple.isKnown ? meterFlags.heatKnown : 0) |
      (Number.isFinite(this.#openCircuitMicrovolt) ? meterFlags.openCircuitKnown : 0) |
      (Number.isFinite(meter.groundOffsetMicrovolt + meter.groundSenseMicrovolt)
        ? meterFlags.groundOffsetKnown
        : 0)
    );
  }

  /** The answer to `measure`. */
  measure(isSettled: boolean, nowMs: number): Answer<'measure'> {
    const { meter } = this.#parts;
    const ripple = meter.ripple.evaluate();
    const known = this.isResistanceKnown(nowMs);
    return {
      meterFlags: this.flags(isSettled, nowMs),
      terminalMicrovolt: asI32(this.terminalMicrovolt),
      currentMicroamp: asI32(this.currentMicroamp),
      measuredMilliohm: known ? within(limits.resistanceMilliohm, this.measuredOhm * 1000) : 0,
      measuredUncertaintyMilliohm: known ? asU32(this.measuredUncertaintyOhm * 1000) : 0,
      openCircuitMicrovolt: Number.isNaN(this.#openCircuitMicrovolt) ? 0 : asI32(this.#openCircuitMicrovolt),
      openCircuitAgeMs: Number.isNaN(this.#openCircuitMicrovolt) ? 0 : asU32(nowMs - this.#openCircuitAtMs),
      heatMicrovolt: asI32(ripple.heatMicrovolt),
      highMicrovolt: asI32(ripple.highMicrovolt),
      lowMicrovolt: asI32(ripple.lowMicrovolt),
      dutyPermille: ripple.dutyPermille,
      pulsePeriodMs: asU16(ripple.pulsePeriodMs),
      groundOffsetMicrovolt: asI32(meter.groundSenseMicrovolt - meter.groundOffsetMicrovolt),
      meterAgeMs: asU16(nowMs - meter.sampledAtMs),
      boxMs: nowMs >>> 0,
    };
  }

  #sampleFed(nowMs: number): void {
    const { meter } = this.#parts;
    if (!(Math.abs(meter.currentMicroamp) >= KNOWN_MICROAMP)) return;
    this.#fedMicrovoltSum += meter.terminalMicrovolt;
    this.#fedMicroampSum += meter.currentMicroamp;
    this.#fedCount += 1;
    if (this.#fedCount < MEAN_SAMPLES) return;
    this.#fedMicrovolt = this.#fedMicrovoltSum / MEAN_SAMPLES;
    this.#fedMicroamp = this.#fedMicroampSum / MEAN_SAMPLES;
    this.#fedAtMs = nowMs;
    this.#forgetFed();
  }

  #forgetFed(): void {
    this.#fedCount = 0;
    this.#fedMicrovoltSum = 0;
    this.#fedMicroampSum = 0;
  }
}
