import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  emptyCorner,
  placeLabels,
  type Box,
  type Line,
  type WantedLabel,
} from '../../host/scene/label-place';

const PLOT: Box = { left: 50, top: 10, right: 650, bottom: 310 };

/** Tenths of a pixel: evenly spread, where doubles crowd round zero. */
const tenths = (most: number) => fc.integer({ min: 0, max: 10 * most }).map((each) => each / 10);
const anySpot = () => fc.record({ x: tenths(700), y: tenths(320) });

/** A line from left to right, as every curve of a plot is. */
const anyLine = (): fc.Arbitrary<Line> =>
  fc
    .array(anySpot(), { minLength: 2, maxLength: 5 })
    .map((spots) => [...spots].sort((one, other) => one.x - other.x));

const anyScene = () =>
  fc.record({
    lines: fc.array(anyLine(), { minLength: 1, maxLength: 4 }),
    dots: fc.array(anySpot(), { maxLength: 12 }),
    sizes: fc.array(
      fc.record({ width: fc.integer({ min: 20, max: 260 }), height: fc.integer({ min: 13, max: 22 }) }),
      { minLength: 4, maxLength: 4 },
    ),
  });

type Scene = {
  readonly lines: readonly Line[];
  readonly sizes: readonly { readonly width: number; readonly height: number }[];
};
const wantedOf = ({ lines, sizes }: Scene): WantedLabel[] =>
  lines.map((line, index) => ({ id: `l${index}`, line, at: 0.5, ...sizes[index]! }));

/** Is any of a thousand places along a line inside the box? Slow and plain: not the reckoning under test. */
const walkEnters = (line: Line, box: Box): boolean =>
  line.some((spot, index) => {
    const before = line[index - 1];
    if (before === undefined) return false;
    return Array.from({ length: 201 }, (_, step) => step / 200).some((share) => {
      const x = before.x + share * (spot.x - before.x);
      const y = before.y + share * (spot.y - before.y);
      return x > box.left && x < box.right && y > box.top && y < box.bottom;
    });
  });

const touching = (one: Box, other: Box): boolean =>
  Math.min(one.right, other.right) > Math.max(one.left, other.left) &&
  Math.min(one.bottom, other.bottom) > Math.max(one.top, other.top);

describe('a text in a plot', () => {
  it('stays in the plot and covers no line, no dot and no other text', () => {
    let looked = 0;
    fc.assert(
      fc.property(anyScene(), (scene) => {
        const placed = placeLabels(wantedOf(scene), PLOT, scene);
        for (const { box } of placed) {
          looked += 1;
          expect(box.left).toBeGreaterThanOrEqual(PLOT.left);
          expect(box.right).toBeLessThanOrEqual(PLOT.right);
          expect(box.top).toBeGreaterThanOrEqual(PLOT.top);
          expect(box.bottom).toBeLessThanOrEqual(PLOT.bottom);
          for (const line of scene.lines) expect(walkEnters(line, box)).toBe(false);
          for (const dot of scene.dots)
            expect(touching(box, { left: dot.x, right: dot.x, top: dot.y, bottom: dot.y })).toBe(false);
        }
        const pairs = placed.flatMap((one, index) =>
          placed.slice(index + 1).map((other) => [one, other] as const),
        );
        for (const [one, other] of pairs) expect(touching(one.box, other.box)).toBe(false);
      }),
    );
    expect(looked).toBeGreaterThan(50);
  });

  it('finds its place beside a plain falling curve, near the place that was wished', () => {
    const line = Array.from({ length: 61 }, (_, index) => ({ x: 50 + 10 * index, y: 20 + 4 * index }));
    const [label] = placeLabels([{ id: 'a', width: 120, height: 18, line, at: 0.5 }], PLOT, {
      lines: [line],
      dots: [],
    });
    expect(label).toBeDefined();
    expect(Math.abs((label!.box.left + label!.box.right) / 2 - 350)).toBeLessThan(130);
  });

  it('is left out where there is no room', () => {
    const line = [
      { x: 50, y: 160 },
      { x: 650, y: 160 },
    ];
    expect(
      placeLabels([{ id: 'a', width: 601, height: 18, line, at: 0 }], PLOT, { lines: [line], dots: [] }),
    ).toEqual([]);
  });
});

describe('a list in a corner', () => {
  it('lies in the corner that a falling curve leaves free, and in none when all are drawn over', () => {
    const falling = [
      { x: 50, y: 20 },
      { x: 650, y: 300 },
    ];
    const size = { width: 200, height: 80 };
    expect(emptyCorner(size, PLOT, { lines: [falling], dots: [] })).toMatchObject({ right: 650, top: 10 });
    const rising = [
      { x: 50, y: 300 },
      { x: 650, y: 20 },
    ];
    expect(emptyCorner(size, PLOT, { lines: [rising], dots: [] })).toMatchObject({ left: 50, top: 10 });
    expect(emptyCorner(size, PLOT, { lines: [falling, rising], dots: [] })).toBeUndefined();
  });
});
