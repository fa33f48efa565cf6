import type { Guard } from './guard';
import { inARow } from './in-a-row';

/** Leakage and meter error stay far below this with the output open. */
const WELDED_MICROAMP = 500;
const SAMPLES_IN_A_ROW = 5;

/** Reports current through an output that is open: its contact is welded and the box cannot protect anything. */
export const weldedGuard = (): Guard =>
  inARow({
    samples: SAMPLES_IN_A_ROW,
    isWatching: ({ isOutputAtRestOpen }) => isOutputAtRestOpen,
    troubleIn: ({ currentMicroamp }) => {
      const measured = Math.abs(currentMicroamp);
      return measured <= WELDED_MICROAMP
        ? undefined
        : { fault: 'OUTPUT_WELDED', measured, limit: WELDED_MICROAMP };
    },
  });
