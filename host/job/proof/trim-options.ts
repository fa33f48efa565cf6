import type { TrimOptions } from '../../core/network';
import type { JobState } from '../state/state';
import { limitOf } from './verdict';

/** What a search for a network is asked in this job: its limit, its terminals, and what somebody wished for. */
export function trimOptionsOf(state: JobState): TrimOptions {
  const { gauge, trimRequest: asked } = state;
  const { maxParts, stockOhm } = asked ?? {};
  const isCount = maxParts === 0 || maxParts === 1 || maxParts === 2 || maxParts === 3;
  return {
    mechanism: gauge.mechanism,
    limit: limitOf(state).size,
    ...(gauge.terminals === undefined ? {} : { terminals: gauge.terminals }),
    ...(isCount ? { maxParts } : {}),
    ...(asked?.from === undefined ? {} : { from: asked.from }),
    ...(asked?.to === undefined ? {} : { to: asked.to }),
    ...(asked?.series === undefined ? {} : { series: asked.series }),
    ...(asked?.tolerancePercent === undefined ? {} : { tolerancePercent: asked.tolerancePercent }),
    ...(asked?.supplyVolt === undefined ? {} : { supplyVolt: asked.supplyVolt }),
    ...(asked?.gaugeOhm === undefined ? {} : { gaugeOhm: asked.gaugeOhm }),
    ...(asked?.weights === undefined
      ? {}
      : { weights: asked.weights.map(({ reading, weight }) => ({ value: reading, weight })) }),
    ...(stockOhm === undefined || stockOhm.length === 0
      ? {}
      : { stock: stockOhm.map((resistanceOhm) => ({ resistanceOhm })) }),
  };
}
