import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coverageFactor, studentTCdf, studentTQuantile } from '../../../host/core/numeric/student-t';
import vector from '../../vectors/gum-g2-t-factors.json';

describe('coverage factors (JCGM 100:2008, Table G.2)', () => {
  const percents = [68.27, 90, 95, 95.45, 99, 99.73];
  // Cells whose printed digit is not the rounded exact value, listed beside the table.
  const misprinted = vector.printing_differences.cells.map(([degrees, percent]) => `${degrees}/${percent}`);

  it.each(vector.rows)('at %s degrees of freedom', (...row) => {
    const [degrees, ...printed] = row;
    const decimals = degrees === 100 ? 3 : 2;
    printed.forEach((factor, i) => {
      const exact = coverageFactor(percents[i]! / 100, degrees!);
      const isMisprinted = misprinted.includes(`${degrees}/${percents[i]}`);
      const tolerance = isMisprinted ? 0.02 : 0.5 * 10 ** -decimals + 1e-9;
      expect(Math.abs(exact - factor), `${percents[i]} %`).toBeLessThanOrEqual(tolerance);
    });
  });

  it('at infinitely many', () => {
    vector.infinite_degrees_of_freedom.forEach((factor, i) =>
      expect(coverageFactor(percents[i]! / 100, Infinity)).toBeCloseTo(factor, 3),
    );
  });

  it('to ten digits against the values computed with R', () => {
    const { degrees_of_freedom, t_95, t_99, t_95_infinite, t_99_infinite } = vector.exact_95;
    degrees_of_freedom.forEach((degrees, i) => {
      expect(Math.abs(coverageFactor(0.95, degrees) - t_95[i]!)).toBeLessThan(1.1e-9);
      expect(Math.abs(coverageFactor(0.99, degrees) - t_99[i]!)).toBeLessThan(1.1e-9);
    });
    expect(Math.abs(coverageFactor(0.95, Infinity) - t_95_infinite)).toBeLessThan(1e-9);
    expect(Math.abs(coverageFactor(0.99, Infinity) - t_99_infinite)).toBeLessThan(1e-9);
  });

  it('against the values computed with SciPy 1.10, whose ninth decimal is off at 6 and 50 degrees of freedom', () => {
    // 40-digit arithmetic gives 2.516528348122 (listed ...345) and 2.051250781852 (listed ...779).
    const { degrees_of_freedom, t_95, t_95_45 } = vector.exact_computed;
    degrees_of_freedom.forEach((degrees, i) => {
      expect(Math.abs(coverageFactor(0.95, degrees) / t_95[i]! - 1)).toBeLessThan(1.5e-9);
      expect(Math.abs(coverageFactor(0.9545, degrees) / t_95_45[i]! - 1)).toBeLessThan(1.5e-9);
    });
    expect(Math.abs(coverageFactor(0.9545, 6) - 2.516528348122)).toBeLessThan(1e-12);
    expect(Math.abs(coverageFactor(0.9545, 50) - 2.051250781852)).toBeLessThan(1e-12);
  });
});

describe('Student t', () => {
  const anyDegrees = fc.double({ min: Math.log(0.5), max: Math.log(1e7), noNaN: true }).map(Math.exp);
  const anyProbability = fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true });

  it('has quantile and distribution as inverses of each other', () => {
    fc.assert(
      fc.property(anyDegrees, anyProbability, (degrees, probability) => {
        const back = studentTCdf(studentTQuantile(probability, degrees), degrees);
        expect(Math.abs(back - probability)).toBeLessThan(1e-10);
      }),
    );
  });

  it('is symmetric', () => {
    fc.assert(
      fc.property(anyDegrees, fc.double({ min: 1e-6, max: 0.5, noNaN: true }), (degrees, tail) => {
        const [low, high] = [studentTQuantile(tail, degrees), studentTQuantile(1 - tail, degrees)];
        expect(Math.abs(low + high)).toBeLessThan(1e-8 * Math.max(1, Math.abs(low)));
      }),
    );
  });

  it('falls towards the normal as degrees of freedom grow, without a step where the method changes', () => {
    const factors = [1, 2, 5, 10, 100, 1000, 1999, 2000, 2001, 1e4, 1e8, Infinity].map((degrees) =>
      coverageFactor(0.95, degrees),
    );
    expect(factors.every((factor, i) => i === 0 || factor < factors[i - 1]!)).toBe(true);
  });

  it('has the closed forms of one and two degrees of freedom', () => {
    // Source: tan(pi (p - 1/2)) and (2p - 1) / sqrt(2 p (1 - p)), the inverse distribution functions in closed form.
    for (const p of [0.001, 0.2, 0.6, 0.975, 0.9999]) {
      expect(studentTQuantile(p, 1) / Math.tan(Math.PI * (p - 0.5))).toBeCloseTo(1, 11);
      expect(studentTQuantile(p, 2) / ((2 * p - 1) / Math.sqrt(2 * p * (1 - p)))).toBeCloseTo(1, 11);
    }
  });

  it('stays finite in the furthest tails', () => {
    for (const degrees of [0.5, 1, 3, 50, 3000]) {
      for (const p of [0, 5e-324, 1e-300, 1]) {
        expect(Number.isFinite(studentTQuantile(p, degrees)), `${p} at ${degrees}`).toBe(true);
      }
    }
  });
});
