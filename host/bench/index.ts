export { openBench, type Bench, type BenchOptions } from './bench';
export { Clusters } from './cluster/clusters';
export type { ClusterDesk } from './cluster/cluster-desk';
export type { BoxStopped } from './berths';
export type { StopReport } from './claims';
export type { Accepted } from './entries';
export { OpenJob, type StopOutcome } from './open-job';
export type { JobNews } from './people/listeners';
export { systemBenchClock, type BenchClock } from './clock';
export {
  simulatedOperator,
  type Human,
  type OperatorOptions,
  type SimulatedOperator,
} from './people/simulated-operator';
export {
  calibrate,
  type Calibrated,
  type CalibrationFinding,
  type CalibrationPerson,
  type CalibrationStep,
} from './calibrate/calibrate';
export { bandOf } from './calibrate/bands';
export { printedOhm, type ElementTable, type TableRow } from './calibrate/element-table';
