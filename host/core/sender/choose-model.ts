import type { Quantity } from '../response';
import type { SenderLawName } from './law';
import { distinctCount, type LawPoint } from './points';

/** Laws in the order in which to try them, and what the points show that decides the order (empty when nothing does). */
export type ModelChoice = { readonly order: readonly SenderLawName[]; readonly observation: string };

/** What choosing a law amounts to, told to a person. Source: the laws' own files. */
export const modelSentence: Readonly<Record<SenderLawName, string>> = {
  'steinhart-hart': 'a thermistor law',
  beta: 'a two-point thermistor law',
  exponential: 'an exponential with offset',
  linear: 'a straight line',
  polynomial: 'a smooth curve',
  table: 'a monotone curve through every point',
};

/**
 * Which laws to try when nobody names one.
 * Source: derived here: thermistors follow Steinhart-Hart (1968); a level or pressure track is whatever was wound.
 */
export function modelsToTry(points: readonly LawPoint[], quantity: Quantity): ModelChoice {
  const distinct = distinctCount(points);
  if (quantity !== 'temperature') return { order: ['linear', 'table', 'polynomial'], observation: '' };
  if (points.at(-1)!.ohm >= points[0]!.ohm) {
    const order = distinct === 2 ? (['linear'] as const) : (['polynomial', 'table', 'linear'] as const);
    return { order, observation: 'resistance rises with temperature' };
  }
  if (distinct === 2) return { order: ['beta'], observation: 'two temperatures determine Beta and no more' };
  const observation = `resistance falls with temperature at ${distinct} temperatures`;
  return { order: ['steinhart-hart', 'table', 'beta'], observation };
}
