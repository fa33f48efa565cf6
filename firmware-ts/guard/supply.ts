import { faults } from '../../protocol';
import { limits as boxLimits } from '../board/reference-design';
import type { Guard } from './guard';
import type { JobLimits } from './job-limits';

const MICROVOLT_PER_MILLIVOLT = 1000;
/** Coils kick for a few milliseconds when their current changes; a supply stays. */
const SAMPLES_IN_A_ROW = 2;

/** Opens when the terminals carry more than the job's voltage for two samples in a row. */
export function supplyHighGuard(): Guard {
  let inARow = 0;
  return {
    check: ({ isArmed, isFresh, terminalMicrovolt }, { limits }) => {
      if (!isArmed || !isFresh) return undefined;
      const millivolt = terminalMicrovolt / MICROVOLT_PER_MILLIVOLT;
      inARow = millivolt <= limits.supplyLimitMillivolt ? 0 : inARow + 1;
      if (inARow < SAMPLES_IN_A_ROW) return undefined;
      return { fault: 'SUPPLY_HIGH', measured: millivolt, limit: limits.supplyLimitMillivolt };
    },
    reset: () => {
      inARow = 0;
    },
  };
}

/** Opens when the terminals are negative, as with swapped clips, for two samples in a row. */
export function supplyReversedGuard(): Guard {
  let inARow = 0;
  return {
    check: ({ isArmed, isFresh, terminalMicrovolt }) => {
      if (!isArmed || !isFresh) return undefined;
      const millivolt = terminalMicrovolt / MICROVOLT_PER_MILLIVOLT;
      inARow = millivolt >= boxLimits.reversedMillivolt ? 0 : inARow + 1;
      if (inARow < SAMPLES_IN_A_ROW) return undefined;
      return { fault: 'SUPPLY_REVERSED', measured: millivolt, limit: boxLimits.reversedMillivolt };
    },
    reset: () => {
      inARow = 0;
    },
  };
}

/** Number of the supply fault that is there now, 0 for none; asked before arming. */
export function supplyFault(terminalMicrovolt: number, limits: JobLimits): number {
  const millivolt = terminalMicrovolt / MICROVOLT_PER_MILLIVOLT;
  if (!(millivolt <= limits.supplyLimitMillivolt)) return faults.SUPPLY_HIGH.number;
  return millivolt >= boxLimits.reversedMillivolt ? 0 : faults.SUPPLY_REVERSED.number;
}
