import type { Guard } from './guard';

/** Leakage and meter error stay far below this with the output open. */
const WELDED_MICROAMP = 500;
const SAMPLES_IN_A_ROW = 5;

/** Reports current through an output that is open: its contact is welded and the box cannot protect anything. */
export function weldedGuard(): Guard {
  let inARow = 0;
  return {
    check: ({ isOutputAtRestOpen, isFresh, currentMicroamp }) => {
      if (!isOutputAtRestOpen) inARow = 0;
      if (!isOutputAtRestOpen || !isFresh) return undefined;
      inARow = Math.abs(currentMicroamp) <= WELDED_MICROAMP ? 0 : inARow + 1;
      return inARow < SAMPLES_IN_A_ROW
        ? undefined
        : { fault: 'OUTPUT_WELDED', measured: Math.abs(currentMicroamp), limit: WELDED_MICROAMP };
    },
    reset: () => {
      inARow = 0;
    },
  };
}
