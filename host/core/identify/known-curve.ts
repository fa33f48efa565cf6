import type { GaugeResponse, SenderResponse } from '../response';
import { compressedOhm, compressionSlope } from './compressed-ohm';

/**
 * A curve of the catalogue in the scale in which it is compared: gauges as reading over resistance, senders as
 * compressed resistance over value. Linked errors of all its points (a part 8 % high is 8 % high everywhere) are told
 * apart from those that differ from point to point.
 */
export type KnownCurve = {
  readonly id: string;
  readonly from: number;
  readonly to: number;
  readonly expected: (argument: number) => number;
  /** Standard uncertainty of `expected`, differing from point to point. */
  readonly uncertainty: (argument: number) => number;
  /** Standard uncertainty that all points share. */
  readonly sharedUncertainty: number;
};

/** One observation in the same scale. */
export type Observation = {
  readonly argument: number;
  readonly observed: number;
  readonly argumentUncertainty: number;
  readonly observedUncertainty: number;
};

/** Spread of parts of one family, plus or minus percent. Source: +-10 % is what a published sender sheet grants; common practice. */
const USUAL_SENDER_TOLERANCE_PERCENT = 10;
/** Zero of a gauge against its family, plus or minus percent of span. Common practice, no source. */
const USUAL_GAUGE_TOLERANCE_PERCENT = 3;

/** A sender of the catalogue, its family's tolerance shared by all its points. Source: derived here. */
export function knownSender(
  id: string,
  response: SenderResponse,
  tolerancePercent = USUAL_SENDER_TOLERANCE_PERCENT,
): KnownCurve {
  return {
    id,
    from: response.knownFrom,
    to: response.knownTo,
    expected: (value) => compressedOhm(response.ohm(value)),
    uncertainty: (value) => {
      const resistanceOhm = response.ohm(value);
      return response.relativeUncertainty(value) * resistanceOhm * compressionSlope(resistanceOhm);
    },
    sharedUncertainty: tolerancePercent / 100 / Math.sqrt(3),
  };
}

/** A gauge of the catalogue, its zero shared by all its points. Source: derived here. */
export function knownGauge(
  id: string,
  response: GaugeResponse,
  tolerancePercent = USUAL_GAUGE_TOLERANCE_PERCENT,
): KnownCurve {
  const span = Math.abs(response.highestReading - response.lowestReading);
  return {
    id,
    from: response.measuredFromOhm,
    to: response.measuredToOhm,
    expected: response.reading,
    uncertainty: response.readingUncertainty,
    sharedUncertainty: (span * tolerancePercent) / 100 / Math.sqrt(3),
  };
}
