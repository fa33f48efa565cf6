import { describe, expect, it } from 'vitest';
import { formsFor, tankCurrentPermits } from '../../../host/core/network/search/searched-forms';
import { fallingGauge, thermalTemperature } from './curves';

const across = { topology: 'gauge-shunt', partCount: 2 } as const;
/** A 60 ohm gauge measured down to 10 ohm: the original circuit never has less than 60 ohm shorted, 70 ohm working. */
const gauge = fallingGauge('fuel', 73, 10);

describe('current into the tank', () => {
  it.each([
    ['may not rise with the sender shorted', 30, [60, 10], false],
    ['may not rise with the sender at its lowest', 5, [60, 31], false],
    ['may stay as it was', 30, [60, 30], true],
    ['may fall', 5, [120, 100], true],
  ] as const)('%s', (_, lowestSenderOhm, parts, allowed) => {
    expect(tankCurrentPermits(gauge, lowestSenderOhm, 60)(across, Float64Array.from(parts))).toBe(allowed);
  });

  it('is a matter of fuel and of resistors across the gauge only', () => {
    const parts = Float64Array.from([5]);
    expect(tankCurrentPermits(thermalTemperature, 5, 60)(across, parts)).toBe(true);
    expect(tankCurrentPermits(gauge, 5, 60)({ topology: 'shunt', partCount: 1 }, parts)).toBe(true);
  });
});

describe('the forms searched', () => {
  const names = (options: Parameters<typeof formsFor>[0]): readonly string[] =>
    formsFor(options).map(({ topology, partCount }) => `${topology} ${partCount}`);

  it('are limited by the number of parts and by the topologies asked for', () => {
    expect(names({ maxParts: 0 })).toEqual(['none 0']);
    expect(names({ maxParts: 1 })).toEqual(['none 0', 'series 1', 'shunt 1']);
    expect(names({ maxParts: 2 })).toEqual([
      'none 0',
      'series 1',
      'shunt 1',
      'shunt-then-series 2',
      'series-then-shunt 2',
    ]);
    expect(names({ topologies: ['three-resistor', 'shunt'] })).toEqual(['shunt 1', 'three-resistor 3']);
  });

  it('include resistors across the gauge only where its resistance is known', () => {
    expect(names({ maxParts: 1, gaugeOhm: 60 })).toContain('gauge-shunt 1');
    expect(names({ maxParts: 2, gaugeOhm: 60 })).toContain('gauge-shunt 2');
    expect(names({ gaugeOhm: 60, terminals: 3 }).join()).not.toMatch(/gauge-shunt/);
    expect(names({ gaugeOhm: 60, mechanism: 'cross-coil' }).join()).not.toMatch(/gauge-shunt/);
    expect(names({ gaugeOhm: 60, mechanism: 'cross-coil', terminals: 2 })).toContain('gauge-shunt 1');
  });
});
