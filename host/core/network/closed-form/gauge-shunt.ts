import { refuse } from '../../refusal';
import type { Answer } from './answer';
import { answerWith, negativePart, SAME } from './answer';
import { refuseTwoPoints } from './feasibility';
import type { Pair } from './pair';
import type { GaugeShuntDemand } from './two-point';
import { gaugeShuntDemand } from './two-point';

const demandOf = (high: Pair, low: Pair | undefined): GaugeShuntDemand => {
  if (low) return gaugeShuntDemand(high, low);
  const gain = high.wantedOhm / high.senderOhm;
  return { gain, seriesOhm: 0, shuntPerGauge: 1 / (gain - 1) };
};

/**
 * The resistor across a two-terminal gauge (and, for two pairs, the resistor in series with the sender), ohm.
 * Source: trade derivation m (r + Rs) = R, m = 1 + Rg/Rx.
 * Refuses: SENSE; SPAN_OHM when a shrinking is wanted; NEGATIVE_PART; GAUGE_OHM when the gauge's own resistance is not
 * known (the answer in multiples of it is in the slots).
 */
export const gaugeShuntFor = (pairs: readonly Pair[], gaugeOhm: number | undefined): Answer => {
  const high = pairs[0]!;
  const low = pairs.length > 1 ? pairs.at(-1)! : undefined;
  if (low && high.wantedOhm < low.wantedOhm) return refuseTwoPoints(high, low)!;
  const demand = demandOf(high, low);
  if (!(demand.gain > 1 && demand.gain < Infinity)) return refuse('SPAN_OHM', { spanRatio: demand.gain });
  const seriesOhm = Math.abs(demand.seriesOhm) <= SAME * high.senderOhm ? 0 : demand.seriesOhm;
  const { shuntPerGauge } = demand;
  if (seriesOhm < 0)
    return negativePart({ part: 'series-beside-gauge-shunt', partOhm: seriesOhm, shuntPerGauge });
  if (gaugeOhm === undefined) return refuse('GAUGE_OHM', { shuntPerGauge, seriesOhm });
  const shuntOhm = gaugeOhm * shuntPerGauge;
  return answerWith('gauge-shunt', seriesOhm === 0 ? [shuntOhm] : [shuntOhm, seriesOhm], gaugeOhm);
};
