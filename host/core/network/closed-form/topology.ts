/** The arrangements of resistors that are offered, in the order in which ties are decided: fewest parts first. */
export const topologies = [
  'none',
  'series',
  'shunt',
  'shunt-then-series',
  'series-then-shunt',
  'three-resistor',
  'gauge-shunt',
] as const;

export type Topology = (typeof topologies)[number];

/**
 * Where a resistor sits. `series`: in the sender lead. `shunt`: from the lead to ground. With three resistors the lead
 * has two sides of the shunt. `across-gauge`: from the gauge's feed terminal to its sender terminal.
 */
export type Place = 'series' | 'shunt' | 'series-gauge-side' | 'series-sender-side' | 'across-gauge';

export type NetworkPart = { readonly place: Place; readonly resistanceOhm: number };

/** `gaugeOhm` is needed by `gauge-shunt` only: the resistance between the two terminals of the gauge. */
export type Network = {
  readonly topology: Topology;
  readonly parts: readonly NetworkPart[];
  readonly gaugeOhm?: number;
};

/** Places of each topology, in the order of `Network.parts`; a gauge shunt may do without its series resistor. */
const placesOf: Readonly<Record<Topology, readonly Place[]>> = {
  none: [],
  series: ['series'],
  shunt: ['shunt'],
  'shunt-then-series': ['series', 'shunt'],
  'series-then-shunt': ['series', 'shunt'],
  'three-resistor': ['series-gauge-side', 'shunt', 'series-sender-side'],
  'gauge-shunt': ['across-gauge', 'series'],
};

/** Names the parts of a topology: `networkOf('series-then-shunt', [20, 80])`. Further places are left out. */
export const networkOf = (
  topology: Topology,
  resistancesOhm: readonly number[],
  gaugeOhm?: number,
): Network => ({
  topology,
  parts: placesOf[topology]
    .slice(0, resistancesOhm.length)
    .map((place, index) => ({ place, resistanceOhm: resistancesOhm[index]! })),
  ...(gaugeOhm === undefined ? {} : { gaugeOhm }),
});
