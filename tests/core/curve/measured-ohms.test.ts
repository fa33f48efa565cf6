import { describe, expect, it } from 'vitest';
import { fitCurve, marksOf, needleAt } from '../../../host/core/curve';
import type { GaugeReading } from '../../../host/core/curve';
import { HANDHELD, lastDigitOhm, sharedOhms } from '../../../host/core/ohmmeter';
import { randomSource } from '../../../host/core/numeric/random';

describe('an ohmmeter', () => {
  // Source: GUM 4.3.7 and F.2.2.1, half width by root 3 and step by root 12.
  it('of 0.8 % and 0.3 ohm has rectangular limits, and each value its last digit', () => {
    expect(sharedOhms(HANDHELD).relative).toBeCloseTo(0.004_618_8, 7);
    expect(sharedOhms(HANDHELD).absoluteOhm).toBeCloseTo(0.173_205, 6);
    expect(lastDigitOhm([12, 300.5, 95])).toBeCloseTo(0.028_867_5, 7);
    expect(lastDigitOhm([12, 300])).toBeCloseTo(0.288_675, 6);
  });
});

/**
 * The world: divider and heater gauges by Ohm's and Joule's laws, set with a potentiometer whose ohms a handheld meter of
 * 0.8 % and 0.3 ohm reads (its errors anywhere within the limits), the needle walked onto a fine line and seen to 0.1 % of the span.
 */
const LAWS = [
  { mechanism: 'thermal', low: 15, high: 250, law: (ohm: number) => 1 / (35 + ohm) ** 2 },
  { mechanism: 'moving-coil', low: 20, high: 400, law: (ohm: number) => ohm / (ohm + 120) },
  { mechanism: 'two-coil', low: 10, high: 180, law: (ohm: number) => Math.atan2(ohm, ohm + 90) },
] as const;

function coverage(jobs: number, resistanceUncertainty?: ReturnType<typeof sharedOhms>): number {
  let held = 0;
  let all = 0;
  for (let job = 0; job < jobs; job += 1) {
    const random = randomSource(5200 + job);
    const { mechanism, low, high, law } = LAWS[job % LAWS.length]!;
    const truth = (ohm: number): number => (100 * (law(ohm) - law(low))) / (law(high) - law(low));
    const [scale, offset] = [0.008, 0.3].map((limit) => limit * (2 * random.uniform() - 1));
    const readings = (['up', 'down'] as const).flatMap((leg) =>
      Array.from({ length: 8 }, (_, k): GaugeReading => {
        const ohm = low * (high / low) ** (k / 7);
        return {
          leg,
          resistanceOhm: Math.round(10 * (ohm * (1 + scale!) + offset!)) / 10,
          readingUncertainty: 0.1,
          reading: truth(ohm) + (leg === 'up' ? -0.1 : 0.1) + 0.1 * random.normal(),
          resistanceUncertaintyOhm: 0.1 / Math.sqrt(12),
        };
      }),
    );
    const curve = fitCurve(readings, {
      mechanism,
      scale: { lowest: 0, highest: 100 },
      ...(resistanceUncertainty === undefined ? {} : { resistanceUncertainty }),
    });
    if (curve.kind === 'refused') throw new Error(curve.code);
    for (const ohm of [0.1, 0.3, 0.5, 0.7, 0.9].map((part) => low * (high / low) ** part)) {
      const [mark] = marksOf(curve, [truth(ohm)]);
      all += 1;
      if (mark !== undefined && Math.abs(mark.resistanceOhm - ohm) <= mark.expandedUncertaintyOhm) held += 1;
    }
  }
  return held / all;
}

describe('resistances that a person measured', () => {
  it('are covered with the limits of the meter, and not with those of the box', () => {
    expect(coverage(12, sharedOhms(HANDHELD))).toBeGreaterThan(0.93);
    expect(coverage(12)).toBeLessThan(0.9);
  });

  // A potentiometer that slipped between the meter and the needle: 10 % here, 0.1 % elsewhere.
  it('pull the curve by what is known of each', () => {
    const truth = (ohm: number): number => 200 * Math.atan2(ohm, ohm + 90);
    const readings = [10, 20, 40, 80, 160, 320].map((ohm) => {
      const resistanceOhm = ohm === 160 ? 176 : ohm;
      return { resistanceOhm, reading: truth(ohm), resistanceUncertaintyOhm: ohm === 160 ? 16 : 0.02 };
    });
    const error = (given: readonly GaugeReading[]): number => {
      const curve = fitCurve(given, { law: 'two-coil', readingStep: 0 });
      if (curve.kind === 'refused') throw new Error(curve.code);
      return Math.abs(needleAt(curve, 80) - truth(80));
    };
    const unsaid = readings.map((one) => ({ ...one, resistanceUncertaintyOhm: undefined }));
    expect(error(readings)).toBeLessThan(0.2 * error(unsaid));
  });
});
