import { describe, expect, it } from 'vitest';
import { gaugeTable } from '../../../host/core/network/gauge-table';
import type { Problem } from '../../../host/core/network/problem';
import { problemOf } from '../../../host/core/network/problem';
import { safetyRule } from '../../../host/core/network/rule';
import { forms, searchForm } from '../../../host/core/network/search';
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
  if (table.kind === 'refused') throw new Error(table.message);
  const rule = safetyRule(gauge.quantity, band, limit);
  const problem = problemOf(table, sender, { band, rule, weights: [] });
  if (problem.kind === 'refused') throw new Error(problem.message);
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
