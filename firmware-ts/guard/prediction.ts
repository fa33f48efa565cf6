import { elementCount, isInserted, limiterRow } from '../ladder/table';
import type { ElementTable } from '../ladder/table';
import type { JobLimits } from './job-limits';
import { ratedLimitMilliwatt } from './power';

/** What is known of the circuit behind the terminals: one operating point and the voltage with the output open. */
export type OperatingPoint = {
  readonly terminalMicrovolt: number;
  readonly currentMicroamp: number;
  readonly openCircuitMicrovolt: number;
};

export type Prediction =
  | { readonly kind: 'bearable' }
  | { readonly kind: 'unknown' }
  | {
      readonly kind: 'too-much';
      readonly refusal: 'PREDICTED_CURRENT' | 'PREDICTED_POWER';
      readonly detail: number;
      readonly limit: number;
    };

/** Below this current an operating point says nothing. */
const ENOUGH_MICROAMP = 500;
/** The source resistance is counted this much smaller than found, for drift and noise. */
const SOURCE_FRACTION = 0.95;

/**
 * Whether a setting keeps current and every resistor inside its limits, from volts and amps measured before it is made.
 * Source: Thevenin circuit, I = Voc / (Rs + R) with Rs = (Voc - V) / I. Without a higher open-circuit voltage Rs is
 * taken as 0, and I <= V / R is then an upper bound for every R below the present one.
 */
export function predict(
  point: OperatingPoint,
  target: { readonly contactMask: number; readonly table: ElementTable },
  limits: JobLimits,
): Prediction {
  if (!(Math.abs(point.currentMicroamp) >= ENOUGH_MICROAMP)) return { kind: 'unknown' };
  const openMicrovolt = Math.max(point.openCircuitMicrovolt, point.terminalMicrovolt);
  const foundOhm = (openMicrovolt - point.terminalMicrovolt) / Math.abs(point.currentMicroamp);
  const sourceOhm = Math.max(0, foundOhm) * SOURCE_FRACTION;
  const amp = openMicrovolt / 1e6 / (sourceOhm + target.table.madeMilliohm(target.contactMask) / 1000);
  if (!(amp * 1000 <= limits.currentLimitMilliamp)) {
    return {
      kind: 'too-much',
      refusal: 'PREDICTED_CURRENT',
      detail: amp * 1000,
      limit: limits.currentLimitMilliamp,
    };
  }
  return predictPower(amp, target, limits);
}

function predictPower(
  amp: number,
  target: { readonly contactMask: number; readonly table: ElementTable },
  limits: JobLimits,
): Prediction {
  for (let row = 0; row < elementCount + 1; row += 1) {
    if (!isInserted(target.contactMask, row)) continue;
    const milliwatt = amp * amp * target.table.milliohm[row]!;
    const limit =
      row === limiterRow
        ? ratedLimitMilliwatt(row)
        : Math.min(limits.elementPowerLimitMilliwatt, ratedLimitMilliwatt(row));
    if (!(milliwatt <= limit))
      return { kind: 'too-much', refusal: 'PREDICTED_POWER', detail: milliwatt, limit };
  }
  return { kind: 'bearable' };
}
