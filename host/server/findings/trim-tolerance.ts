import { networkOf, seenOhm, type Trimmed } from '../../core/network';
import type { GaugeResponse, SenderResponse } from '../../core/response';
import type { LinePoint, TrimFinding } from '../../job/findings';

const PARTS = 40;
/** As many networks as the page lists. */
const MOST_BANDS = 8;

export type TrimmedPair = {
  readonly trimmed: Trimmed;
  readonly gauge: GaugeResponse;
  readonly sender: SenderResponse;
  readonly gaugeOhm: number | undefined;
};

/**
 * The error of each network over the band with a sender at the low and at the high end of its stated tolerance.
 * Source: R (1 +- tolerance) through the network and the gauge's curve; derived here.
 */
export const toleranceOf = (
  { trimmed, gauge, sender, gaugeOhm }: TrimmedPair,
  percent: number,
): NonNullable<TrimFinding['tolerance']> => {
  const { from, to } = trimmed.band;
  const bands = trimmed.candidates.slice(0, MOST_BANDS).map((candidate) => {
    const network = networkOf(
      candidate.topology,
      candidate.parts.map((part) => part.resistanceOhm),
      gaugeOhm,
    );
    const errorAt = (value: number, factor: number): number =>
      gauge.reading(seenOhm(network, sender.ohm(value) * factor)) - value;
    return Array.from({ length: PARTS + 1 }, (_, index): LinePoint => {
      const x = from + ((to - from) * index) / PARTS;
      const ends = [errorAt(x, 1 - percent / 100), errorAt(x, 1 + percent / 100)];
      return { x, y: errorAt(x, 1), low: Math.min(...ends), high: Math.max(...ends) };
    }).filter((point) => [point.y, point.low, point.high].every(Number.isFinite));
  });
  return { percent, bands };
};
