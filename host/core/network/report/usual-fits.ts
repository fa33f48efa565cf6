import type { GaugeResponse } from '../../response';
import { unitChange } from '../../units';
import type { MarketFamily } from './market-families';
import { marketSenders } from './market-families';

/** What a gauge would show with a kind of sender in circulation: ohms over the scale, and how the needle then errs. */
export type UsualFit = {
  readonly low: MarketFamily['low'];
  readonly high: MarketFamily['high'];
  readonly points: readonly { readonly value: number; readonly ohm: number }[];
  /** Indicated less true, dial units: the lowest and the highest. */
  readonly lowestError: number;
  readonly highestError: number;
  readonly worstError: number;
  /** It runs the other way: the needle falls where it should rise. */
  readonly isReversed: boolean;
};

const STEPS = 24;

/**
 * Every kind of sender in circulation for the gauge's quantity through the gauge's own curve, over its printed marks and
 * without any resistor, the nearest first. None for a gauge without marks.
 * Source: `marketSenders`, then the gauge's response; beyond what was measured it rests on the law of the curve.
 */
export function usualFits(gauge: GaugeResponse): readonly UsualFit[] {
  const readings = (gauge.marks ?? []).map(({ reading }) => reading);
  if (readings.length < 2) return [];
  const [lowest, highest] = [Math.min(...readings), Math.max(...readings)];
  const values = Array.from(
    { length: STEPS + 1 },
    (_, index) => lowest + ((highest - lowest) * index) / STEPS,
  );
  return marketSenders(gauge)
    .flatMap(({ family, sender }): UsualFit[] => {
      const change = unitChange(gauge.unit, sender.unit);
      if (change.kind === 'refused' && gauge.unit !== sender.unit) return [];
      const { factor, offset } = change.kind === 'refused' ? { factor: 1, offset: 0 } : change;
      const points = values.map((value) => ({
        value,
        ohm: Math.max(0, sender.ohm(value * factor + offset)),
      }));
      const shown = points.map(({ ohm }) => gauge.reading(ohm));
      const errors = shown.map((reading, index) => reading - (values[index] ?? reading));
      if (!errors.every(Number.isFinite)) return [];
      const [lowestError, highestError] = [Math.min(...errors), Math.max(...errors)];
      return [
        {
          low: family.low,
          high: family.high,
          points,
          lowestError,
          highestError,
          worstError: Math.max(-lowestError, highestError),
          isReversed: (shown.at(-1) ?? 0) < (shown[0] ?? 0),
        },
      ];
    })
    .sort((one, other) => one.worstError - other.worstError);
}
