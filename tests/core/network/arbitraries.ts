import fc from 'fast-check';
import { networkOf } from '../../../host/core/network/closed-form/topology';
import type { Network, Topology } from '../../../host/core/network/closed-form/topology';

/** Resistances from 0.1 ohm to 1 Mohm, even by ratio. */
export const anyOhm = (): fc.Arbitrary<number> =>
  fc.double({ min: -1, max: 6, noNaN: true }).map((decade) => 10 ** decade);

/** Networks around the sender (no resistor across the gauge). */
export const anyNetwork = (): fc.Arbitrary<Network> =>
  fc
    .constantFrom<Topology>(
      'none',
      'series',
      'shunt',
      'shunt-then-series',
      'series-then-shunt',
      'three-resistor',
    )
    .chain((topology) =>
      fc.tuple(anyOhm(), anyOhm(), anyOhm()).map((partsOhm) => networkOf(topology, partsOhm)),
    );
