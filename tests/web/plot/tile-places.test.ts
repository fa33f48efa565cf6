import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tileMiddles } from '../../../host/web/plot/tile-places';

const LEFT = 50;
const anyRow = () =>
  fc
    .array(fc.record({ x: fc.integer({ min: LEFT, max: 1000 }), width: fc.integer({ min: 20, max: 160 }) }), {
      minLength: 1,
      maxLength: 9,
    })
    .map((row) => [...row].sort((one, other) => one.x - other.x));

describe('tiles under their marks', () => {
  it('never lie over one another nor beyond the ends, and are given up only where they cannot fit', () => {
    let placed = 0;
    fc.assert(
      fc.property(anyRow(), fc.integer({ min: 300, max: 1000 }), (row, right) => {
        const middles = tileMiddles(row, LEFT, right);
        const total = row.reduce((sum, { width }) => sum + width, 0);
        expect(middles === undefined).toBe(total > right - LEFT);
        if (middles === undefined) return;
        placed += 1;
        for (const [index, middle] of middles.entries()) {
          const half = row[index]!.width / 2;
          expect(middle - half).toBeGreaterThanOrEqual(LEFT - 1e-9);
          expect(middle + half).toBeLessThanOrEqual(right + 1e-9);
          if (index > 0)
            expect(middle - half).toBeGreaterThanOrEqual(
              middles[index - 1]! + row[index - 1]!.width / 2 - 1e-9,
            );
        }
      }),
    );
    expect(placed).toBeGreaterThan(20);
  });

  it('stand exactly under marks that are far enough apart', () => {
    const row = [100, 300, 500].map((x) => ({ x, width: 80 }));
    expect(tileMiddles(row, 0, 600)).toEqual([100, 300, 500]);
  });

  it('move apart evenly where two marks are too near', () => {
    const row = [280, 320].map((x) => ({ x, width: 100 }));
    expect(tileMiddles(row, 0, 600)).toEqual([250, 350]);
  });
});
