import type { FittedSender } from '../../core/sender';
import { textTable } from './text-table';

/** B between neighbouring points of a thermistor, with those that are not plausible named. */
export function betaText({ pairwiseBetas }: FittedSender): string[] {
  if (pairwiseBetas.length === 0) return [];
  return [
    '',
    ...textTable(
      [{ title: 'from degC' }, { title: 'to degC' }, { title: 'B in K' }, { title: '', align: 'left' }],
      pairwiseBetas.map((pair) => [
        pair.fromCelsius.toFixed(1),
        pair.toCelsius.toFixed(1),
        pair.betaKelvin.toFixed(0),
        pair.isPlausible ? '' : 'not plausible',
      ]),
    ),
  ];
}
