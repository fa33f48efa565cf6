/** A point of the drawing, pixels from its upper left corner. */
export type Spot = { readonly x: number; readonly y: number };
export type Line = readonly Spot[];
export type Box = {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
};

/** What must stay legible: lines by their points, dots by their middle. */
export type Drawn = {
  readonly lines: readonly Line[];
  readonly dots: readonly Spot[];
};

/** A text that speaks of one line. `at`: where along the line it would best stand, 0 to 1. */
export type WantedLabel = {
  readonly id: string;
  readonly width: number;
  readonly height: number;
  readonly line: Line;
  readonly at: number;
};

/** Upper left corner of the text's box. */
export type PlacedLabel = { readonly id: string; readonly box: Box };

/** Space kept clear round a text. */
const CLEAR_PIXEL = 3;
/** Radius of a dot with its rim. */
const DOT_PIXEL = 7;
/** A text further from its line than this is no longer read as its. */
const OFFSETS_PIXEL = [6, 12, 20];
const TRIED_ALONG = 32;

const grown = (box: Box, by: number): Box => ({
  left: box.left - by,
  top: box.top - by,
  right: box.right + by,
  bottom: box.bottom + by,
});

const overlap = (one: Box, other: Box): boolean =>
  one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom;

const isWithin = (inner: Box, outer: Box): boolean =>
  inner.left >= outer.left &&
  inner.right <= outer.right &&
  inner.top >= outer.top &&
  inner.bottom <= outer.bottom;

/** Whether the stretch from `from` to `to` touches a box. Source: clipping by Liang and Barsky, ACM TOG 3 (1984) 1-22. */
function crosses(from: Spot, to: Spot, box: Box): boolean {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  let [start, end] = [0, 1];
  const edges = [
    [-dx, from.x - box.left],
    [dx, box.right - from.x],
    [-dy, from.y - box.top],
    [dy, box.bottom - from.y],
  ] as const;
  for (const [along, room] of edges) {
    if (along === 0) {
      if (room < 0) return false;
    } else if (along < 0) start = Math.max(start, room / along);
    else end = Math.min(end, room / along);
    if (start > end) return false;
  }
  return true;
}

const crossesLine = (line: Line, box: Box): boolean =>
  line.some((spot, index) => index > 0 && crosses(line[index - 1] ?? spot, spot, box));

/** Nothing that is drawn lies under this box. */
function isClear(box: Box, { lines, dots }: Drawn, taken: readonly Box[]): boolean {
  const round = grown(box, CLEAR_PIXEL);
  const near = grown(box, DOT_PIXEL);
  return (
    taken.every((each) => !overlap(round, each)) &&
    dots.every(({ x, y }) => !(x > near.left && x < near.right && y > near.top && y < near.bottom)) &&
    lines.every((line) => !crossesLine(line, round))
  );
}

/** A place on a line, by its share of the way from its left end to its right. */
function spotAlong(line: Line, share: number): Spot | undefined {
  const first = line[0];
  const last = line.at(-1);
  if (first === undefined || last === undefined) return undefined;
  const x = first.x + share * (last.x - first.x);
  const after = line.findIndex((spot, index) => index > 0 && (spot.x - x) * (last.x - first.x) >= 0);
  const [low, high] = [line[after - 1], line[after]];
  if (low === undefined || high === undefined) return first;
  const part = high.x === low.x ? 0 : (x - low.x) / (high.x - low.x);
  return { x, y: low.y + part * (high.y - low.y) };
}

/** Boxes beside a line, above it and below it, nearest to the wished place first. */
function boxesBeside({ width, height, line, at }: WantedLabel): Box[] {
  const shares = Array.from({ length: TRIED_ALONG + 1 }, (_, index) => index / TRIED_ALONG).sort(
    (one, other) => Math.abs(one - at) - Math.abs(other - at),
  );
  return OFFSETS_PIXEL.flatMap((offset) =>
    shares.flatMap((share) => {
      const spot = spotAlong(line, share);
      if (spot === undefined) return [];
      return [spot.y - offset - height, spot.y + offset].flatMap((top) =>
        [spot.x, spot.x - width, spot.x - width / 2].map((left) => ({
          left,
          top,
          right: left + width,
          bottom: top + height,
        })),
      );
    }),
  );
}

/**
 * Places for texts beside their lines, in the order given: inside the plot, over no line, no dot and no other text. A
 * text for which there is no such place is left out; it is then said below the plot.
 */
export function placeLabels(wanted: readonly WantedLabel[], plot: Box, drawn: Drawn): PlacedLabel[] {
  const placed: PlacedLabel[] = [];
  for (const label of wanted) {
    const taken = placed.map((each) => each.box);
    const box = boxesBeside(label).find((each) => isWithin(each, plot) && isClear(each, drawn, taken));
    if (box !== undefined) placed.push({ id: label.id, box });
  }
  return placed;
}

/**
 * The corner of a plot in which a box of this size covers nothing that is drawn: upper right first, then lower left, the
 * way most curves of this trade leave room. Undefined: there is none.
 */
export function emptyCorner(
  size: { readonly width: number; readonly height: number },
  plot: Box,
  drawn: Drawn,
): Box | undefined {
  const { width, height } = size;
  const corner = (isRight: boolean, isLow: boolean): Box => {
    const left = isRight ? plot.right - width : plot.left;
    const top = isLow ? plot.bottom - height : plot.top;
    return { left, top, right: left + width, bottom: top + height };
  };
  const corners = [corner(true, false), corner(false, true), corner(false, false), corner(true, true)];
  return corners.find((each) => isWithin(each, plot) && isClear(each, drawn, []));
}
