import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

import { cubicAt, cubicSlopeAt, monotoneCubic } from '../../../host/core/numeric/monotone-cubic';
import reference from '../../vectors/pchip-reference.json';

function knots(x: readonly number[], y: readonly number[]) {
  const curve = monotoneCubic(Object.freeze(x), Object.freeze(y));
  if (curve.kind === 'refused') throw new Error(curve.code);
  return curve;
}

const { rpn14, akima, increasing_with_flats, decreasing_convex } = reference;

describe('monotone cubic against an independent library', () => {
  // Source: SciPy 1.10.1 PchipInterpolator on published and invented data; the file names each.
  for (const [name, set] of Object.entries({ rpn14, akima, increasing_with_flats, decreasing_convex }))
    it(`has its knot slopes, values and slopes on the set ${name}`, () => {
      const curve = knots(set.x, set.y);
      set.knot_derivatives.forEach((slope, i) => expect(curve.slopes[i]).toBeCloseTo(slope, 12));
      set.grid_x.forEach((x, i) => {
        expect(cubicAt(curve, x)).toBeCloseTo(set.grid_y[i]!, 11);
        expect(cubicSlopeAt(curve, x)).toBeCloseTo(set.grid_dydx[i]!, 10);
      });
    });

  // Source: NAG example e01bec, four decimals.
  it('agrees with the printed four decimals of a second library', () => {
    const curve = knots(rpn14.x, rpn14.y);
    rpn14.nag_check.x.forEach((x, i) =>
      expect(Math.abs(cubicAt(curve, x) - rpn14.nag_check.y[i]!)).toBeLessThan(5.001e-5),
    );
  });
});

describe('monotone cubic', () => {
  const rising = fc
    .uniqueArray(fc.integer({ min: -1000, max: 1000 }), { minLength: 3, maxLength: 15 })
    .map((x) => x.sort((a, b) => a - b))
    .chain((x) =>
      fc.tuple(
        fc.constant(x),
        fc.array(fc.integer({ min: 0, max: 9 }), { minLength: x.length, maxLength: x.length }),
      ),
    )
    .map(([x, steps]) => ({ x, y: steps.map((_, i) => steps.slice(0, i + 1).reduce((a, b) => a + b)) }));

  it('never falls between knots that rise', () => {
    fc.assert(
      fc.property(rising, fc.double({ min: 0, max: 1, noNaN: true }), ({ x, y }, part) => {
        const curve = knots(x, y);
        const at = x[0]! + part * (x.at(-1)! - x[0]!);
        expect(cubicSlopeAt(curve, at)).toBeGreaterThanOrEqual(-1e-9);
      }),
    );
  });

  it('turns over when the data are turned over, and moves when they are moved', () => {
    fc.assert(
      fc.property(rising, fc.integer({ min: -1200, max: 1200 }), ({ x, y }, at) => {
        const turned = knots(
          [...x].reverse().map((value) => -value),
          [...y].reverse(),
        );
        const moved = knots(
          x.map((value) => value + 7),
          y.map((value) => 3 - 2 * value),
        );
        const value = cubicAt(knots(x, y), at);
        expect(cubicAt(turned, -at)).toBeCloseTo(value, 7);
        expect(cubicAt(moved, at + 7)).toBeCloseTo(3 - 2 * value, 7);
      }),
    );
  });

  it('refuses one knot, knots out of order and numbers that are not finite', () => {
    expect(monotoneCubic([1], [1])).toMatchObject({ code: 'CUBIC_TOO_FEW' });
    expect(monotoneCubic([1, 1, 2], [1, 2, 3])).toMatchObject({ code: 'CUBIC_ORDER' });
    expect(monotoneCubic([1, 2, NaN], [1, 2, 3])).toMatchObject({ code: 'CUBIC_NOT_FINITE' });
  });
});
