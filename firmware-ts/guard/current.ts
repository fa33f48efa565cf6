import { hardwareTrip } from '../board/reference-design';
import { nothingToForget } from './guard';
import type { Guard } from './guard';

const MICROAMP_PER_MILLIAMP = 1000;

/** Opens on one sample of too much current, either way round. */
export const currentGuard: Guard = {
  check: ({ isArmed, isFresh, currentMicroamp }, { limits }) => {
    const milliamp = Math.abs(currentMicroamp) / MICROAMP_PER_MILLIAMP;
    return isArmed && isFresh && !(milliamp <= limits.currentLimitMilliamp)
      ? { fault: 'CURRENT_HIGH', measured: milliamp, limit: limits.currentLimitMilliamp }
      : undefined;
  },
  reset: nothingToForget,
};

/** Reports what a comparator on the shunt has already done by itself; the line does not tell which of them. */
export const hardwareCurrentGuard: Guard = {
  check: ({ isArmed, isHardwareTripped }) =>
    isArmed && isHardwareTripped
      ? { fault: 'CURRENT_HIGH', measured: hardwareTrip.slow.milliamp, limit: hardwareTrip.slow.milliamp }
      : undefined,
  reset: nothingToForget,
};
