export { openBench, type Bench, type BenchOptions } from './bench';
export { JobDesk, type Accepted, type StopOutcome } from './desk';
export type { DeskNews } from './listeners';
export { systemBenchClock, type BenchClock } from './clock';
export {
  simulatedOperator,
  steadyHand,
  type Human,
  type OperatorOptions,
  type SimulatedOperator,
} from './operator';
export {
  calibrate,
  type Calibrated,
  type CalibrationFinding,
  type CalibrationPerson,
  type CalibrationStep,
} from './calibrate';
export { bandOf } from './calibration-bands';
export { printedOhm, type ElementTable, type TableRow } from './element-table';
