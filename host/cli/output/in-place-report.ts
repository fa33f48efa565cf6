import type { InPlace } from '../../core/at-work';
import type { WorkingCurrentJson } from './answers/sender';
import { ohmText, significant } from './text-table';

const MILLI = 1e3;

/** What was found of the sender's own heat, as a program reads it. */
export const inPlaceJson = ({
  method,
  factor,
  value,
  rise,
  coldOhm,
  warmOhm,
  watt,
  ...found
}: InPlace): WorkingCurrentJson => ({
  method,
  is_lower_bound: method === 'still',
  dissipation_mW_per_K: MILLI * (method === 'still' ? found.foundWattPerKelvin : factor.wattPerKelvin),
  standard_uncertainty_mW_per_K: MILLI * found.standardUncertaintyWattPerKelvin,
  used_mW_per_K: MILLI * factor.wattPerKelvin,
  lowest_mW_per_K: MILLI * factor.lowestWattPerKelvin,
  highest_mW_per_K: MILLI * factor.highestWattPerKelvin,
  at: value,
  rise,
  cold_ohm: coldOhm,
  warm_ohm: warmOhm,
  power_W: watt,
});

/** What was found of the sender's own heat, for a person. */
export const inPlaceText = (
  { method, factor, value, rise, coldOhm, warmOhm, watt }: InPlace,
  unit: string,
): string[] => [
  `at working current this sender reads ${significant(rise, 2)} ${unit} hot at ${significant(value, 3)} ${unit}: ${ohmText(coldOhm)} falls to ${ohmText(warmOhm)} with ${significant(watt, 2)} W`,
  method === 'still'
    ? `  still coolant: it sheds ${significant(MILLI * factor.lowestWattPerKelvin, 2)} mW/K or more`
    : `  it sheds ${significant(MILLI * factor.wattPerKelvin, 2)} mW/K (${significant(MILLI * factor.lowestWattPerKelvin, 2)} to ${significant(MILLI * factor.highestWattPerKelvin, 2)})`,
  '  save this with --json and give it to trim as --sender: the heat is then counted in every network',
];
