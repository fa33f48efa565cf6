import { describe, expect, it } from 'vitest';
import { anyValueBound } from '../../../host/core/network/search/any-value';
import { gaugeTable } from '../../../host/core/network/search/gauge-table';
import type { Problem } from '../../../host/core/network/search/problem';
import { problemOf } from '../../../host/core/network/search/problem';
import { safetyRule } from '../../../host/core/network/search/safety-rule';
import { forms, searchForm } from '../../../host/core/network/search/search';
import { randomSource } from '../../../host/core/numeric/random';
import { preferredValues } from '../../../host/core/preferred';
import type { GaugeResponse, SenderResponse } from '../../../host/core/response';
import { bruteForce } from './brute-force';
import {
  electronicTemperature,
  fallingGauge,
  linearGauge,
  linearSender,
  thermalTemperature,
  thermistor,
  twoCoilFuel,
} from './curves';

const problemFor = (
  gauge: GaugeResponse,
  sender: SenderResponse,
  band: { from: number; to: number; samples: number },
  limit = 3,
): Problem => {
  const table = gaugeTable(gauge);
  if (table.kind === 'refused') throw new Error(table.code);
  const rule = safetyRule(gauge.quantity, band, limit);
  const problem = problemOf(table, sender, { band, rule, weights: [] });
  if (problem.kind === 'refused') throw new Error(problem.code);
  return problem;
};

const hot = { from: 45, to: 115, samples: 15 };
const whole = { from: 0, to: 100, samples: 15 };

/** A temperature gauge, a fuel gauge from 0 ohm, a pressure gauge, a flat zone, a gauge with a hard wrong sender. */
const cases: readonly (readonly [string, Problem])[] = [
  ['thermal gauge, steeper thermistor', problemFor(thermalTemperature, thermistor(1100, 4100), hot)],
  ['thermal gauge, thermistor far too low', problemFor(thermalTemperature, thermistor(300, 3500), hot)],
  ['fuel gauge from 0 ohm', problemFor(twoCoilFuel, linearSender('fuel', 0, 180), whole)],
  [
    'fuel gauge that falls with resistance',
    problemFor(fallingGauge('fuel', 73, 10), linearSender('fuel', 88, 8), whole),
  ],
  [
    'oil pressure gauge',
    problemFor(linearGauge('pressure', 10, 180), linearSender('pressure', 3, 240), whole),
  ],
  ['electronic gauge with a flat zone', problemFor(electronicTemperature, thermistor(900, 3900), hot)],
  ['no network keeps the rule', problemFor(thermalTemperature, thermistor(5000, 3500), hot, 0.1)],
];

describe.each(['E6', 'E12'] as const)('the search over %s', (series) => {
  const values = Float64Array.from(preferredValues(series, 1, 10_000));
  describe.each(cases)('for a %s', (_, problem) => {
    it.each(forms.map((form) => [`${form.topology} (${form.partCount})`, form] as const))(
      'finds the same three best networks as brute force: %s',
      (_name, form) => {
        const parts = {
          values: form.partCount > 2 && series === 'E12' ? values.filter((_v, i) => i % 2 === 0) : values,
          gaugeOhm: 58,
        };
        const result = searchForm(problem, form, parts, 3);
        expect(result.found).toEqual(bruteForce(problem, form, parts, 3));
        expect(result.combinations).toBe(parts.values.length ** form.partCount);
      },
    );
  });
});

/** A monotone gauge of random straight pieces and flat zones, rising or falling, and any sender, weights and rule. */
const randomProblem = (seed: number): Problem => {
  const random = randomSource(seed);
  const knots = [5, 15, 40, 90, 150, 300, 700];
  const steps = knots.map(() => (random.uniform() < 0.25 ? 0 : random.uniform()));
  const heights = steps.map((_, index) => steps.slice(0, index + 1).reduce((sum, step) => sum + step, 0));
  const scale = 100 / Math.max(1, heights.at(-1)!);
  const rises = random.uniform() < 0.5;
  const height = (ohm: number): number => {
    const after = knots.findIndex((knot) => knot >= ohm);
    if (after <= 0) return after === 0 ? heights[0]! : heights.at(-1)!;
    const share = (ohm - knots[after - 1]!) / (knots[after]! - knots[after - 1]!);
    return heights[after - 1]! + share * (heights[after]! - heights[after - 1]!);
  };
  const quantity = (['temperature', 'fuel', 'pressure', 'other'] as const)[Math.floor(4 * random.uniform())]!;
  const gauge: GaugeResponse = {
    ...twoCoilFuel,
    quantity,
    measuredFromOhm: 5,
    measuredToOhm: 700,
    risesWithResistance: rises,
    reading: (ohm) => (rises ? scale * height(ohm) : 100 - scale * height(ohm)),
  };
  const [low, high] = [200 * random.uniform(), 600 * random.uniform()];
  const band = { from: 5, to: 95, samples: 9 };
  const table = gaugeTable(gauge);
  if (table.kind === 'refused') throw new Error(table.code);
  const rule = safetyRule(quantity, band, 20 * random.uniform());
  const weights = [
    { value: 20, weight: random.uniform() },
    { value: 80, weight: 1 },
  ];
  const problem = problemOf(table, linearSender(quantity, low, high), { band, rule, weights });
  if (problem.kind === 'refused') throw new Error(problem.code);
  return problem;
};

describe('the search for random gauges, senders, weights and rules', () => {
  const values = Float64Array.from(preferredValues('E6', 2, 1000));
  it.each(forms.map((form) => [`${form.topology} (${form.partCount})`, form] as const))(
    'finds the same three best networks as brute force: %s',
    (_name, form) => {
      for (let seed = 1; seed <= 25; seed += 1) {
        const problem = randomProblem(seed);
        const parts = { values, gaugeOhm: 40 };
        expect(searchForm(problem, form, parts, 3).found).toEqual(bruteForce(problem, form, parts, 3));
      }
    },
  );

  it('never calls the bound over all resistances too high', () => {
    for (let seed = 1; seed <= 25; seed += 1) {
      const problem = randomProblem(seed);
      for (const form of forms) {
        const coarse = { values, gaugeOhm: 40 };
        const fine = { values: Float64Array.from(preferredValues('E24', 2.2, 680)), gaugeOhm: 40 };
        const { score } = searchForm(problem, form, coarse, 1).found[0]!;
        // E24 reaches between the E6 values; nothing it finds may lie below the bound for E6's range.
        const better = searchForm(problem, form, fine, 1).found[0]!.score;
        expect(anyValueBound(problem, form, coarse, score)).toBeLessThanOrEqual(Math.min(score, better));
      }
    }
  });
});
