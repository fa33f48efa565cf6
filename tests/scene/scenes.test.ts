import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evenScale } from '../../host/scene/dial-strip';
import { errorScene, evenLimit } from '../../host/scene/error-scene';
import { ohmsScene } from '../../host/scene/ohms-scene';
import type { Box, Spot } from '../../host/scene/label-place';

const scale = evenScale([40, 60, 80, 100, 120], 'degC');
const wishes = fc.record({
  width: fc.integer({ min: 300, max: 1240 }),
  typeFactor: fc.constantFrom(1, 1.5, 2),
});
const value = fc.double({ min: 40, max: 120, noNaN: true });
const isIn = ({ left, right, top, bottom }: Box, { x, y }: Spot): boolean =>
  x >= left - 0.01 && x <= right + 0.01 && y >= top - 0.01 && y <= bottom + 0.01;

/** Paper has no opinion of the program: what is more stands higher or further right, and nothing measured is off the sheet. */
describe('a plot, laid out whole', () => {
  it('of ohms keeps every reading in sight, more ohms higher, hotter further right', () => {
    const dots = fc.array(fc.record({ value, ohm: fc.double({ min: 2, max: 6000, noNaN: true }) }), {
      minLength: 2,
      maxLength: 14,
    });
    fc.assert(
      fc.property(dots, wishes, fc.boolean(), (points, wish, isRatio) => {
        const scene = ohmsScene(
          {
            scale,
            isRatio,
            lines: [],
            dots: points.map((point, index) => ({ ...point, id: `r${index}`, kind: 'up' })),
            naming: 'none',
          },
          wish,
        );
        expect(scene.dots.every((dot) => isIn(scene.space.plot, dot))).toBe(true);
        for (const one of scene.dots)
          for (const other of scene.dots) {
            if (one.ohm > other.ohm) expect(one.y).toBeLessThanOrEqual(other.y);
            if (one.value > other.value) expect(one.x).toBeGreaterThanOrEqual(other.x);
          }
      }),
      { numRuns: 100 },
    );
  });

  it('of errors hatches what is outside the limit and nothing else, each dot on the side where it belongs', () => {
    const dots = fc.array(fc.record({ value, error: fc.double({ min: -40, max: 40, noNaN: true }) }), {
      minLength: 1,
      maxLength: 10,
    });
    const limits = fc.double({ min: 0.5, max: 10, noNaN: true });
    fc.assert(
      fc.property(dots, limits, wishes, (points, size, wish) => {
        const scene = errorScene(
          {
            scale,
            lines: [],
            dots: points.map((point, index) => ({ ...point, id: `p${index}`, kind: 'up' })),
            limit: evenLimit(size, 'limit'),
          },
          wish,
        );
        for (const dot of scene.dots) {
          expect(isIn(scene.space.plot, dot)).toBe(true);
          const isHatched = scene.outside.some(
            ({ top, bottom }) => dot.y > top + 0.01 && dot.y < bottom - 0.01,
          );
          if (Math.abs(dot.error) < size * 0.999) expect(isHatched).toBe(false);
          if (Math.abs(dot.error) > size * 1.05 + 0.2)
            expect(
              isHatched || dot.y <= scene.space.plot.top + 1 || dot.y >= scene.space.plot.bottom - 1,
            ).toBe(true);
        }
      }),
      { numRuns: 100 },
    );
  });
});
