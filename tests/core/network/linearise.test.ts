import { describe, expect, it } from 'vitest';
import vectors from '../../vectors/networks.json';
import { inflectionShuntOhm, threePointShuntOhm } from '../../../host/core/network';
import { parallelOhm } from '../../../host/core/network/ladder-tree';

describe('a shunt that straightens a thermistor', () => {
  const { middle_ohm, beta_kelvin, cases } = vectors.published.inflection_shunt;
  it.each(cases)(
    'is $shunt_ohm ohm at $temperature_kelvin K by the inflection method',
    ({ temperature_kelvin, shunt_ohm }) => {
      expect(inflectionShuntOhm(middle_ohm, beta_kelvin, temperature_kelvin)).toBeCloseTo(shunt_ohm, -0.3);
    },
  );

  it('puts three resistances at equal steps by the three-point method', () => {
    const shunt = threePointShuntOhm(970, 190, 53);
    const [cold, mild, hot] = [970, 190, 53].map((ohm) => parallelOhm(ohm, shunt!));
    expect(cold! - mild!).toBeCloseTo(mild! - hot!, 9);
  });

  it('is none where the three are evenly spaced or bend the other way, or where the curve has no inflection', () => {
    expect(threePointShuntOhm(300, 200, 100)).toBeUndefined();
    expect(threePointShuntOhm(300, 250, 100)).toBeUndefined();
    expect(inflectionShuntOhm(1000, 600, 320)).toBeUndefined();
  });
});
