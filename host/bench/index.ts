export { openBench, type Bench, type BenchOptions } from './bench';
export { JobDesk, type Accepted, type DeskNews, type StopOutcome } from './desk';
export { hurriedClock, systemBenchClock, type BenchClock } from './clock';
