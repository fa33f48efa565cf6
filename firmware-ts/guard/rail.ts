import { limits as boxLimits } from '../board/reference-design';
import type { Guard } from './guard';

/** Below this the rail is not weak but cut off. */
export const RAIL_OFF_MILLIVOLT = 1_000;
/** The rail needs this long to rise after the first pulse, and a dip this short is a coil closing. */
const PATIENCE_MS = 30;

/** Opens when the coil rail is weak (brown-out) or cut (the hardware dead-man has run out). */
export function railGuard(): Guard {
  /** Since it was first seen low; less than 0 while it is not. */
  let lowMs = -1;
  return {
    check: ({ isArmed, isRailWanted, railMillivolt, elapsedMs }) => {
      const isLow = isArmed && isRailWanted && !(railMillivolt >= boxLimits.railMinMillivolt);
      if (!isLow) lowMs = -1;
      else lowMs = lowMs < 0 ? 0 : lowMs + elapsedMs;
      if (lowMs <= PATIENCE_MS) return undefined;
      const fault = railMillivolt <= RAIL_OFF_MILLIVOLT ? 'COIL_SUPPLY' : 'BROWN_OUT';
      return { fault, measured: railMillivolt, limit: boxLimits.railMinMillivolt };
    },
    reset: () => {
      lowMs = -1;
    },
  };
}
