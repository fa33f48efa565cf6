import { describe, expect, it } from 'vitest';
import { someOf } from '../../support/deep';
import { columnAt, ohmAxis, type Columns } from '../../../host/core/catalogue/columns';
import { usualSpread } from '../../../host/core/catalogue/model-curve';
import { modelReport } from '../../../host/core/catalogue/model-report';
import { USUAL_SPREAD_PART } from '../../../host/core/catalogue/spread';
import { togetherFactor } from '../../../host/core/catalogue/together';
import { randomSource } from '../../../host/core/numeric/random';
import { anyMaker, measured, specimenOf, type Maker } from '../../support/catalogue/gauge-world';

const known = (tau: number) => ({ nodes: [{ tau, share: 1, mean: 0.5, meanVariance: 0 }] });
const half = 1.959964 * 0.02;

describe('a band for all marks at once', () => {
  it('is no wider for marks that move as one', () => {
    const places = [0, 0, 0].map((standing) => ({ standing, half }));
    expect(togetherFactor(places, known(0.02), 0.95)).toBeCloseTo(1, 3);
  });

  it('is that of two independent readings where two marks move at right angles', () => {
    // tan of their directions is +-1: sqrt(0.9) s = sqrt(0.7). Both within z: z of (1 + sqrt(0.95)) / 2 = 2.236477.
    const standing = Math.sqrt(0.7 / 0.9);
    const places = [-standing, standing].map((each) => ({ standing: each, half }));
    expect(togetherFactor(places, known(0.02), 0.95)).toBeCloseTo(2.236477 / 1.959964, 3);
  });

  it('never passes that of a whole plane: a chi of two degrees', () => {
    const places = Array.from({ length: 60 }, (_, i) => ({ standing: Math.tan((i / 60 - 0.5) * 3), half }));
    // Source: chi-squared of two degrees, 95 %: 5.991465 (Abramowitz and Stegun, table 26.8).
    const plane = Math.sqrt(5.991465) / 1.959964;
    const found = togetherFactor(places, known(0.02), 0.95);
    expect(found).toBeLessThan(plane);
    expect(found).toBeGreaterThan(1.2);
  });

  const task = {
    ...{ kind: 'gauge' as const, axis: ohmAxis, usual: USUAL_SPREAD_PART },
    scale: { unit: '%', marks: [], lowest: 0, highest: 100 },
  };

  /** Gauges as circuits: a coil's ohms, a spring and a zero differ, not shift and gain. */
  function heldIn(shops: number, count: number, tau: number): { together: number; each: number } {
    const random = randomSource(77);
    let [together, each] = [0, 0];
    for (let shop = 0; shop < shops; shop += 1) {
      const maker = anyMaker(random);
      const specimens = Array.from({ length: count }, (_, i) => ({
        id: String(i),
        columns: measured(specimenOf(maker, random, tau), maker, random),
      }));
      const { lines } = modelReport(specimens, task);
      const next = specimenOf(maker, random, tau);
      const isIn = (band: 'together' | 'next'): boolean =>
        lines.every((line) => {
          const shown = 100 * next.placeAt(line.argument);
          return line[band].from <= shown && shown <= line[band].to;
        });
      if (isIn('together')) together += 1;
      if (isIn('next')) each += 1;
    }
    return { together: together / shops, each: each / shops };
  }

  it.each(
    someOf(
      [
        [2, 0.01, 200],
        [2, 0.03, 200],
        [5, 0.02, 40],
      ] as const,
      3,
    ),
  )('holds the whole of the next specimen: %i specimens, tau %f', (count, tau, shops) => {
    const { together, each } = heldIn(shops, count, tau);
    expect(together).toBeGreaterThan(0.9);
    expect(each).toBeLessThanOrEqual(together);
  });
});

describe('the usual spread of a kind of part', () => {
  const modelsOf = (tau: number, models: number, each: number): Columns[][] => {
    const random = randomSource(5);
    return Array.from({ length: models }, () => {
      const maker: Maker = { law: 'coil', lowOhm: 10, highOhm: 180, coilOhm: 80 };
      return Array.from({ length: each }, () => measured(specimenOf(maker, random, tau), maker, random));
    });
  };
  /** What specimens of that world differ by in the middle of the arc on average, from 4,000 of them. */
  const truth = (tau: number): number => {
    const values = modelsOf(tau, 1, 4_000)[0]!.map(({ value }) => columnAt(value, ohmAxis.index(42)));
    const mean = values.reduce((sum, one) => sum + one, 0) / values.length;
    return Math.sqrt(values.reduce((sum, one) => sum + (one - mean) ** 2, 0) / values.length);
  };

  it('is what is common practice where no model has two specimens', () => {
    expect(usualSpread(modelsOf(0.01, 5, 1), ohmAxis, 0.02)).toEqual({ tau: 0.02, models: 0 });
  });

  it.each([0.008, 0.04])('is found from twenty models of three: tau %f', (tau) => {
    const found = usualSpread(modelsOf(tau, 20, 3), ohmAxis, 0.02);
    expect(found.models).toBe(20);
    expect(found.tau / truth(tau)).toBeGreaterThan(0.7);
    expect(found.tau / truth(tau)).toBeLessThan(1.4);
  });

  it('of one model alone stays near what is usual', () => {
    const { tau } = usualSpread(modelsOf(0.002, 1, 2), ohmAxis, 0.02);
    expect(tau).toBeGreaterThan(0.002);
    expect(tau).toBeLessThan(0.02);
  });
});
