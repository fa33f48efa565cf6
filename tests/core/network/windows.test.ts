import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gaugeTable, ohmBracket } from '../../../host/core/network/search/gauge-table';
import type { GaugeTable } from '../../../host/core/network/search/gauge-table';
import { ohmForReading } from '../../../host/core/network/search/proof-of-impossible';
import type { GaugeResponse } from '../../../host/core/response';
import { electronicTemperature, fallingGauge, thermalTemperature, twoCoilFuel } from './curves';

const tableOf = (gauge: GaugeResponse): GaugeTable => {
  const table = gaugeTable(gauge);
  if (table.kind === 'refused') throw new Error(table.code);
  return table;
};

const gauges = [thermalTemperature, twoCoilFuel, electronicTemperature, fallingGauge('fuel', 240, 33)];

describe.each(gauges.map((gauge, index) => [index, gauge] as const))('the table of gauge %i', (_, gauge) => {
  const table = tableOf(gauge);

  it('brackets every resistance whose reading is in the window, and no wider than two steps', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1000, noNaN: true }),
        fc.double({ min: 0, max: 20, noNaN: true }),
        (ohm, width) => {
          const reading = gauge.reading(ohm);
          const [from, to] = ohmBracket(table, reading - width, reading + width);
          expect(ohm).toBeGreaterThanOrEqual(from);
          expect(ohm).toBeLessThanOrEqual(to);
          const inside = table.ohm.filter((each) => each > from && each < to);
          for (const each of inside)
            expect(Math.abs(gauge.reading(each) - reading)).toBeLessThanOrEqual(width);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('is empty for readings beyond the stops', () => {
    const beyond = ohmBracket(table, gauge.highestReading + 1, gauge.highestReading + 2);
    expect(beyond[0]).toBeGreaterThan(beyond[1]);
    const below = ohmBracket(table, gauge.lowestReading - 2, gauge.lowestReading - 1);
    expect(below[0]).toBeGreaterThan(below[1]);
  });

  it('gives a resistance for a reading that shows it', () => {
    for (const fraction of [0.05, 0.3, 0.5, 0.8, 0.95]) {
      const reading = gauge.lowestReading + fraction * (gauge.highestReading - gauge.lowestReading);
      expect(gauge.reading(ohmForReading(table, reading))).toBeCloseTo(reading, 6);
    }
  });

  it('gives a resistance within the measured range for the ends of the scale', () => {
    for (const reading of [gauge.lowestReading, gauge.highestReading]) {
      const ohm = ohmForReading(table, reading);
      expect(ohm).toBeGreaterThanOrEqual(gauge.measuredFromOhm * (1 - 1e-6));
      expect(ohm).toBeLessThanOrEqual(gauge.measuredToOhm * (1 + 1e-6));
    }
  });
});
