import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

import {
  fitCurve,
  gaugeResponse,
  lawFormula,
  marksOf,
  needleAt,
  ohmAt,
  readingAt,
} from '../../../host/core/curve';
import type { CurveOptions, GaugeCurve, GaugeReading } from '../../../host/core/curve';
import { randomSource } from '../../../host/core/numeric/random';
import moebius from '../../vectors/moebius-fit-reference.json';
import updown from '../../vectors/indicator-updown-pressure.json';

function curveOf(readings: readonly GaugeReading[], options?: CurveOptions): GaugeCurve {
  const curve = fitCurve(Object.freeze(readings.map((one) => Object.freeze(one))), options);
  if (curve.kind === 'refused') throw new Error(curve.code);
  return curve;
}

function predicted(curve: GaugeCurve, ohm: number) {
  const answer = readingAt(curve, ohm);
  if (answer.kind === 'refused') throw new Error(answer.code);
  return answer;
}

function ohmOf(curve: GaugeCurve, reading: number): number {
  const answer = ohmAt(curve, reading);
  if (answer.kind !== 'one') throw new Error(`${reading}: ${answer.kind}`);
  return answer.resistanceOhm;
}

const parameter = (curve: GaugeCurve, name: string) => {
  const found = curve.law.parameters.find((one) => one.name === name);
  if (found === undefined) throw new Error(`no parameter ${name}`);
  return found;
};

const laws = {
  ratio: (r: number) => (5 + 0.9 * r) / (1 + 0.009 * r),
  'two-coil': (r: number) => 200 * Math.atan(r / (r + 90)),
  thermal: (r: number) => 4 + 700_000 / (60 + r) ** 2,
  'cross-coil': (r: number) => 10 + 40 * Math.atan2(r * Math.sin(1.9), r * Math.cos(1.9) + 70),
};
const settings = [8, 12, 18, 27, 41, 61, 92, 138, 207, 310];

const sweep = (law: (ohm: number) => number, half = 0): GaugeReading[] =>
  (['up', 'down'] as const).flatMap((leg) =>
    settings.map((resistanceOhm) => ({
      resistanceOhm,
      reading: law(resistanceOhm) + (leg === 'up' ? -half : half),
      leg,
    })),
  );

describe('fitting the curve of a gauge', () => {
  for (const [name, law] of Object.entries(laws))
    it(`chooses the law ${name} for readings that follow it, and gives every mark its resistance`, () => {
      const curve = curveOf(sweep(law));
      expect(curve.law.name).toBe(name);
      expect(lawFormula(curve)).toContain('reading = ');
      for (const ohm of [10, 50, 250]) {
        expect(needleAt(curve, ohm)).toBeCloseTo(law(ohm), 4);
        expect(ohmOf(curve, law(ohm))).toBeCloseTo(ohm, 2);
      }
    });

  it('separates the legs: half their difference is hysteresis, the middle is the curve', () => {
    const curve = curveOf(sweep(laws.thermal, 1.25));
    expect(curve.hysteresis).toMatchObject({ kind: 'measured', pairs: 10 });
    if (curve.hysteresis.kind !== 'measured') throw new Error('not measured');
    expect(curve.hysteresis.half).toBeCloseTo(1.25, 6);
    expect(curve.hysteresis.largest).toBeCloseTo(2.5, 9);
    expect(needleAt(curve, 61)).toBeCloseTo(laws.thermal(61), 4);
  });

  // Source: SciPy 1.10.1 curve_fit on an invented set, see the file.
  it('has the parameters, standard deviations, band and inverse of an independent library (Moebius law)', () => {
    const { R_ohm, p, unweighted: expected } = moebius;
    const curve = curveOf(
      R_ohm.map((resistanceOhm, i) => ({ resistanceOhm, reading: p[i]! })),
      { law: 'ratio', readingStep: 0 },
    );
    const own = curve.candidates.find((one) => one.name === 'ratio');
    if (own?.kind !== 'fit') throw new Error('no fit');
    ['a', 'b', 'c'].forEach((name, j) => {
      const { value, standardUncertainty } = parameter(curve, name);
      expect(value / expected.parameters_a_b_c[j]! - 1).toBeCloseTo(0, 6);
      // The scatter is pooled with an expectation here; per unit of scatter the figures must be the library's.
      const perScatter = standardUncertainty! / own.residualStandardDeviation;
      expect(
        perScatter / (expected.standard_deviations[j]! / expected.residual_standard_deviation),
      ).toBeCloseTo(1, 4);
    });
    expected.residuals.forEach((value, i) => expect(curve.points[i]!.residual).toBeCloseTo(value, 7));
    expected.grid_R_ohm.forEach((ohm, i) => {
      expect(needleAt(curve, ohm)).toBeCloseTo(expected.grid_p[i]!, 7);
    });
    expected.inverse_p.forEach((reading, i) =>
      expect(ohmOf(curve, reading)).toBeCloseTo(expected.inverse_R_ohm[i]!, 4),
    );
  });

  // Source of the definition: ANSI/ISA-51.1, hysteresis error of a single cycle, from memory. The readings are invented.
  it('reports the largest single cycle where settings were read twice both ways, and none where once', () => {
    // Differences at 60 ohm: 1 in the first cycle, 2.5 in the second; their mean is 1.75.
    const cycles = [
      { up: 40, down: 41 },
      { up: 40, down: 42.5 },
    ];
    const readings = cycles.flatMap(({ up, down }, cycle) => [
      ...[20, 40, 80, 120].map((ohm) => ({ resistanceOhm: ohm, reading: ohm - 20, leg: 'up' as const })),
      { resistanceOhm: 60, reading: up, leg: 'up' as const },
      { resistanceOhm: 60, reading: down, leg: 'down' as const },
      ...[20, 40, 80, 120].map((ohm) => ({
        resistanceOhm: ohm,
        reading: ohm - 19 + cycle,
        leg: 'down' as const,
      })),
    ]);
    const scale = { lowest: 0, highest: 100 };
    const { hysteresis } = curveOf(readings, { scale });
    if (hysteresis.kind !== 'measured') throw new Error('not measured');
    expect(hysteresis.largest).toBeCloseTo(1.75, 6);
    expect(hysteresis.singleCycle).toMatchObject({ atOhm: 60 });
    expect(hysteresis.singleCycle?.difference).toBeCloseTo(2.5, 6);
    const once = curveOf(readings.slice(0, 10), { scale }).hysteresis;
    expect(once).not.toHaveProperty('singleCycle');
  });

  // Source: up and down calibration of a pressure gauge, teaching data set named in the file.
  it('finds the published hysteresis of a pressure gauge, and its inverse within the uncertainty', () => {
    const legs = [
      { leg: 'up', readings: updown.reading_rising_kPa },
      { leg: 'down', readings: updown.reading_falling_kPa },
    ] as const;
    const curve = curveOf(
      legs.flatMap(({ leg, readings }) =>
        readings.map((reading, i) => ({ resistanceOhm: updown.true_kPa[i]!, reading, leg })),
      ),
      {
        scale: { lowest: 0, highest: 10 },
        marks: [updown.published_results.inverse_example.reading_kPa],
        resistanceUncertainty: { relative: 0, absoluteOhm: 0 },
      },
    );
    if (curve.hysteresis.kind !== 'measured') throw new Error('not measured');
    expect(curve.hysteresis.largest).toBeCloseTo(updown.published_results.largest_hysteresis_kPa, 9);
    expect(curve.hysteresis.percentOfSpan).toBeCloseTo(6.1, 9);
    expect(curve.hysteresis.atOhm).toBe(6);
    // Half the difference of the published intercepts: (-0.6686 + 1.0255) / 2.
    expect(curve.hysteresis.half).toBeCloseTo(0.178, 3);
    const [mark] = curve.marks;
    const straight = (4.32 - updown.recomputed.combined.intercept_kPa) / updown.recomputed.combined.slope;
    expect(Math.abs(mark!.resistanceOhm - straight)).toBeLessThan(mark!.expandedUncertaintyOhm);
    expect(
      Math.abs(mark!.resistanceOhm - updown.published_results.inverse_example.estimate_kPa),
    ).toBeLessThan(0.06);
  });
});

describe('readings at a stop', () => {
  const onScale = sweep(laws.thermal).filter((one) => one.reading > 20 && one.reading < 120);
  const stopped: GaugeReading[] = [
    { resistanceOhm: 2, reading: 122, atStop: 'high' },
    { resistanceOhm: 4, reading: 122, atStop: 'high' },
    { resistanceOhm: 400, reading: 15, atStop: 'low' },
  ];

  it('bound the curve and do not bend it', () => {
    const without = curveOf(onScale);
    const withThem = curveOf([...onScale, ...stopped]);
    expect(withThem.law.name).toBe(without.law.name);
    withThem.law.parameters.forEach(({ value }, i) =>
      expect(value / without.law.parameters[i]!.value).toBeCloseTo(1, 6),
    );
    expect(withThem.points.filter((point) => point.role === 'bound')).toHaveLength(3);
  });

  it('are reported with where the curve meets them, and the needle rests there', () => {
    const curve = curveOf([...onScale, ...stopped]);
    expect(curve.stops.map(({ side, reading, source }) => [side, reading, source])).toEqual([
      ['low', 15, 'marked'],
      ['high', 122, 'marked'],
    ]);
    const [low, high] = curve.stops;
    expect(laws.thermal(low!.reachedAtOhm!)).toBeCloseTo(15, 1);
    expect(laws.thermal(high!.reachedAtOhm!)).toBeCloseTo(122, 1);
    expect(needleAt(curve, 0)).toBe(122);
    expect(needleAt(curve, Infinity)).toBe(15);
    expect(ohmAt(curve, 300)).toEqual({ kind: 'unreachable' });
  });

  it('are recognised when nobody marked them', () => {
    const held = sweep((ohm) => Math.min(100, Math.max(30, Math.round(laws.thermal(ohm)))));
    const curve = curveOf(held);
    expect(curve.stops.map(({ side, reading, source }) => [side, reading, source])).toEqual([
      ['low', 30, 'inferred'],
      ['high', 100, 'inferred'],
    ]);
    expect(curve.warnings.map(({ code }) => code)).toContain('CURVE_STOP_INFERRED');
    expect(Math.abs(needleAt(curve, 61) - laws.thermal(61))).toBeLessThan(1);
  });
});

describe('dead zones', () => {
  const dead = (ohm: number) => {
    const part = ohm / (ohm + 1000);
    return part < 0.3 ? 100 - 100 * part : part > 0.47 ? 70 - 100 * (part - 0.47) : 70;
  };
  const wide = Array.from({ length: 16 }, (_, i) => 64 * (3000 / 64) ** (i / 15));
  const curve = curveOf(
    (['up', 'down'] as const).flatMap((leg) =>
      wide.map((ohm) => ({ resistanceOhm: ohm, reading: Math.round(2 * dead(ohm)) / 2, leg })),
    ),
  );

  it('are found with their edges and not inverted', () => {
    expect(curve.plateaus).toHaveLength(1);
    const [zone] = curve.plateaus;
    // True edges: 0.3 and 0.47 of the divider, 429 and 887 ohm.
    expect(zone!.fromOhm / 428.6).toBeCloseTo(1, 1);
    expect(zone!.toOhm / 886.8).toBeCloseTo(1, 1);
    expect(ohmAt(curve, zone!.reading)).toEqual({
      kind: 'interval',
      fromOhm: zone!.fromOhm,
      toOhm: zone!.toOhm,
    });
    const [mark] = marksOf(curve, [zone!.reading]);
    expect(mark).toMatchObject({ note: 'plateau' });
    expect(mark!.fromOhm).toBeLessThanOrEqual(zone!.fromOhm);
    expect(mark!.toOhm).toBeGreaterThanOrEqual(zone!.toOhm);
  });

  it('leave the curve beside them right', () => {
    for (const ohm of [100, 200, 300, 1200, 2000]) {
      const { reading, expandedUncertainty } = predicted(curve, ohm);
      expect(Math.abs(reading - dead(ohm))).toBeLessThan(expandedUncertainty + 0.1);
    }
  });

  it('are not seen in any of the mechanism laws, however coarsely read', () => {
    for (const law of Object.values(laws))
      for (const step of [1, 2.5, 5])
        expect(curveOf(sweep((ohm) => Math.round(law(ohm) / step) * step, 0)).plateaus).toEqual([]);
  });
});

describe('a reading that lies', () => {
  const random = randomSource(3);
  const honest = sweep(laws.thermal, 0.5).map((one) => ({
    ...one,
    reading: one.reading + 0.4 * random.normal(),
  }));
  const lying = honest.map((one, i) => (i === 5 ? { ...one, reading: one.reading + 14 } : one));

  it('is questioned and shown, not dropped', () => {
    const curve = curveOf(lying);
    expect(curve.points).toHaveLength(lying.length);
    expect(curve.points.flatMap((point, i) => (point.role === 'questioned' ? [i] : []))).toEqual([5]);
    expect(curve.points[5]!.weight).toBeLessThan(0.1);
    expect(curve.points[5]!.residual).toBeCloseTo(14, -1);
    expect(curve.warnings.map(({ code }) => code)).toContain('CURVE_READING_QUESTIONED');
  });

  it('hardly moves the curve', () => {
    const [with14, without] = [curveOf(lying), curveOf(honest)];
    for (const ohm of settings)
      expect(Math.abs(needleAt(with14, ohm) - needleAt(without, ohm))).toBeLessThan(0.3);
  });

  it('does not become the largest hysteresis', () => {
    const { hysteresis } = curveOf(lying);
    expect(hysteresis.kind === 'measured' && hysteresis.largest).toBeLessThan(5);
  });
});

describe('uncertainty', () => {
  const random = randomSource(11);
  const noisy = sweep(laws.ratio, 0.4).map((one) => ({
    ...one,
    reading: one.reading + 0.5 * random.normal(),
  }));
  const at61 = (readings: readonly GaugeReading[]) => predicted(curveOf(readings), 61).expandedUncertainty;

  it('grows when one leg, or most settings, are left out', () => {
    const all = at61(noisy);
    expect(at61(noisy.filter((one) => one.leg === 'up'))).toBeGreaterThan(1.2 * all);
    expect(at61(noisy.filter((_, i) => i % 3 === 0))).toBeGreaterThan(1.2 * all);
  });

  it('does not shrink when every reading is merely written down twice', () => {
    const coarse = noisy.map((one) => ({ ...one, reading: Math.round(one.reading / 2.5) * 2.5 }));
    expect(at61([...coarse, ...coarse])).toBeGreaterThan(0.75 * at61(coarse));
  });

  it('is wide, not zero, for three readings', () => {
    const three = [10, 60, 200].map((ohm) => ({ resistanceOhm: ohm, reading: Math.round(laws.ratio(ohm)) }));
    const curve = curveOf(three, { marks: [30] });
    expect(curve.marks[0]!.expandedUncertaintyOhm).toBeGreaterThan(1);
    const said = curveOf(three, { marks: [30], mechanism: 'moving-coil' });
    expect(said.marks[0]!.coverageFactor).toBeGreaterThan(2.2);
    expect(said.marks[0]!.expandedUncertaintyOhm).toBeLessThan(curve.marks[0]!.expandedUncertaintyOhm);
    expect(curve.hysteresis.kind).toBe('unknown');
  });

  it('is the root sum of squares of its budget times the coverage factor', () => {
    const { budget, expandedUncertainty, coverageFactor } = predicted(curveOf(noisy), 61);
    const standard = Math.hypot(...budget.map((line) => line.readingUncertainty));
    expect(expandedUncertainty).toBeCloseTo(coverageFactor * standard, 10);
    expect(budget.map((line) => line.source)).toEqual([
      'fit',
      'law choice',
      'hysteresis',
      'reading',
      'resistance',
    ]);
  });

  it('of a contradicted law that was forced includes how far it is from the others', () => {
    const curve = curveOf(
      sweep(laws.thermal).map((one) => ({ ...one, reading: Math.round(10 * one.reading) / 10 })),
      { law: 'ratio' },
    );
    expect(curve.law).toMatchObject({ name: 'ratio', forced: true });
    expect(curve.warnings.map(({ code }) => code)).toContain('CURVE_LAW_CONTRADICTED');
    for (const ohm of settings) {
      const { reading, expandedUncertainty } = predicted(curve, ohm);
      expect(Math.abs(reading - laws.thermal(ohm))).toBeLessThan(expandedUncertainty);
    }
  });
});

describe('a curve as data', () => {
  it('answers the same after a journey through JSON', () => {
    const curve = curveOf(sweep(laws['cross-coil'], 0.3));
    const travelled = curveFromText(JSON.stringify(curve));
    for (const ohm of [0, 5, 77, 1e4]) {
      expect(needleAt(travelled, ohm)).toBe(needleAt(curve, ohm));
      expect(predicted(travelled, ohm)).toEqual(predicted(curve, ohm));
    }
    expect(ohmAt(travelled, 50)).toEqual(ohmAt(curve, 50));
  });

  it('as a response is monotone from a short to an open circuit and stays between its ends', () => {
    for (const law of Object.values(laws)) {
      const curve = curveOf(sweep((ohm) => Math.round(law(ohm)), 0.3));
      const { reading, lowestReading, highestReading, risesWithResistance } = gaugeResponse(curve);
      const readings = [0, 0.1, 1, 5, 20, 80, 300, 1000, 1e4, 1e6, Infinity].map(reading);
      const ordered = [...readings].sort((a, b) => (risesWithResistance ? a - b : b - a));
      expect(readings).toEqual(ordered);
      expect(Math.min(...readings)).toBeGreaterThanOrEqual(lowestReading);
      expect(Math.max(...readings)).toBeLessThanOrEqual(highestReading);
    }
  });
});

function curveFromText(text: string): GaugeCurve {
  const isCurve = (value: unknown): value is GaugeCurve =>
    typeof value === 'object' && value !== null && 'kind' in value && value.kind === 'curve';
  const parsed: unknown = JSON.parse(text);
  if (!isCurve(parsed)) throw new Error('not a curve');
  return parsed;
}

describe('laws of fitting', () => {
  const random = randomSource(17);
  const base = sweep(laws.thermal, 0.6).map((one) => ({
    ...one,
    reading: Math.round(2 * (one.reading + 0.4 * random.normal())) / 2,
  }));
  const plain = curveOf(base);

  it('does not depend on the order of the readings', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(base, { minLength: base.length }), (shuffled) => {
        const curve = curveOf(shuffled);
        expect(curve.law.name).toBe(plain.law.name);
        expect(needleAt(curve, 50)).toBeCloseTo(needleAt(plain, 50), 6);
      }),
      { numRuns: 10 },
    );
  });

  it('shifts and scales with the dial, also when the dial is reversed', () => {
    const factors = fc.constantFrom(-20, -1, 0.5, 10);
    fc.assert(
      fc.property(fc.integer({ min: -300, max: 300 }), factors, (shift, factor) => {
        const curve = curveOf(base.map((one) => ({ ...one, reading: shift + factor * one.reading })));
        for (const ohm of [12, 50, 250]) {
          expect(needleAt(curve, ohm)).toBeCloseTo(shift + factor * needleAt(plain, ohm), 3);
          const [one, other] = [predicted(curve, ohm), predicted(plain, ohm)];
          expect(one.expandedUncertainty / (Math.abs(factor) * other.expandedUncertainty)).toBeCloseTo(1, 2);
        }
      }),
      { numRuns: 12 },
    );
  });

  it('stretches with the resistances', () => {
    const tenfold = curveOf(base.map((one) => ({ ...one, resistanceOhm: 10 * one.resistanceOhm })));
    for (const reading of [30, 60, 120])
      expect(ohmOf(tenfold, reading) / ohmOf(plain, reading)).toBeCloseTo(10, 4);
  });

  it('keeps its curve when every reading is written down twice', () => {
    const twice = curveOf([...base, ...base]);
    for (const ohm of settings)
      expect(Math.abs(needleAt(twice, ohm) - needleAt(plain, ohm))).toBeLessThan(
        predicted(plain, ohm).expandedUncertainty / 3,
      );
  });

  it('answers any readings with finite numbers or a refusal', () => {
    const reading = fc.record({
      resistanceOhm: fc.oneof(fc.constantFrom(0, 10, 50_000), fc.double({ min: 0, max: 1000, noNaN: true })),
      reading: fc.oneof(fc.integer({ min: 0, max: 20 }), fc.double({ min: -50, max: 300, noNaN: true })),
      leg: fc.constantFrom('up' as const, 'down' as const, undefined),
      atStop: fc.constantFrom(undefined, undefined, undefined, 'low' as const, 'high' as const),
    });
    fc.assert(
      fc.property(fc.array(reading, { maxLength: 14 }), fc.boolean(), (readings, areSorted) => {
        const values = readings.map((one) => one.reading).sort((a, b) => a - b);
        const given = areSorted
          ? [...readings]
              .sort((a, b) => a.resistanceOhm - b.resistanceOhm)
              .map((one, i) => ({ ...one, reading: values[i]! }))
          : readings;
        const curve = fitCurve(given);
        expect(unboundedIn(curve, 'curve')).toEqual([]);
        if (curve.kind === 'curve')
          for (const ohm of [0, 3, 80, 1e5])
            expect(unboundedIn(readingAt(curve, ohm), 'prediction')).toEqual([]);
      }),
      {
        numRuns: 150,
        examples: [
          [[0, 10, 50_000].map((resistanceOhm, i) => bare(resistanceOhm, i === 2 ? 5e-324 : 0)), false],
        ],
      },
    );
  });
});

const bare = (resistanceOhm: number, reading: number) => ({
  resistanceOhm,
  reading,
  leg: undefined,
  atStop: undefined,
});

/** Paths of numbers that are not finite. */
function unboundedIn(value: unknown, path: string): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [`${path} = ${value}`];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => unboundedIn(inner, `${path}.${key}`));
}
