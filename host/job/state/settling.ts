import type { Gauge } from '../schema/gauge';

/**
 * How long a needle needs to rest, in ms. Source: the trade's default measurement script (60 s thermal, 15 s magnetic,
 * 20 s electronic); common practice, no primary source. Unknown waits like the slowest.
 */
const SETTLE_MS: Readonly<Record<Gauge['mechanism'], number>> = {
  thermal: 60_000,
  'two-coil': 15_000,
  'cross-coil': 15_000,
  'moving-coil': 15_000,
  electronic: 20_000,
  unknown: 60_000,
};

export const settleMsOf = (mechanism: Gauge['mechanism']): number => SETTLE_MS[mechanism];
