import { refuse } from '../../result';
import type { Answer } from './answer';
import { answerWith, negativePart, SAME } from './answer';
import { refuseTwoPoints } from './feasibility';
import type { Pair } from './pair';
import { figure } from '../../figure';
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
 * known (the answer in multiples of it is in the sentence).
 */
export const gaugeShuntFor = (pairs: readonly Pair[], gaugeOhm: number | undefined): Answer => {
  const high = pairs[0]!;
  const low = pairs.length > 1 ? pairs.at(-1)! : undefined;
  if (low && high.wantedOhm < low.wantedOhm) return refuseTwoPoints(high, low)!;
  const demand = demandOf(high, low);
  if (!(demand.gain > 1 && demand.gain < Infinity))
    return refuse(
      'SPAN_OHM',
      `a resistor across the gauge widens the sender's span; ${figure(demand.gain)} times the span is wanted, which it cannot give: use resistors around the sender`,
    );
  const seriesOhm = Math.abs(demand.seriesOhm) <= SAME * high.senderOhm ? 0 : demand.seriesOhm;
  const across = `${figure(demand.shuntPerGauge)} times the gauge's own resistance across it`;
  if (seriesOhm < 0)
    return negativePart(
      `with ${across} (gain ${figure(demand.gain)}) the series resistor`,
      seriesOhm,
      'leave it out and accept an offset, or use a sender that starts lower',
    );
  if (gaugeOhm === undefined)
    return refuse(
      'GAUGE_OHM',
      `a two-terminal gauge needs ${across} and ${figure(seriesOhm)} ohm in series with the sender: measure the gauge between its terminals and give its resistance`,
    );
  const shuntOhm = gaugeOhm * demand.shuntPerGauge;
  return answerWith('gauge-shunt', seriesOhm === 0 ? [shuntOhm] : [shuntOhm, seriesOhm], gaugeOhm);
};
