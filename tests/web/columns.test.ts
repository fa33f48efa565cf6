import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { columnsOf } from '../../host/web/plot/columns';

const anyPoint = () =>
  fc.record({
    x: fc.double({ min: -1e6, max: 1e6, noNaN: true }),
    y: fc.double({ min: -1e6, max: 1e6, noNaN: true }),
  });
const anySeries = () =>
  fc.array(fc.record({ label: fc.string(), points: fc.array(anyPoint(), { maxLength: 30 }) }), {
    maxLength: 4,
  });

describe('columns for the chart', () => {
  it('have a strictly ascending x and columns of its length, with every point in its place', () => {
    let looked = 0;
    fc.assert(
      fc.property(anySeries(), (series) => {
        const columns = columnsOf(series);
        if (columns.kind === 'refused') return;
        looked += 1;
        for (const [index, x] of columns.xs.entries())
          if (index > 0) expect(x).toBeGreaterThan(columns.xs[index - 1]!);
        for (const [index, column] of columns.ys.entries()) {
          expect(column).toHaveLength(columns.xs.length);
          expect(column.filter((y) => y !== undefined)).toHaveLength(series[index]!.points.length);
        }
      }),
    );
    expect(looked).toBeGreaterThan(10);
  });

  it('keep both of two readings at one resistance', () => {
    const columns = columnsOf([
      {
        label: 'up',
        points: [
          { x: 100, y: 80 },
          { x: 100, y: 82 },
        ],
      },
    ]);
    expect(columns).toMatchObject({ kind: 'columns', ys: [[80, 82]] });
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY])('refuse %d and name where it is', (bad) => {
    const columns = columnsOf([
      {
        label: 'up',
        points: [
          { x: 1, y: 1 },
          { x: 2, y: bad },
        ],
      },
    ]);
    expect(columns).toMatchObject({ kind: 'refused', code: 'PLOT_NOT_FINITE' });
    if (columns.kind === 'refused') expect(columns.message).toContain('point 1 of "up"');
  });

  it('refuse when there is nothing to draw', () => {
    expect(columnsOf([])).toMatchObject({ code: 'PLOT_EMPTY' });
    expect(columnsOf([{ label: 'up', points: [] }])).toMatchObject({ code: 'PLOT_EMPTY' });
  });
});
