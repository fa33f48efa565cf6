import { describe, expect, it } from 'vitest';
import { fitCurve, readingAt } from '../../../host/core/curve';
import { randomSource } from '../../../host/core/numeric/random';

/** Needles as circuits make them, written here once more. */
const GAUGES = [
  { law: 'ratio', needle: (ohm: number) => (5 + 0.9 * ohm) / (1 + 0.009 * ohm) },
  { law: 'two-coil', needle: (ohm: number) => 200 * Math.atan(ohm / (ohm + 90)) },
  { law: 'thermal', needle: (ohm: number) => 4 + 700_000 / (60 + ohm) ** 2 },
  {
    law: 'cross-coil',
    needle: (ohm: number) => 10 + 40 * Math.atan2(ohm * Math.sin(1.9), ohm * Math.cos(1.9) + 70),
  },
] as const;
const READINGS = 1_500;

describe('more readings than anybody takes by hand', () => {
  // What is fitted by least squares lies nearer to the readings than the truth that they scatter about (definition).
  it.each(GAUGES)('finds the bottom, not a place beside it: $law', ({ law, needle }) => {
    const random = randomSource(4_711);
    const readings = Array.from({ length: READINGS }, (_, index) => {
      const ohm = 8 * (300 / 8) ** (index / (READINGS - 1));
      return { resistanceOhm: ohm, reading: needle(ohm) + 0.4 * random.normal() };
    });
    const curve = fitCurve(readings, { law });
    if (curve.kind === 'refused') throw new Error(curve.code);
    let ofFit = 0;
    let ofTruth = 0;
    for (const { resistanceOhm, reading } of readings) {
      const said = readingAt(curve, resistanceOhm);
      if (said.kind === 'refused') throw new Error(said.code);
      ofFit += (reading - said.reading) ** 2;
      ofTruth += (reading - needle(resistanceOhm)) ** 2;
    }
    expect(ofFit).toBeLessThan(ofTruth);
    // Four parameters take about four squares of the scatter, twenty are beyond any chance.
    expect(ofFit).toBeGreaterThan(ofTruth - 20 * 0.4 ** 2);
  });
});
