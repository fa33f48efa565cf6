import { describe, expect, it } from 'vitest';
import {
  agreesWithMonteCarlo,
  type BudgetComponent,
  type Distribution,
  makeBudget,
  monteCarlo,
  propagate,
} from '../../../host/core/budget';
import { answered, refusalCode } from '../../support/answer';
import { barParts, expansionOf } from './thermal-expansion';
import additive from '../../vectors/jcgm101-additive.json';
import expansion from '../../vectors/nist-tn1900-e13-thermal-expansion.json';

const SQRT_3 = Math.sqrt(3);
const DRAWS = 1_000_000;

const four = (distributions: readonly Distribution[]): BudgetComponent[] =>
  distributions.map((distribution, i) => ({ name: `X${i + 1}`, value: 0, distribution }));
const rectangular = (standardUncertainty: number): Distribution => ({
  kind: 'rectangular',
  halfWidth: SQRT_3 * standardUncertainty,
});

describe('additive model (JCGM 101:2008, 9.2)', () => {
  it('with four normal inputs', () => {
    const inputs = four(new Array<Distribution>(4).fill({ kind: 'normal', standardUncertainty: 1 }));
    const found = answered(monteCarlo(inputs, { draws: DRAWS, seed: 1 }));
    const { y, u, coverage_interval_95, tolerance_y, tolerance_u, tolerance_interval } = additive.case_normal;
    expect(Math.abs(found.mean - y)).toBeLessThan(tolerance_y);
    expect(Math.abs(found.standardDeviation - u)).toBeLessThan(tolerance_u);
    expect(Math.abs(found.symmetric.from - coverage_interval_95[0]!)).toBeLessThan(2 * tolerance_interval);
    expect(Math.abs(found.symmetric.to - coverage_interval_95[1]!)).toBeLessThan(2 * tolerance_interval);
    expect(agreesWithMonteCarlo(answered(makeBudget(inputs)), found)).toBe(true);
  });

  it('with four rectangular inputs: 3.88, where the first-order budget says 3.92', () => {
    const inputs = four(new Array<Distribution>(4).fill(rectangular(1)));
    const found = answered(monteCarlo(inputs, { draws: DRAWS, seed: 1 }));
    const { half_width_95 } = additive.case_rectangular.exact;
    expect(Math.abs(found.mean)).toBeLessThan(additive.case_rectangular.tolerance_y);
    expect(Math.abs(found.standardDeviation - 2)).toBeLessThan(additive.case_rectangular.tolerance_u);
    expect(Math.abs((found.symmetric.to - found.symmetric.from) / 2 - half_width_95)).toBeLessThan(
      additive.case_rectangular.tolerance_interval,
    );
    expect(answered(makeBudget(inputs)).expandedUncertainty).toBeCloseTo(3.92, 2);
  });

  it('with one input ten times as wide (from memory, simulated independently): 17.0 instead of 19.9', () => {
    const inputs = four([rectangular(1), rectangular(1), rectangular(1), rectangular(10)]);
    const found = answered(monteCarlo(inputs, { draws: DRAWS, seed: 1 }));
    const { simulated, gum_interval_95 } = additive.case_rectangular_unequal;
    const budget = answered(makeBudget(inputs));
    expect(found.standardDeviation).toBeCloseTo(simulated.u, 1);
    expect(Math.abs(found.symmetric.to - simulated.coverage_interval_95[1]!)).toBeLessThan(0.03);
    expect(budget.expandedUncertainty).toBeCloseTo(gum_interval_95[1]!, 1);
    expect(agreesWithMonteCarlo(budget, found)).toBe(false);
  });
});

describe('thermal expansion (NIST Technical Note 1900, example E13)', () => {
  it('gives the published mean and standard deviation', () => {
    const found = answered(propagate(expansionOf, barParts, { draws: 400_000, seed: 1 }));
    // Heavy tails (no fourth moment): the standard deviation of 400,000 draws wanders by about a percent.
    expect(Math.abs(found.mean - expansion.monte_carlo_alpha_per_K)).toBeLessThan(2e-8);
    expect(Math.abs(found.standardDeviation / expansion.monte_carlo_u_per_K - 1)).toBeLessThan(0.03);
  });
});

describe('Monte Carlo in general', () => {
  const shapes: [Distribution, number][] = [
    // 97.5 % points of each shape, in closed form.
    [{ kind: 'normal', standardUncertainty: 1 }, 1.959964],
    [{ kind: 'rectangular', halfWidth: 1 }, 0.95],
    [{ kind: 'triangular', halfWidth: 1 }, 1 - Math.sqrt(0.05)],
    [{ kind: 'arcsine', halfWidth: 1 }, Math.sin(0.475 * Math.PI)],
    [{ kind: 'student-t', scale: 1, degreesOfFreedom: 5 }, 2.570582],
    [{ kind: 'student-t', standardDeviation: 1, degreesOfFreedom: 5 }, 2.570582 * Math.sqrt(3 / 5)],
  ];
  it.each(shapes)(
    'draws %o with its own 95 % interval, alone and as one of a correlated pair',
    (distribution, half) => {
      const one: BudgetComponent = { name: 'x', value: 10, distribution };
      const alone = answered(monteCarlo([one], { draws: 200_000, seed: 4 }));
      const pair = answered(
        monteCarlo([one, { ...one, name: 'idle', sensitivity: 0 }], {
          draws: 50_000,
          seed: 4,
          correlations: [{ between: ['x', 'idle'], coefficient: 0.7 }],
        }),
      );
      for (const { symmetric } of [alone, pair]) {
        expect(symmetric.to / (10 + half)).toBeCloseTo(1, 2);
        expect(symmetric.from / (10 - half)).toBeCloseTo(1, 1);
      }
      expect(Math.abs(alone.symmetric.to - 10 - half)).toBeLessThan(0.03);
    },
  );

  it('draws correlated normal inputs with their correlation', () => {
    const inputs = ['a', 'b'].map((name): BudgetComponent => ({
      name,
      value: 0,
      distribution: { kind: 'normal', standardUncertainty: 1 },
    }));
    const correlations = [{ between: ['a', 'b'] as const, coefficient: -0.93 }];
    const found = answered(monteCarlo(inputs, { draws: 200_000, seed: 9, correlations }));
    expect(found.standardDeviation).toBeCloseTo(Math.sqrt(2 - 2 * 0.93), 2);
  });

  it('repeats itself for one seed and not for another', () => {
    const inputs = four([rectangular(1)]);
    const run = (seed: number) => answered(monteCarlo(inputs, { draws: 2_000, seed }));
    expect(run(5)).toEqual(run(5));
    expect(run(6).mean).not.toBe(run(5).mean);
  });

  it('has a shortest interval no longer than the symmetric one, and much shorter when the result is skewed', () => {
    const inputs = four([{ kind: 'normal', standardUncertainty: 1 }]);
    const found = answered(propagate(([x]) => Math.exp(x!), inputs, { draws: 200_000, seed: 2 }));
    const length = ({ from, to }: { from: number; to: number }): number => to - from;
    expect(length(found.shortest)).toBeLessThan(0.75 * length(found.symmetric));
    // Log-normal: the symmetric ends are exp(-1.96) and exp(1.96).
    expect(found.symmetric.from).toBeCloseTo(Math.exp(-1.96), 2);
    expect(Math.abs(found.symmetric.to - Math.exp(1.96))).toBeLessThan(0.1);
  });

  it('keeps a spread that is a billionth of the value', () => {
    const one: BudgetComponent = { name: 'x', value: 1e6, distribution: rectangular(1e-3) };
    const found = answered(monteCarlo([one], { draws: 100_000, seed: 1 }));
    expect(found.standardDeviation / 1e-3).toBeCloseTo(1, 2);
  });

  it('refuses draws, seeds and models that make no sense', () => {
    const inputs = four([rectangular(1)]);
    expect(refusalCode(monteCarlo(inputs, { draws: 10, seed: 1 }))).toBe('MONTE_CARLO_DRAWS');
    expect(refusalCode(monteCarlo(inputs, { draws: 1e9, seed: 1 }))).toBe('MONTE_CARLO_DRAWS');
    expect(refusalCode(monteCarlo(inputs, { draws: 1e4, seed: 0.5 }))).toBe('MONTE_CARLO_SEED');
    expect(refusalCode(monteCarlo([], { draws: 1e4, seed: 1 }))).toBe('BUDGET_EMPTY');
    const root = propagate(([x]) => Math.sqrt(x!), inputs, { draws: 1e4, seed: 1 });
    expect(refusalCode(root)).toBe('MONTE_CARLO_NOT_FINITE');
  });
});
