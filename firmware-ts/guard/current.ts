import { hardwareTrip } from '../board/reference-design';
import { nothingToForget } from './guard';
import type { Guard } from './guard';

const MICROAMP_PER_MILLIAMP = 1000;
/** A gauge's heater follows in this time at the soonest. A stabiliser that sticks closed must be found within 2.5 s. */
const HEAT_MS = 6_000;
/** What was not measured counts as this many times the limit. */
const UNKNOWN_TIMES = 2;

/**
 * Two limits on the current, either way round. Peak: one sample above it opens. Heat: the root mean square of the last
 * seconds must stay within the job's limit, because what a heater feels is the mean square. The two differ only for a
 * thermal gauge behind a pulsing stabiliser.
 */
export function currentGuard(): Guard {
  let squares = 0;
  return {
    check: (
      { isArmed, isFresh, isOutputClosed, currentMicroamp, peakLimitMilliamp, elapsedMs },
      { limits },
    ) => {
      const milliamp = Math.abs(currentMicroamp) / MICROAMP_PER_MILLIAMP;
      const limit = limits.currentLimitMilliamp;
      const known = milliamp < Infinity ? milliamp : UNKNOWN_TIMES * limit;
      const part = elapsedMs < HEAT_MS ? elapsedMs / HEAT_MS : 1;
      squares += ((isOutputClosed ? known * known : 0) - squares) * part;
      if (!isArmed) return undefined;
      if (isFresh && !(milliamp <= peakLimitMilliamp))
        return { fault: 'CURRENT_HIGH', measured: milliamp, limit: peakLimitMilliamp };
      if (!(squares <= limit * limit)) return { fault: 'CURRENT_HIGH', measured: Math.sqrt(squares), limit };
      return undefined;
    },
    // Not forgotten at arming: the gauge's heater does not cool by it.
    reset: nothingToForget,
  };
}

/** Reports what a comparator on the shunt has already done by itself; the line does not tell which of them. */
export const hardwareCurrentGuard: Guard = {
  check: ({ isArmed, isHardwareTripped }) =>
    isArmed && isHardwareTripped
      ? { fault: 'CURRENT_HIGH', measured: hardwareTrip.slow.milliamp, limit: hardwareTrip.slow.milliamp }
      : undefined,
  reset: nothingToForget,
};
