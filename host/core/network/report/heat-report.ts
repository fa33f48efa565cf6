import type { DissipationFactor, LeadSource } from '../../at-work';
import type { Network } from '../closed-form/topology';
import { riseWith, workingOhm } from '../search/heat';
import type { NoHeat } from '../search/heat-of-circuit';
import { placeOf } from '../search/problem';
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
  | { readonly kind: 'not-counted'; readonly because: NoHeat };

const noParts: Network = { topology: 'none', parts: [] };

/** The largest rise over the band without a network. Source: riseWith. */
export const heatReport = ({ problem, noHeat }: TrimQuestion): HeatReport => {
  const { heat } = problem;
  if (heat === undefined) return { kind: 'not-counted', because: noHeat ?? 'circuit-not-known' };
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
