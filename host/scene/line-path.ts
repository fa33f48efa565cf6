import type { Line, Spot } from './label-place';

const fine = (value: number): string => String(Number(value.toFixed(2)));

/** SVG path through the points, to a hundredth of a pixel. */
export const linePath = (line: Line): string =>
  line.map(({ x, y }, index) => `${index === 0 ? 'M' : 'L'}${fine(x)} ${fine(y)}`).join('');

/** The surface between two lines that run the same way. */
export const bandPath = (high: Line, low: Line): string =>
  high.length === 0 || low.length === 0 ? '' : `${linePath([...high, ...[...low].reverse()])}Z`;

/** As many points along a line that no bend is seen as a corner. */
const STEP_PIXEL = 4;

/**
 * A smooth line through a few points of different x; points that stand over one another are joined straight.
 * Source: cubic Hermite pieces, slopes of the parabola through each point and its neighbours (Bessel's rule; de Boor,
 * A Practical Guide to Splines, 1978, chapter IV, from memory).
 */
export function smoothLine(points: Line): Line {
  const ordered = [...points].sort((one, other) => one.x - other.x);
  const isApart = ordered.every(({ x }, index) => index === 0 || x > (ordered[index - 1]?.x ?? -Infinity));
  if (ordered.length < 3 || !isApart) return points;
  const slopes = slopesOf(ordered);
  return ordered.flatMap((spot, index) => {
    const next = ordered[index + 1];
    if (next === undefined) return [spot];
    const width = next.x - spot.x;
    const count = Math.max(1, Math.ceil(width / STEP_PIXEL));
    return Array.from({ length: count }, (_, step) =>
      hermite(spot, next, [slopes[index] ?? 0, slopes[index + 1] ?? 0], step / count),
    );
  });
}

/** A point of the piece between two spots, at a share of its width. */
function hermite(from: Spot, to: Spot, [start, end]: readonly [number, number], share: number): Spot {
  const width = to.x - from.x;
  const back = 1 - share;
  const y =
    from.y * back * back * (1 + 2 * share) +
    to.y * share * share * (3 - 2 * share) +
    width * share * back * (start * back - end * share);
  return { x: from.x + share * width, y };
}

function slopesOf(line: Line): number[] {
  const pieces = line.slice(1).map((spot, index) => {
    const before = line[index] ?? spot;
    return { width: spot.x - before.x, slope: (spot.y - before.y) / (spot.x - before.x) };
  });
  const inner = pieces.slice(1).map((after, index) => {
    const before = pieces[index] ?? after;
    return (before.slope * after.width + after.slope * before.width) / (before.width + after.width);
  });
  const first = pieces[0]?.slope ?? 0;
  const last = pieces.at(-1)?.slope ?? 0;
  return [2 * first - (inner[0] ?? first), ...inner, 2 * last - (inner.at(-1) ?? last)];
}
