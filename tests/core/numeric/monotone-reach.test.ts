import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { monotoneReach, reachPoints } from '../../../host/core/numeric/monotone-reach';

const line = [0, 1, 2, 3, 4, 5, 6, 7].map((x) => ({ x, y: 2 * x }));

describe('what a monotone curve may do between points', () => {
  it('lies near the line where all points lie on one: a fifth steeper, then at rest, or the other way round', () => {
    for (const at of [0.5, 1.25, 2.7, 3.99, 6.5]) {
      const { low, high } = monotoneReach(line, at)!;
      const part = at - Math.floor(at);
      expect(high).toBeCloseTo(2 * Math.min(Math.floor(at) + 1, Math.floor(at) + 1.2 * part), 12);
      expect(low).toBeCloseTo(2 * Math.max(Math.floor(at), Math.floor(at) + 1 - 1.2 * (1 - part)), 12);
    }
  });

  it('may be anything between two points where there are too few to tell how steep it is', () => {
    expect(monotoneReach(line.slice(0, 4), 1.5)).toEqual({ low: 2, high: 4 });
  });

  it('holds a rest that begins inside a gap', () => {
    // Rises by 1 to x = 2.4, rests to 4.3, rises by 1 again: (1, 1) (2, 2) (3, 2.4) (4, 2.4) (5, 3.1) (6, 4.1).
    const resting = (x: number): number => (x < 2.4 ? x : x < 4.3 ? 2.4 : 2.4 + x - 4.3);
    const points = [1, 2, 3, 4, 5, 6].map((x) => ({ x, y: resting(x) }));
    for (let at = 1; at < 6; at += 0.01) {
      const reach = monotoneReach(points, at)!;
      expect(resting(at)).toBeGreaterThanOrEqual(reach.low - 1e-9);
      expect(resting(at)).toBeLessThanOrEqual(reach.high + 1e-9);
    }
  });

  it('never leaves the two points beside it, and holds their chord', () => {
    const heights = fc.array(fc.double({ min: 0, max: 5, noNaN: true }), { minLength: 3, maxLength: 9 });
    fc.assert(
      fc.property(heights, fc.double({ min: 0, max: 1, noNaN: true }), (rises, part) => {
        let y = 0;
        const points = rises.map((rise, x) => ({ x, y: (y += rise) }));
        const at = part * (points.length - 1) * 0.999;
        const [from, to] = [points[Math.floor(at)]!, points[Math.floor(at) + 1]!];
        const { low, high } = monotoneReach(points, at)!;
        const chord = from.y + (to.y - from.y) * (at - from.x);
        expect(low).toBeGreaterThanOrEqual(from.y - 1e-9);
        expect(high).toBeLessThanOrEqual(to.y + 1e-9);
        expect(low).toBeLessThanOrEqual(chord + 1e-9);
        expect(high).toBeGreaterThanOrEqual(chord - 1e-9);
      }),
    );
  });

  it('says nothing outside the points', () => {
    expect(monotoneReach(line, -0.1)).toBeUndefined();
    expect(monotoneReach(line, 7.1)).toBeUndefined();
    expect(monotoneReach([], 1)).toBeUndefined();
  });

  it('takes settings that lie next to each other for one', () => {
    const points = reachPoints([
      { x: 1, y: 1, count: 1 },
      { x: 1.001, y: 1.3, count: 2 },
      { x: 2, y: 2, count: 1 },
    ]);
    expect(points).toHaveLength(2);
    expect(points[0]!.y).toBeCloseTo(1.2, 12);
  });
});
