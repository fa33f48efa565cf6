import type { DissipationFactor, LeadSource } from '../../at-work';
import type { Network } from '../closed-form/topology';
import { riseWith, workingOhm } from '../search/heat';
import { placeOf } from '../search/problem';
import { isKnownThreeTerminal } from '../search/terminals';
import type { TrimOptions } from '../search/trim-options';
import type { TrimQuestion } from '../search/trim-question';

/** What the sender's own heat does to it as it is wired today, and what that rests on. Rises in dial units. */
export type HeatReport =
  | {
      readonly kind: 'counted';
      readonly source: LeadSource;
      readonly factor: DissipationFactor;
      readonly perKelvin: number;
      /** Where in the band the sender is heated most, by how much, and within which limits. */
      readonly at: number;
      readonly rise: number;
      readonly leastRise: number;
      readonly mostRise: number;
      readonly watt: number;
      readonly coldOhm: number;
      readonly workingOhm: number;
    }
  | { readonly kind: 'not-counted'; readonly because: 'not-a-temperature-sender' }
  | {
      readonly kind: 'not-counted';
      readonly because: 'circuit-not-known';
      readonly missing: MissingOfCircuit;
    };

/** What nobody said of the circuit; `lead`: a gauge of three terminals, whose lead must be measured. */
export type MissingOfCircuit = 'both' | 'feed' | 'gauge-ohm' | 'lead';

const missingOf = (options: TrimOptions): MissingOfCircuit => {
  if (isKnownThreeTerminal(options)) return 'lead';
  if (options.supplyVolt !== undefined) return 'gauge-ohm';
  return options.gaugeOhm === undefined ? 'both' : 'feed';
};

const noParts: Network = { topology: 'none', parts: [] };

/** The largest rise over the band without a network. Source: riseWith. */
export const heatReport = ({ problem, noHeat, options }: TrimQuestion): HeatReport => {
  const { heat } = problem;
  if (heat === undefined)
    return noHeat === 'not-a-temperature-sender'
      ? { kind: 'not-counted', because: noHeat }
      : { kind: 'not-counted', because: 'circuit-not-known', missing: missingOf(options) };
  const { source, factor, curve } = heat;
  const rises = Array.from(problem.value, (_, index) => riseWith(heat, noParts, placeOf(problem, index)));
  const rise = Math.max(...rises);
  const place = placeOf(problem, rises.indexOf(rise));
  const riseIf = (wattPerKelvin: number): number =>
    riseWith(heat, noParts, place, { wattPerUnit: wattPerKelvin / curve.perKelvin });
  return {
    kind: 'counted',
    source,
    factor,
    perKelvin: curve.perKelvin,
    at: place.value,
    rise,
    leastRise: riseIf(factor.highestWattPerKelvin),
    mostRise: riseIf(factor.lowestWattPerKelvin),
    watt: rise * heat.wattPerUnit,
    coldOhm: place.coldOhm,
    workingOhm: workingOhm(heat, noParts, place),
  };
};
