import type { Quantity } from '../../response';
import type { DangerSays, RuleSays } from '../remarks';

/** What an instrument must not do at the values where being wrong hurts. Errors are indicated minus true, dial units. */
export type SafetyRule = {
  readonly says: RuleSays;
  readonly limit: number;
  /** Smallest and largest error allowed at a true value; infinite where the rule is silent. */
  readonly allowed: (value: number) => { readonly lowest: number; readonly highest: number };
  /** The errors that count more than others, and by how much; undefined where no side is the dangerous one. */
  readonly danger: DangerSays | undefined;
};

/** Which part of the used band is "the hot end" or "near empty". Common practice, no source. */
const END_FRACTION = 0.25;
/**
 * Default limit as a fraction of the band: 8 K on a temperature gauge used over 80 K. Source: two makers' own spread of
 * a whole gauge system, +/-15 and 16 degF at 180 to 200 degF; that it suits fuel and pressure is common practice.
 */
export const DEFAULT_LIMIT_FRACTION = 0.1;

/** An error that hides danger counts as two that cry wolf. Common practice, no source. */
export const DEFAULT_DANGER_WEIGHT = 2;

const silent = { lowest: -Infinity, highest: Infinity };

/** The side on which an error hides danger; undefined where none does. Hot: low. Empty, no oil pressure: high. */
export const dangerousSide = (quantity: Quantity): 'low' | 'high' | undefined =>
  quantity === 'other' ? undefined : quantity === 'temperature' ? 'low' : 'high';

/** Hot: reading low. Empty, no oil pressure: reading high. Each in the quarter of the band where that hurts. */
const dangerOf = (
  quantity: Quantity,
  { from, to }: { readonly from: number; readonly to: number },
  weight: number,
): DangerSays | undefined => {
  const edge = END_FRACTION * (to - from);
  const side = dangerousSide(quantity);
  if (side === undefined) return undefined;
  return side === 'low'
    ? { side: 'low', from: to - edge, weight }
    : { side: 'high', upTo: from + edge, weight };
};

/** How many times an error counts at a true value, by the side it errs to (dimensionless). Source: definition. */
export const sideWeights = (
  danger: DangerSays | undefined,
  value: number,
): { readonly low: number; readonly high: number } => {
  if (danger?.side === 'low' && value >= danger.from) return { low: danger.weight, high: 1 };
  if (danger?.side === 'high' && value <= danger.upTo) return { low: 1, high: danger.weight };
  return { low: 1, high: 1 };
};

/** The rule without the weight of the dangerous side. */
const limitsOf = (
  quantity: Quantity,
  band: { readonly from: number; readonly to: number },
  limit: number,
): Pick<SafetyRule, 'says' | 'limit' | 'allowed'> => {
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

/**
 * Temperature: must not read low in the hottest quarter of the band. Pressure: must not read high. Fuel: must not read
 * high in the emptiest quarter. `limit` in dial units. In the dangerous quarter an error to the dangerous side counts
 * `dangerWeight` times.
 * Source: fail-visible rule of the trade; the quarter and the weight are common practice, no source.
 */
export const safetyRule = (
  quantity: Quantity,
  band: { readonly from: number; readonly to: number },
  limit: number,
  dangerWeight = DEFAULT_DANGER_WEIGHT,
): SafetyRule => ({
  ...limitsOf(quantity, band, limit),
  danger: dangerOf(quantity, band, dangerWeight),
});
