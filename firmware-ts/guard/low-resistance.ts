import type { Guard } from './guard';

/**
 * Opens when the gauge has been held below the resistance floor for too long. Time above the floor is paid back at the
 * same rate, so that short visits add up.
 */
export function lowResistanceGuard(): Guard {
  let lowMs = 0;
  return {
    check: ({ isDriving, madeMilliohm, elapsedMs }, { limits }) => {
      const isLow = isDriving && !(madeMilliohm >= limits.floorMilliohm);
      lowMs = isLow ? lowMs + elapsedMs : Math.max(0, lowMs - elapsedMs);
      return lowMs <= limits.floorTimeMs
        ? undefined
        : { fault: 'LOW_RESISTANCE_TIME', measured: lowMs, limit: limits.floorTimeMs };
    },
    // Not forgotten at arming: the gauge's heater does not cool by it.
    reset: () => undefined,
  };
}
