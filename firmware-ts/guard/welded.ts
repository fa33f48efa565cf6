import type { Guard } from './guard';
import { inARow } from './in-a-row';

/** Leakage and meter error stay far below this with the output open. */
const WELDED_MICROAMP = 500;
/** Before the first calibration nobody knows the meter's zero: resistors of 0.1 % may leave 4 mA of it. */
const UNCALIBRATED_MICROAMP = 5_000;

/** More than this through an open output is a welded contact. */
export const weldedMicroamp = (isCalibrated: boolean): number =>
  isCalibrated ? WELDED_MICROAMP : UNCALIBRATED_MICROAMP;

const SAMPLES_IN_A_ROW = 5;

/** Reports current through an output that is open: its contact is welded and the box cannot protect anything. */
export const weldedGuard = (): Guard =>
  inARow({
    samples: SAMPLES_IN_A_ROW,
    isWatching: ({ isOutputAtRestOpen }) => isOutputAtRestOpen,
    troubleIn: ({ currentMicroamp, isCalibrated }) => {
      const measured = Math.abs(currentMicroamp);
      const limit = weldedMicroamp(isCalibrated);
      return measured <= limit ? undefined : { fault: 'OUTPUT_WELDED', measured, limit };
    },
  });
