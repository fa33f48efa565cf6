import type { Feed } from './power';
import type { TrimOptions } from '../search/trim-options';
import { trimDefaults } from '../search/trim-options';

/** A figure that was not given. */
export type Assumed = 'supply' | 'highest-supply' | 'gauge-ohm';

/** The supplies a design is checked at, and what had to be assumed about them. */
export type Feeds = {
  readonly usual: Feed;
  readonly worst: Feed;
  readonly assumed: readonly Assumed[];
};

/** Up to here a gauge belongs to the family with a low-voltage stabiliser and a heater of about 12 ohm. */
const LOW_SYSTEM_VOLT = 6;
/** Low ends of what gauges measure between their terminals: less resistance means more power. Common practice, no source. */
const LOW_SYSTEM_GAUGE_OHM = 12;
const USUAL_GAUGE_OHM = 50;

/**
 * Usual and worst supply behind the gauge. Source: two-terminal model; assumed figures are common practice, no source,
 * and are named in `assumed`.
 */
export const feedsFor = (options: TrimOptions): Feeds => {
  const supplyVolt = options.supplyVolt ?? trimDefaults.supplyVolt;
  const highestVolt = Math.max(supplyVolt, options.highestSupplyVolt ?? trimDefaults.highestSupplyVolt);
  const assumedOhm = supplyVolt <= LOW_SYSTEM_VOLT ? LOW_SYSTEM_GAUGE_OHM : USUAL_GAUGE_OHM;
  const gaugeOhm = options.gaugeOhm ?? assumedOhm;
  const assumed: Assumed[] = [];
  if (options.supplyVolt === undefined) assumed.push('supply');
  if (options.highestSupplyVolt === undefined) assumed.push('highest-supply');
  if (options.gaugeOhm === undefined) assumed.push('gauge-ohm');
  return {
    usual: { supplyVolt, gaugeOhm },
    worst: { supplyVolt: highestVolt, gaugeOhm },
    assumed,
  };
};
