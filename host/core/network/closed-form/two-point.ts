import type { Pair } from './pair';
import { spansOf } from './feasibility';

/**
 * Closed forms for two points r1 > r2 wanted as R1 > R2; D = R1 - R2, d = r1 - r2. The caller has made sure that the
 * demand is feasible and neither purely series (D = d) nor purely shunt. Ohm.
 * Source: derived from R = Rs + r Rp / (r + Rp) and R = Rp || (Rs + r); trade vectors in solve.test.ts.
 */
export const shuntThenSeries = (high: Pair, low: Pair): readonly [seriesOhm: number, shuntOhm: number] => {
  const { wantedOhm: D } = spansOf(high, low);
  const scaled = D * (high.senderOhm + low.senderOhm);
  // (r1 - R1) - (r2 - R2) equals d - D and keeps the digits when each difference is small beside the resistances.
  const lost = high.senderOhm - high.wantedOhm - (low.senderOhm - low.wantedOhm);
  const shuntOhm =
    (scaled + Math.sqrt(scaled * scaled + 4 * lost * D * high.senderOhm * low.senderOhm)) / (2 * lost);
  // From the lower point: its series term is the larger part of what is seen, so fewer digits cancel.
  const seriesOhm = low.wantedOhm - (shuntOhm * low.senderOhm) / (shuntOhm + low.senderOhm);
  return [seriesOhm, shuntOhm];
};

/** As above, the series resistor next to the sender and the shunt next to the gauge. Ohm. */
export const seriesThenShunt = (high: Pair, low: Pair): readonly [seriesOhm: number, shuntOhm: number] => {
  const { senderOhm: d, wantedOhm: D } = spansOf(high, low);
  const sum = high.senderOhm + low.senderOhm;
  const product = (d * high.wantedOhm * low.wantedOhm) / D;
  // Textbook form is (sqrt(d^2 + 4 d R1 R2 / D) - sum) / 2, which cancels when the series resistor is small.
  const seriesOhm = (2 * (product - high.senderOhm * low.senderOhm)) / (sum + Math.sqrt(d * d + 4 * product));
  const branchOhm = high.senderOhm + seriesOhm;
  const shuntOhm = (high.wantedOhm * branchOhm) / (high.senderOhm - high.wantedOhm + seriesOhm);
  return [seriesOhm, shuntOhm];
};

/** What a gauge shunt must do for two points: gain m = 1 + Rg/Rx and the series resistor beside the sender. */
export type GaugeShuntDemand = {
  readonly gain: number;
  readonly seriesOhm: number;
  /** Rx / Rg: the resistor across the gauge in multiples of the gauge's own resistance. */
  readonly shuntPerGauge: number;
};

/**
 * The gauge shunt for two points; `gain` below 1 or a negative series resistor mean that it cannot be built.
 * Source: m (r + Rs) = R at both points, so m = D/d.
 */
export const gaugeShuntDemand = (high: Pair, low: Pair): GaugeShuntDemand => {
  const spans = spansOf(high, low);
  const gain = spans.wantedOhm / spans.senderOhm;
  return { gain, seriesOhm: high.wantedOhm / gain - high.senderOhm, shuntPerGauge: 1 / (gain - 1) };
};
