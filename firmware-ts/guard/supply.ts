import { faults } from '../../protocol';
import { limits as boxLimits } from '../board/reference-design';
import type { Guard, Trip } from './guard';
import { inARow } from './in-a-row';
import type { JobLimits } from './job-limits';

const MICROVOLT_PER_MILLIVOLT = 1000;
/** Coils kick for a few milliseconds when their current changes; a supply stays. */
const SAMPLES_IN_A_ROW = 2;

function supplyTrip(terminalMicrovolt: number, { supplyLimitMillivolt }: JobLimits): Trip | undefined {
  const measured = terminalMicrovolt / MICROVOLT_PER_MILLIVOLT;
  const { reversedMillivolt } = boxLimits;
  if (!(measured <= supplyLimitMillivolt))
    return { fault: 'SUPPLY_HIGH', measured, limit: supplyLimitMillivolt };
  return measured >= reversedMillivolt
    ? undefined
    : { fault: 'SUPPLY_REVERSED', measured, limit: reversedMillivolt };
}

/**
 * Opens when the terminals carry more than the job's voltage, or are negative as with swapped clips, for two samples in
 * a row.
 */
export const supplyGuard = (): Guard =>
  inARow({
    samples: SAMPLES_IN_A_ROW,
    isWatching: ({ isArmed }) => isArmed,
    troubleIn: ({ terminalMicrovolt }, { limits }) => supplyTrip(terminalMicrovolt, limits),
  });

/** Number of the supply fault that is there now, 0 for none; asked before arming. */
export function supplyFault(terminalMicrovolt: number, limits: JobLimits): number {
  const trip = supplyTrip(terminalMicrovolt, limits);
  return trip === undefined ? 0 : faults[trip.fault].number;
}
