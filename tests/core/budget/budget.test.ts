import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BudgetComponent, type Distribution, makeBudget } from '../../../host/core/budget';
import { weightedLinearFit } from '../../../host/core/numeric/linear-fit';
import { answered, refusalCode } from '../../support/answer';
import { barParts, expansionOf, expansionSlopes } from './thermal-expansion';
import line from '../../vectors/gum-h3-thermometer.json';
import welch from '../../vectors/gum-welch-satterthwaite.json';
import expansion from '../../vectors/nist-tn1900-e13-thermal-expansion.json';
import range from '../../vectors/sensor-range-calibration.json';

const normal = (
  name: string,
  standardUncertainty: number,
  degreesOfFreedom?: number | null,
): BudgetComponent => ({
  name,
  value: 0,
  distribution: { kind: 'normal', standardUncertainty },
  degreesOfFreedom,
});
const named = (uncertainties: readonly number[], degrees: readonly (number | null)[]): BudgetComponent[] =>
  uncertainties.map((u, i) => normal(`input ${i + 1}`, u, degrees[i]));

describe('effective degrees of freedom (JCGM 100:2008, G.4 and H.1)', () => {
  it('of the comparator difference of H.1', () => {
    const { u_nm, degrees_of_freedom, published_u_nm, full_precision } = welch.h1_comparator_difference;
    const budget = answered(makeBudget(named(u_nm, degrees_of_freedom)));
    expect(budget.combinedStandardUncertainty).toBeCloseTo(full_precision.u_nm, 10);
    expect(budget.combinedStandardUncertainty).toBeCloseTo(published_u_nm, 1);
    expect(budget.effectiveDegreesOfFreedom).toBeCloseTo(full_precision.nu_eff, 8);
  });

  it('of the end gauge of H.1: 16 after truncation, U99 = 93 nm', () => {
    const { contributions_nm, degrees_of_freedom, published_u_c_nm, published_nu_eff, published_U99_nm } =
      welch.h1_end_gauge;
    const budget = answered(makeBudget(named(contributions_nm, degrees_of_freedom), { probability: 0.99 }));
    expect(Math.round(budget.combinedStandardUncertainty)).toBe(published_u_c_nm);
    expect(budget.effectiveDegreesOfFreedom).toBeCloseTo(
      welch.h1_end_gauge.full_precision.nu_eff_with_unrounded_u_c,
      8,
    );
    expect(budget.degreesOfFreedomUsed).toBe(published_nu_eff);
    expect(Math.round(budget.expandedUncertainty)).toBe(published_U99_nm);
  });

  it('of the product of three means of G.4.2 (from memory): 19, U95 = 2.2 %', () => {
    const { relative_u_percent, degrees_of_freedom, published_nu_eff, published_t_95, full_precision } =
      welch.g4_2_product_of_three_means;
    const budget = answered(makeBudget(named(relative_u_percent, degrees_of_freedom)));
    expect(budget.combinedStandardUncertainty).toBeCloseTo(full_precision.relative_u_c_percent, 10);
    expect(budget.effectiveDegreesOfFreedom).toBeCloseTo(full_precision.nu_eff, 8);
    expect(budget.degreesOfFreedomUsed).toBe(published_nu_eff);
    expect(budget.coverageFactor).toBeCloseTo(published_t_95, 2);
    expect(budget.expandedUncertainty).toBeCloseTo(2.2, 1);
  });

  it('of two components, one with infinitely many', () => {
    const { u, degrees_of_freedom, nu_eff, tolerance } = welch.two_component_case;
    const budget = answered(makeBudget(named(u, degrees_of_freedom)));
    expect(Math.abs(budget.effectiveDegreesOfFreedom! - nu_eff)).toBeLessThanOrEqual(tolerance);
  });

  it('is refused for correlated inputs whose degrees of freedom differ, unless a coverage factor is given', () => {
    const inputs = named([1, 2], [4, 9]);
    const correlations = [{ between: ['input 1', 'input 2'] as const, coefficient: 0.5 }];
    expect(refusalCode(makeBudget(inputs, { correlations }))).toBe('BUDGET_CORRELATED_DEGREES');
    const budget = answered(makeBudget(inputs, { correlations, coverageFactor: 2 }));
    expect(budget.combinedStandardUncertainty).toBeCloseTo(Math.sqrt(1 + 4 + 2), 12);
    expect(budget.expandedUncertainty).toBeCloseTo(2 * Math.sqrt(7), 12);
  });
});

describe('calibration of a thermometer (JCGM 100:2008, H.3)', () => {
  const rows = line.reading_t_degC.map((t) => [1, t - line.t0_degC]);
  const fit = weightedLinearFit({ rows, targets: line.correction_b_degC, weights: rows.map(() => 1) })!;
  const variance = fit.chiSquared / line.degrees_of_freedom;
  const [y1, y2] = fit.coefficients;
  const [u1, u2] = [0, 1].map((i) => Math.sqrt(variance * fit.inverseNormal[i]![i]!));
  const correlation = (variance * fit.inverseNormal[0]![1]!) / (u1! * u2!);

  it('gives intercept, slope, their uncertainties and correlation', () => {
    const exact = line.full_precision;
    expect(y1! / exact.y1_degC).toBeCloseTo(1, 10);
    expect(y2! / exact.y2).toBeCloseTo(1, 9);
    expect(u1! / exact.u_y1_degC).toBeCloseTo(1, 9);
    expect(u2! / exact.u_y2).toBeCloseTo(1, 9);
    expect(correlation).toBeCloseTo(exact.r_y1_y2, 9);
    expect(fit.chiSquared / line.published.sum_of_squared_residuals_degC2).toBeCloseTo(1, 9);
    expect(Math.sqrt(variance)).toBeCloseTo(line.published_from_memory.s_degC, 4);
  });

  it('gives the correction at 30 degC with its uncertainty and 9 degrees of freedom', () => {
    const components: BudgetComponent[] = [
      { ...normal('intercept', u1!, 9), value: y1! },
      {
        ...normal('slope', u2!, 9),
        value: y2!,
        sensitivity: line.published.predicted_at_degC - line.t0_degC,
      },
    ];
    const budget = answered(
      makeBudget(components, {
        correlations: [{ between: ['intercept', 'slope'], coefficient: correlation }],
      }),
    );
    expect(budget.value).toBeCloseTo(line.full_precision.b_30_degC, 10);
    expect(budget.combinedStandardUncertainty).toBeCloseTo(line.full_precision.u_b_30_degC, 10);
    expect(budget.value).toBeCloseTo(line.published.b_30_degC, 4);
    expect(budget.combinedStandardUncertainty).toBeCloseTo(line.published.u_b_30_degC, 4);
    expect(budget.effectiveDegreesOfFreedom).toBeCloseTo(line.published.degrees_of_freedom_b_30, 10);
  });

  it('gives H.3.6: a common systematic error of 0.005 degC widens the intercept, and its degrees of freedom', () => {
    const budget = answered(makeBudget([normal('intercept', u1!, 9), normal('common', 0.005)]));
    expect(budget.combinedStandardUncertainty).toBeCloseTo(line.extra.u_y1_with_common_error_degC, 12);
    expect(budget.effectiveDegreesOfFreedom).toBeCloseTo(line.extra.effective_degrees_of_freedom_y1, 6);
  });
});

describe('range calibration of a pressure sensor (Kessel, Kacker and Sommer, Measurement 45 (2012), Tables 4 and 7)', () => {
  const { published } = range;

  it('gives the expanded uncertainty along the whole range', () => {
    const { a, u_a, b, u_b, r_a_b } = published.inputs_used_for_the_table;
    range.indication.forEach((indication, i) => {
      const components: BudgetComponent[] = [
        { ...normal('a', u_a), value: a },
        { ...normal('b', u_b), value: b, sensitivity: indication },
        {
          name: 'resolution',
          value: 0,
          distribution: { kind: 'rectangular', halfWidth: range.resolution_half_width_indication },
          sensitivity: b,
        },
        {
          name: 'non-linearity',
          value: 0,
          distribution: { kind: 'rectangular', halfWidth: range.non_linearity_half_width_pressure },
        },
      ];
      const correlations = [{ between: ['a', 'b'] as const, coefficient: r_a_b }];
      const budget = answered(makeBudget(components, { correlations, coverageFactor: 2 }));
      expect(budget.value).toBeCloseTo(published.pressure[i]!, 3);
      expect(budget.expandedUncertainty).toBeCloseTo(published.expanded_uncertainty_k2[i]!, 8);
    });
  });
});

describe('the same sensor after linearisation (Kessel, Kacker and Sommer, linearised sensor)', () => {
  const { c1, c2, c3, a, u_a, b, u_b, r_a_b, pressure, ...table } = range.linearised_sensor;

  it('gives the expanded uncertainty along the whole range to its printed digits', () => {
    range.indication.forEach((x, i) => {
      const linear = c1 * x + c2 * x ** 2 + c3 * x ** 3;
      const components: BudgetComponent[] = [
        { ...normal('a', u_a), value: a },
        { ...normal('b', u_b), value: b, sensitivity: linear },
        {
          name: 'resolution',
          value: 0,
          distribution: { kind: 'rectangular', halfWidth: range.resolution_half_width_indication },
          sensitivity: b * (c1 + 2 * c2 * x + 3 * c3 * x ** 2),
        },
        {
          name: 'non-linearity',
          value: 0,
          distribution: { kind: 'rectangular', halfWidth: table.non_linearity_half_width_pressure },
        },
      ];
      const correlations = [{ between: ['a', 'b'] as const, coefficient: r_a_b }];
      const budget = answered(makeBudget(components, { correlations, coverageFactor: 2 }));
      // Coefficients are printed to four digits: pressures to 1 in 10,000.
      expect(Math.abs(budget.value - pressure[i]!)).toBeLessThan(2e-3);
      expect(Math.abs(budget.expandedUncertainty - table.expanded_uncertainty_k2[i]!)).toBeLessThan(1e-4);
    });
  });
});

describe('thermal expansion (NIST Technical Note 1900, example E13)', () => {
  it('has the first-order uncertainty of its slopes', () => {
    const { full_precision, gum_u_per_K } = expansion;
    const slopes = expansionSlopes();
    const parts = barParts.map((part, i) => ({ ...part, sensitivity: slopes[i]! }));
    const value = expansionOf(Float64Array.from(barParts, (part) => part.value));
    const budget = answered(makeBudget(parts, { value }));
    expect(budget.value / full_precision.gum_alpha_per_K).toBeCloseTo(1, 10);
    expect(budget.combinedStandardUncertainty / full_precision.gum_u_per_K).toBeCloseTo(1, 6);
    expect(Math.abs(budget.combinedStandardUncertainty - gum_u_per_K)).toBeLessThan(0.5e-8);
  });
});

describe('needle reading at 90 degC (worked example of the trade, recomputed)', () => {
  it('does not support a claim of 2 K with a needle of 2 K', () => {
    const rectangular = (name: string, halfWidth: number): BudgetComponent => ({
      name,
      value: 0,
      distribution: { kind: 'rectangular', halfWidth },
    });
    const budget = answered(
      makeBudget([
        normal('resistance box', 0.1),
        rectangular('needle', 2),
        rectangular('hysteresis', 1.5),
        normal('repeatability', 0.46),
      ]),
    );
    expect(budget.combinedStandardUncertainty).toBeCloseTo(1.5, 1);
    expect(budget.expandedUncertainty).toBeGreaterThan(2.9);
    expect(
      budget.lines.reduce((most, each) => (each.varianceShare > most.varianceShare ? each : most)).name,
    ).toBe('needle');
  });
});

describe('standard uncertainty of a shape', () => {
  it.each([
    [{ kind: 'rectangular', halfWidth: 3 }, 3 / Math.sqrt(3), 'GUM 4.3.7'],
    [{ kind: 'triangular', halfWidth: 3 }, 3 / Math.sqrt(6), 'GUM 4.3.9'],
    [{ kind: 'arcsine', halfWidth: 3 }, 3 / Math.sqrt(2), 'JCGM 101:2008, Table 1'],
    [{ kind: 'student-t', scale: 3, degreesOfFreedom: 4 }, 3, 'GUM 4.2.3'],
  ] satisfies [Distribution, number, string][])('%o: %d, source %s', (distribution, expected, _source) => {
    const budget = answered(makeBudget([{ name: 'x', value: 1, distribution }]));
    expect(budget.combinedStandardUncertainty).toBeCloseTo(expected, 12);
  });
});

describe('budgets in general', () => {
  const anyU = fc.double({ min: 1e-3, max: 1e3, noNaN: true });
  const anySensitivity = fc.double({ min: -100, max: 100, noNaN: true });
  const anyInputs = fc
    .array(fc.tuple(anyU, anySensitivity), { minLength: 1, maxLength: 8 })
    .map((pairs) => pairs.map(([u, sensitivity], i) => ({ ...normal(`x${i}`, u), value: i, sensitivity })));

  it('scale with the unit, and do not depend on the order', () => {
    fc.assert(
      fc.property(anyInputs, fc.double({ min: 0.1, max: 10, noNaN: true }), (inputs, factor) => {
        const u = answered(makeBudget(inputs)).combinedStandardUncertainty;
        const scaled = inputs.map((each) => ({ ...each, sensitivity: each.sensitivity * factor }));
        expect(answered(makeBudget(scaled)).combinedStandardUncertainty).toBeCloseTo(u * factor, 6);
        expect(answered(makeBudget([...inputs].reverse())).combinedStandardUncertainty).toBeCloseTo(u, 8);
      }),
    );
  });

  it('have shares that sum to one', () => {
    fc.assert(
      fc.property(anyInputs, fc.double({ min: -0.9, max: 0.9, noNaN: true }), (inputs, coefficient) => {
        const correlations = inputs.length < 2 ? [] : [{ between: ['x0', 'x1'] as const, coefficient }];
        const budget = answered(makeBudget(inputs, { correlations }));
        if (budget.combinedStandardUncertainty < 1e-9) return;
        expect(budget.lines.reduce((sum, each) => sum + each.varianceShare, 0)).toBeCloseTo(1, 9);
      }),
    );
  });

  it('cancel what is fully correlated and enters with opposite signs', () => {
    const inputs = [normal('a', 2), { ...normal('b', 2), sensitivity: -1 }];
    const correlations = [{ between: ['a', 'b'] as const, coefficient: 1 }];
    expect(answered(makeBudget(inputs, { correlations })).combinedStandardUncertainty).toBe(0);
  });

  it('survive JSON', () => {
    const budget = answered(makeBudget(named([1, 2], [3, null])));
    expect(JSON.parse(JSON.stringify(budget))).toEqual(budget);
  });

  const wrong: [string, Parameters<typeof makeBudget>, string][] = [
    ['nothing', [[]], 'BUDGET_EMPTY'],
    ['too much', [Array.from({ length: 201 }, (_, i) => normal(`x${i}`, 1))], 'BUDGET_TOO_MANY'],
    ['a negative width', [[normal('a', -1)]], 'BUDGET_COMPONENT'],
    ['a value that is no number', [[{ ...normal('a', 1), value: Number.NaN }]], 'BUDGET_COMPONENT'],
    ['zero degrees of freedom', [[normal('a', 1, 0)]], 'BUDGET_COMPONENT'],
    ['one name twice', [[normal('a', 1), normal('a', 1)]], 'BUDGET_NAME'],
    ['a probability of one', [[normal('a', 1)], { probability: 1 }], 'BUDGET_PROBABILITY'],
    ['a coverage factor of zero', [[normal('a', 1)], { coverageFactor: 0 }], 'BUDGET_COVERAGE_FACTOR'],
    [
      'a correlation with nobody',
      [[normal('a', 1)], { correlations: [{ between: ['a', 'z'], coefficient: 0.1 }] }],
      'BUDGET_CORRELATION',
    ],
    [
      'a correlation above one',
      [[normal('a', 1), normal('b', 1)], { correlations: [{ between: ['a', 'b'], coefficient: 1.1 }] }],
      'BUDGET_CORRELATION',
    ],
    [
      'correlations that cannot all hold',
      [
        [normal('a', 1), normal('b', 1), normal('c', 1)],
        {
          correlations: [
            { between: ['a', 'b'], coefficient: 0.9 },
            { between: ['b', 'c'], coefficient: 0.9 },
            { between: ['a', 'c'], coefficient: -0.9 },
          ],
        },
      ],
      'BUDGET_CORRELATION',
    ],
    [
      'the deviation of a t that has none',
      [
        [
          {
            name: 'a',
            value: 0,
            distribution: { kind: 'student-t', standardDeviation: 1, degreesOfFreedom: 2 },
          },
        ],
      ],
      'BUDGET_COMPONENT',
    ],
  ];
  it.each(wrong)('refuse %s', (_, [components, options], code) => {
    expect(refusalCode(makeBudget(components, options))).toBe(code);
  });
});
