import type { Quantity } from '../../response';
import type { RuleSays } from '../remarks';

/** What an instrument must not do at the values where being wrong hurts. Errors are indicated minus true, dial units. */
export type SafetyRule = {
  readonly says: RuleSays;
  readonly limit: number;
  /** Smallest and largest error allowed at a true value; infinite where the rule is silent. */
  readonly allowed: (value: number) => { readonly lowest: number; readonly highest: number };
};

/** Which part of the used band is "the hot end" or "near empty". Common practice, no source. */
const END_FRACTION = 0.25;
/**
 * Default limit as a fraction of the band: 8 K on a temperature gauge used over 80 K. Source: two makers' own spread of
 * a whole gauge system, +/-15 and 16 degF at 180 to 200 degF; that it suits fuel and pressure is common practice.
 */
export const DEFAULT_LIMIT_FRACTION = 0.1;

const silent = { lowest: -Infinity, highest: Infinity };

/**
 * Temperature: must not read low in the hottest quarter of the band. Pressure: must not read high. Fuel: must not read
 * high in the emptiest quarter. `limit` in dial units.
 * Source: fail-visible rule of the trade; the quarter is common practice, no source.
 */
export const safetyRule = (
  quantity: Quantity,
  band: { readonly from: number; readonly to: number },
  limit: number,
): SafetyRule => {
  const edge = END_FRACTION * (band.to - band.from);
  switch (quantity) {
    case 'temperature':
      return {
        says: { side: 'low', limit, from: band.to - edge },
        limit,
        allowed: (value) => (value >= band.to - edge ? { lowest: -limit, highest: Infinity } : silent),
      };
    case 'pressure':
      return {
        says: { side: 'high', limit },
        limit,
        allowed: () => ({ lowest: -Infinity, highest: limit }),
      };
    case 'fuel':
      return {
        says: { side: 'high', limit, upTo: band.from + edge },
        limit,
        allowed: (value) => (value <= band.from + edge ? { lowest: -Infinity, highest: limit } : silent),
      };
    case 'other':
      return { says: { side: 'either' }, limit, allowed: () => silent };
  }
};
