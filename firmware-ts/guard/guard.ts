import type { FaultName } from '../../protocol';
import type { ElementTable } from '../ladder/table';
import type { JobLimits } from './job-limits';

/** Why the output must open: units as the fault catalogue says. */
export type Trip = { readonly fault: FaultName; readonly measured: number; readonly limit: number };

/** What the guards look at, filled anew before each look. One object, reused. */
export type GuardView = {
  /** Since the last look. */
  elapsedMs: number;
  /** Volts and amps are new since the last look. */
  isFresh: boolean;
  /** A gauge is being driven or may be at any moment. */
  isArmed: boolean;
  isOutputClosed: boolean;
  /** A gauge is on the output, not the box's own current source. */
  isDriving: boolean;
  /** Contacts at rest and the meter has had time to follow. */
  isSettled: boolean;
  /** The output has been open for longer than its contact needs. */
  isOutputAtRestOpen: boolean;
  /** The meter's corrections are known. */
  isCalibrated: boolean;
  terminalMicrovolt: number;
  currentMicroamp: number;
  /** What one sample of current may show in the present circuit. */
  peakLimitMilliamp: number;
  meterAgeMs: number;
  contactMask: number;
  madeMilliohm: number;
  hostSilentMs: number;
  leaseMs: number;
  railMillivolt: number;
  isRailWanted: boolean;
  isHardwareTripped: boolean;
};

export type GuardContext = { readonly limits: JobLimits; readonly table: ElementTable };

/** One reason to open the output. `check` answers a trip or nothing; comparisons are written so that NaN trips. */
export type Guard = {
  readonly check: (view: Readonly<GuardView>, context: GuardContext) => Trip | undefined;
  /** Forgets what it has gathered, at arming. Heat is not forgotten: a resistor does not cool by being armed. */
  readonly reset: () => void;
};

export const nothingToForget = (): void => undefined;
