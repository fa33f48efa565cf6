/** A tile that would stand under its mark: where, and how wide it must be. Pixels. */
export type WantedTile = { readonly x: number; readonly width: number };

/**
 * The middles of tiles in a row, each as near its mark as the others allow, none over another, all between the ends.
 * Undefined where they do not fit side by side. Source: derived here: the row pushed right and the row pushed left are
 * both without overlap, and so is their mean.
 */
export function tileMiddles(
  wanted: readonly WantedTile[],
  left: number,
  right: number,
): number[] | undefined {
  const total = wanted.reduce((sum, { width }) => sum + width, 0);
  if (total > right - left) return undefined;
  const rightward = pushed(wanted, left, right);
  const mirrored = [...wanted].reverse().map(({ x, width }) => ({ x: -x, width }));
  const leftward = pushed(mirrored, -right, -left)
    .reverse()
    .map((x) => -x);
  return rightward.map((x, index) => (x + (leftward[index] ?? x)) / 2);
}

/** Each tile to the right of the one before, then the whole row back inside the right end. */
function pushed(wanted: readonly WantedTile[], left: number, right: number): number[] {
  const middles: number[] = [];
  let end = left;
  for (const { x, width } of wanted) {
    const middle = Math.max(x, end + width / 2);
    middles.push(middle);
    end = middle + width / 2;
  }
  let start = right;
  for (let index = wanted.length - 1; index >= 0; index -= 1) {
    const half = (wanted[index]?.width ?? 0) / 2;
    middles[index] = Math.min(middles[index] ?? 0, start - half);
    start = (middles[index] ?? 0) - half;
  }
  return middles;
}
