/** A point that a monotone curve passes. */
export type ReachPoint = { readonly x: number; readonly y: number };

/** Points nearer than this are one: the chord between them would be all noise. */
const ONE_POINT = 0.02;

/** Readings in order of x as points, what lies next to each other taken together. Source: weighted means. */
export function reachPoints(readings: readonly (ReachPoint & { readonly count: number })[]): ReachPoint[] {
  const groups: { x: number; y: number; count: number }[] = [];
  for (const { x, y, count } of readings) {
    const last = groups.at(-1);
    if (last === undefined || x - last.x > ONE_POINT) groups.push({ x, y, count });
    else {
      const all = last.count + count;
      last.x += (count * (x - last.x)) / all;
      last.y += (count * (y - last.y)) / all;
      last.count = all;
    }
  }
  return groups.map(({ x, y }) => ({ x, y }));
}

/** With fewer points nothing is known of how steep the curve is: then it may do anything between the ends of a gap. */
const FEWEST_TO_TELL = 5;
/** Every chord may hold some rest: between two points the curve may hurry beyond the steepest chord. Found by simulation. */
const HURRY = 1.2;

/**
 * What a monotone curve may do between two of the points it passes: rest anywhere, and be a little steeper than the
 * steepest chord between any two neighbours; it stays between the two. Points in order of x.
 * Undefined outside the points. Source: derived here, see tests/core/numeric/monotone-reach.test.ts.
 */
export function monotoneReach(
  points: readonly ReachPoint[],
  at: number,
): { readonly low: number; readonly high: number } | undefined {
  const right = points.findIndex(({ x }) => x > at);
  const from = points[right - 1];
  const to = points[right];
  if (from === undefined || to === undefined) return undefined;
  const [least, most] = [Math.min(from.y, to.y), Math.max(from.y, to.y)];
  if (points.length < FEWEST_TO_TELL) return { low: least, high: most };
  const slope = HURRY * steepest(points);
  const ways = [from.y + slope * (at - from.x), to.y - slope * (to.x - at)].map((y) =>
    Math.min(most, Math.max(least, y)),
  );
  return { low: Math.min(...ways), high: Math.max(...ways) };
}

/** The steepest chord in the sense of the whole curve, signed; one that turns back is noise about a rest. */
function steepest(points: readonly ReachPoint[]): number {
  const sense = Math.sign(points.at(-1)!.y - points[0]!.y);
  const slopes = points.slice(1).map(({ x, y }, i) => (sense * (y - points[i]!.y)) / (x - points[i]!.x));
  return sense * Math.max(0, ...slopes);
}
