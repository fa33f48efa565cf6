import { refuse, type Refused } from '../../core/result';
import type { JobState } from '../../job/state';
import { curveReadings } from '../../job/views';
import type { PlotPoint } from '../plot/columns';

export type DrawnCurve = {
  readonly kind: 'curve';
  readonly line: readonly PlotPoint[];
  readonly low: readonly PlotPoint[];
  readonly high: readonly PlotPoint[];
  readonly words: string;
  readonly warnings: readonly string[];
};

export function curveOf(state: JobState): DrawnCurve | Refused {
  return refuse('CURVE_TOO_FEW', `${curveReadings(state).length} readings so far.`);
}
