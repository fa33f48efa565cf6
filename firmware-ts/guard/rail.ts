import { limits as boxLimits } from '../board/reference-design';
import type { Guard } from './guard';

/** Below this the rail is not weak but cut off. */
export const RAIL_OFF_MILLIVOLT = 1_000;
/** The rail needs this long to rise after the first pulse, and a dip this short is a coil closing. */
const PATIENCE_MS = 30;

/** Opens when the coil rail is weak (brown-out) or cut (the hardware dead-man has run out). */
export function railGuard(): Guard {
  let lowMs = 0;
  return {
    check: ({ isArmed, isRailWanted, railMillivolt, elapsedMs }) => {
      const isLow = isArmed && isRailWanted && !(railMillivolt >= boxLimits.railMinMillivolt);
      lowMs = isLow ? lowMs + elapsedMs : 0;
      if (lowMs <= PATIENCE_MS) return undefined;
      const fault = railMillivolt <= RAIL_OFF_MILLIVOLT ? 'COIL_SUPPLY' : 'BROWN_OUT';
      return { fault, measured: railMillivolt, limit: boxLimits.railMinMillivolt };
    },
    reset: () => {
      lowMs = 0;
    },
  };
}
