import { elementCount, isInserted, limiterRow } from '../ladder/table';
import type { ElementTable } from '../ladder/table';
import type { JobLimits } from './job-limits';
import { SHORT_OVERLOAD, ratedLimitMilliwatt, rowLimitMilliwatt } from './power';

/** What is known of the circuit behind the terminals: one operating point and the voltage with the output open. */
export type OperatingPoint = {
  readonly terminalMicrovolt: number;
  readonly currentMicroamp: number;
  readonly openCircuitMicrovolt: number;
};

/** How the circuit is fed, as the ripple window saw it last: steadily, or in pulses that take so large a part of the time. */
export type Feed = 'unknown' | 'steady' | { readonly duty: number };

export type Prediction =
  /** `peakMilliamp`: what one sample may show there. */
  | { readonly kind: 'bearable'; readonly peakMilliamp: number }
  | { readonly kind: 'unknown' }
  | {
      readonly kind: 'too-much';
      readonly refusal: 'PREDICTED_CURRENT' | 'PREDICTED_POWER';
      readonly detail: number;
      readonly limit: number;
    };

type Target = { readonly contactMask: number; readonly table: ElementTable };

/** Below this current an operating point says nothing. */
const ENOUGH_MICROAMP = 500;
/** The source resistance is counted this much smaller than found, for drift and noise. */
const SOURCE_FRACTION = 0.95;
/** The duty is counted this much larger than found. */
const DUTY_FRACTION = 1.1;
/** One sample may show this many times the predicted peak. */
const PEAK_FRACTION = 1.25;
/** And, where the original circuit bounds it, this many times that circuit's own: the battery's wobble. */
const ORIGINAL_FRACTION = 1.1;
/** As near as the chain comes to a resistance: half of its widest step, and contacts. */
const NEAREST_MILLIOHM = 600;

const unknown: Prediction = { kind: 'unknown' };

/**
 * Whether a setting keeps current and every resistor inside its limits, from volts and amps measured before it is made.
 * Source: Thevenin circuit, I = Voc / (Rs + R) with Rs = (Voc - V) / I. Without a higher open-circuit voltage Rs is
 * taken as 0, and I <= V / R is then an upper bound for every R below the present one.
 */
export function predict(
  point: OperatingPoint,
  target: Target,
  limits: JobLimits,
  feed: Feed = 'steady',
): Prediction {
  if (!(Math.abs(point.currentMicroamp) >= ENOUGH_MICROAMP)) return unknown;
  const openMicrovolt = Math.max(point.openCircuitMicrovolt, point.terminalMicrovolt);
  const foundOhm = (openMicrovolt - point.terminalMicrovolt) / Math.abs(point.currentMicroamp);
  const sourceOhm = Math.max(0, foundOhm);
  const madeMilliohm = target.table.madeMilliohm(target.contactMask);
  const amp = openMicrovolt / 1e6 / (sourceOhm * SOURCE_FRACTION + madeMilliohm / 1000);
  const limit = limits.currentLimitMilliamp;
  if (amp * 1000 <= limit) return predictPower(amp * amp, target, limits) ?? bearable(limit);
  if (limits.peakLimitMilliamp > limit && amp * 1000 <= limits.peakLimitMilliamp) {
    if (feed === 'unknown') return unknown;
    const { originalLeastMilliohm } = limits;
    const originalAmp =
      originalLeastMilliohm > 0 ? openMicrovolt / 1e6 / (sourceOhm + originalLeastMilliohm / 1000) : Infinity;
    if (madeMilliohm < originalLeastMilliohm - NEAREST_MILLIOHM)
      return tooMuchCurrent(amp * 1000, originalAmp * 1000);
    if (feed !== 'steady') return predictPulses({ amp, originalAmp, duty: feed.duty }, target, limits);
  }
  return tooMuchCurrent(amp * 1000, limit);
}

const bearable = (peakMilliamp: number): Prediction => ({ kind: 'bearable', peakMilliamp });

type Pulses = { readonly amp: number; readonly originalAmp: number; readonly duty: number };

/** Heat goes with the mean square, which pulses make smaller by their duty; the peaks have limits of their own. */
function predictPulses(pulses: Pulses, target: Target, limits: JobLimits): Prediction {
  const { amp, originalAmp } = pulses;
  const duty = Math.min(1, pulses.duty * DUTY_FRACTION);
  const milliamp = amp * 1000 * Math.sqrt(duty);
  const limit = limits.currentLimitMilliamp;
  if (!(milliamp <= limit)) return tooMuchCurrent(milliamp, limit);
  const peakMilliamp = Math.min(PEAK_FRACTION * amp, ORIGINAL_FRACTION * originalAmp) * 1000;
  // What the pulses heat like, and what one of them is to a resistor that bears so much for an instant.
  const ampSquared = amp * amp * Math.max(duty, 1 / SHORT_OVERLOAD);
  return (
    predictPower(ampSquared, target, limits) ?? bearable(Math.min(limits.peakLimitMilliamp, peakMilliamp))
  );
}

const tooMuchCurrent = (detail: number, limit: number): Prediction => ({
  kind: 'too-much',
  refusal: 'PREDICTED_CURRENT',
  detail,
  limit,
});

/** The first resistor that would be too hot; nothing when all would bear it. */
function predictPower(
  ampSquared: number,
  { contactMask, table }: Target,
  limits: JobLimits,
): Prediction | undefined {
  for (let row = 0; row < elementCount + 1; row += 1) {
    if (!isInserted(contactMask, row)) continue;
    const milliwatt = ampSquared * table.milliohm[row]!;
    const limit = row === limiterRow ? ratedLimitMilliwatt(row) : rowLimitMilliwatt(row, limits);
    if (!(milliwatt <= limit))
      return { kind: 'too-much', refusal: 'PREDICTED_POWER', detail: milliwatt, limit };
  }
  return undefined;
}
