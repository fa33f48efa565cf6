import type { Quantity } from '../response';
import type { SenderLawName } from './law';
import { distinctCount, type LawPoint } from './points';

/** Laws in the order in which to try them, and why the first is first. */
export type ModelChoice = { readonly order: readonly SenderLawName[]; readonly reason: string };

/**
 * Which laws to try when nobody names one.
 * Source: derived here: thermistors follow Steinhart-Hart (1968); a level or pressure track is whatever was wound.
 */
export function modelsToTry(points: readonly LawPoint[], quantity: Quantity): ModelChoice {
  const distinct = distinctCount(points);
  if (quantity !== 'temperature') {
    return { order: ['linear', 'table', 'polynomial'], reason: 'a straight line through the points' };
  }
  if (points.at(-1)!.ohm >= points[0]!.ohm) {
    const order = distinct === 2 ? (['linear'] as const) : (['polynomial', 'table', 'linear'] as const);
    return { order, reason: 'resistance rises with temperature, so no thermistor law' };
  }
  if (distinct === 2) return { order: ['beta'], reason: 'two temperatures determine Beta and no more' };
  const reason = `resistance falls with temperature at ${distinct} temperatures`;
  return { order: ['steinhart-hart', 'table', 'beta'], reason };
}
