import { HANDHELD, sharedOhms, type SharedOhms } from '../../core/ohmmeter';
import type { Arguments, OptionTable } from '../options';
import type { GaugeInput } from './gauge-file';

export const OHMMETER_OPTIONS = {
  'ohmmeter-percent': {
    kind: 'number',
    value: 'PERCENT',
    min: 0,
    help: `limit of error of the ohmmeter in percent, as its data sheet says; ${HANDHELD.percent} for typed resistances when left out`,
  },
  'ohmmeter-ohm': {
    kind: 'number',
    value: 'OHM',
    min: 0,
    help: `and in ohm, its leads nulled; ${HANDHELD.ohm} when left out`,
  },
  ohmmeter: {
    kind: 'text',
    value: 'NAME',
    help: 'the ohmmeter that all resistances were measured with, by any name',
  },
} as const satisfies OptionTable;

/**
 * What the resistances of a gauge file share: as stated, else as the file has it. `isBothSides`: the sender was measured
 * with the same meter, whose scale error then moves both curves alike and cancels.
 */
export function statedOhms(
  given: Arguments,
  { reader, isTyped = false }: Pick<GaugeInput, 'reader' | 'isTyped'>,
  isBothSides = false,
): { readonly resistanceUncertainty?: SharedOhms } {
  const [percent, ohm] = [given.number('ohmmeter-percent'), given.number('ohmmeter-ohm')];
  const isStated = percent !== undefined || ohm !== undefined;
  const stated = { percent: percent ?? HANDHELD.percent, ohm: ohm ?? HANDHELD.ohm };
  const shared = isStated ? sharedOhms(stated) : reader.resistanceUncertainty;
  if (shared === undefined) return {};
  const cancels = isBothSides && (isStated || isTyped) && given.text('ohmmeter') !== undefined;
  return { resistanceUncertainty: cancels ? { ...shared, relative: 0 } : shared };
}
