import { describe, expect, it } from 'vitest';

import { printedParameters, anchoredLaw } from '../../../host/core/curve/laws/shape-law';
import { shapes } from '../../../host/core/curve/laws/shapes';

const anchors = [10, 240] as const;
const places = [0, 3, 10, 47, 100, 240, 900];
const shapeValues = { ratio: [1.3], 'two-coil': [0.2], thermal: [-0.4], 'cross-coil': [0.3, 1.9] } as const;

const printedFormula = {
  ratio: (p: Record<string, number>, r: number) => (p['a']! + p['b']! * r) / (1 + p['c']! * r),
  'two-coil': (p: Record<string, number>, r: number) => p['a']! + p['b']! * Math.atan(r / (r + p['Rf']!)),
  thermal: (p: Record<string, number>, r: number) => p['a']! + p['b']! / (p['Rg']! + r) ** 2,
  'cross-coil': (p: Record<string, number>, r: number) =>
    p['a']! + p['b']! * Math.atan2(r * Math.sin(p['angle']!), r * Math.cos(p['angle']!) + p['Rs']!),
};

describe('mechanism laws', () => {
  it('are four', () => {
    expect(shapes.map((shape) => shape.name)).toEqual(['ratio', 'two-coil', 'thermal', 'cross-coil']);
  });

  for (const shape of shapes) {
    const p = [20, 90, ...shapeValues[shape.name]];
    const law = anchoredLaw(shape, anchors, p);

    it(`${shape.name}: takes its first two parameters at the anchors and rises all the way between`, () => {
      expect(law.reading(10)).toBeCloseTo(20, 12);
      expect(law.reading(240)).toBeCloseTo(90, 12);
      const readings = places.map((ohm) => law.reading(ohm));
      expect(readings).toEqual([...readings].sort((a, b) => a - b));
    });

    it(`${shape.name}: has the gradient and slope that small steps show`, () => {
      for (const ohm of places) {
        law.gradient(ohm).forEach((value, j) => {
          const at = (step: number) =>
            anchoredLaw(
              shape,
              anchors,
              p.map((v, i) => (i === j ? v + step : v)),
            ).reading(ohm);
          expect(value).toBeCloseTo((at(1e-5) - at(-1e-5)) / 2e-5, 5);
        });
        const step = 1e-4;
        const rise = law.reading(ohm + step) - law.reading(ohm);
        expect(law.slope(ohm + step / 2)).toBeCloseTo(rise / step, 5);
      }
    });

    it(`${shape.name}: is reproduced by its printed parameters`, () => {
      const printed = Object.fromEntries(
        printedParameters(shape.name, anchors, p).map(({ name, value }) => [name, value]),
      );
      for (const ohm of places)
        expect(printedFormula[shape.name](printed, ohm)).toBeCloseTo(law.reading(ohm), 9);
    });
  }
});
