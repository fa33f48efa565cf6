import type { Quantity } from '../response';
import type { SenderLawName } from './law';
import { distinctCount, type LawPoint } from './points';

/** Laws in the order in which to try them, and what the points show where that decides the order. */
export type ModelChoice = {
  readonly order: readonly SenderLawName[];
  readonly shows?: 'rises-with-temperature' | 'falls-with-temperature' | 'two-temperatures';
};

/**
 * Which laws to try when nobody names one.
 * Source: derived here: thermistors follow Steinhart-Hart (1968); a level or pressure track is whatever was wound.
 */
export function modelsToTry(points: readonly LawPoint[], quantity: Quantity): ModelChoice {
  const distinct = distinctCount(points);
  if (quantity !== 'temperature') return { order: ['linear', 'table', 'polynomial'] };
  if (points.at(-1)!.ohm >= points[0]!.ohm) {
    const order = distinct === 2 ? (['linear'] as const) : (['polynomial', 'table', 'linear'] as const);
    return { order, shows: 'rises-with-temperature' };
  }
  if (distinct === 2) return { order: ['beta'], shows: 'two-temperatures' };
  return { order: ['steinhart-hart', 'table', 'beta'], shows: 'falls-with-temperature' };
}
