import { nothingToForget } from './guard';
import type { Guard } from './guard';

/** Six conversions missed: the guard is blind, so the output must open. */
export const METER_SILENT_MS = 60;

/** Opens when volts and amps are too old to protect anything. */
export const meterSilentGuard: Guard = {
  check: ({ isArmed, meterAgeMs }) =>
    isArmed && !(meterAgeMs <= METER_SILENT_MS)
      ? { fault: 'METER_SILENT', measured: meterAgeMs, limit: METER_SILENT_MS }
      : undefined,
  reset: nothingToForget,
};
