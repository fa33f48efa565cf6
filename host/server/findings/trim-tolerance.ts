import { networkOf, toleranceErrors, type Trimmed, type TrimOptions } from '../../core/network';
import type { GaugeResponse, SenderResponse } from '../../core/response';
import type { TrimFinding } from '../../job/findings';

/** As many networks as the page lists. */
const MOST_BANDS = 8;

export type TrimmedPair = {
  readonly trimmed: Trimmed;
  readonly gauge: GaugeResponse;
  readonly sender: SenderResponse;
  /** What the trim was asked, with the circuit where it is known. */
  readonly options: TrimOptions;
};

/**
 * The error of each network over the band with a sender at the low and at the high end of its stated tolerance.
 * Source: `toleranceErrors`.
 */
export const toleranceOf = (
  { trimmed, gauge, sender, options }: TrimmedPair,
  percent: number,
): NonNullable<TrimFinding['tolerance']> => {
  const networks = trimmed.candidates.slice(0, MOST_BANDS).map(({ topology, parts }) =>
    networkOf(
      topology,
      parts.map((part) => part.resistanceOhm),
      options.gaugeOhm,
    ),
  );
  const bands = toleranceErrors(gauge, sender, options, { networks, percent });
  return {
    percent,
    bands: bands.map((rows) => rows.map(({ value, low, high }) => ({ x: value, y: high, low, high }))),
  };
};
