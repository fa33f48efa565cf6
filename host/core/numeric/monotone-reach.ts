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

/** With fewer points nothing is known of how steep the curve is beside a gap: then it may do anything between its ends. */
const FEWEST_TO_TELL = 5;

/** How many chords on each side say how steep the curve may be: the nearest may itself hold a corner. */
const CHORDS_ASKED = 2;

/**
 * What a monotone curve may do between two of the points it passes, when it is nowhere steeper or flatter than beside
 * them: from either point it may go on as it came, and it stays between the two. A corner or a rest inside the gap lies
 * within these bounds, a bend that the points show does not widen them. Points in order of x.
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
  const sense = Math.sign(points.at(-1)!.y - points[0]!.y);
  const before = slopesBeside(points, right - 1, -1, sense);
  const after = slopesBeside(points, right, 1, sense);
  const chord = from.y + ((to.y - from.y) * (at - from.x)) / (to.x - from.x);
  const ways = [
    chord,
    ...before.map((slope) => from.y + slope * (at - from.x)),
    ...after.map((slope) => to.y - slope * (to.x - at)),
  ];
  const [least, most] = [Math.min(from.y, to.y), Math.max(from.y, to.y)];
  if (points.length < FEWEST_TO_TELL) return { low: least, high: most };
  const held = ways.map((y) => Math.min(most, Math.max(least, y)));
  return { low: Math.min(...held), high: Math.max(...held) };
}

/** Slopes of the chords next to a point on one side; a chord that turns back is noise about a rest. */
function slopesBeside(
  points: readonly ReachPoint[],
  index: number,
  direction: -1 | 1,
  sense: number,
): number[] {
  return Array.from({ length: CHORDS_ASKED }, (_, k) => index + direction * k).flatMap((at) => {
    const [one, other] = [points[at], points[at + direction]];
    if (one === undefined || other === undefined) return [];
    const slope = (other.y - one.y) / (other.x - one.x);
    return [sense * slope > 0 ? slope : 0];
  });
}
