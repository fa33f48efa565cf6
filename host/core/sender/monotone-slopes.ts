/**
 * Slopes at the knots of a monotone cubic: weighted harmonic mean of the neighbouring chords inside, three-point ends
 * held within the monotone limits. u may ascend or descend, strictly.
 * Source: Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300-304; end rule as in PCHIP (Fritsch, 1982).
 */
export function monotoneSlopes(u: readonly number[], w: readonly number[]): number[] {
  const widths = u.slice(1).map((value, i) => value - u[i]!);
  const chords = widths.map((width, i) => (w[i + 1]! - w[i]!) / width);
  const last = chords.length - 1;
  if (last === 0) return [chords[0]!, chords[0]!];
  const inner = chords
    .slice(1)
    .map((chord, i) => harmonic([chords[i]!, chord], [widths[i]!, widths[i + 1]!]));
  const first = endSlope([chords[0]!, chords[1]!], [widths[0]!, widths[1]!]);
  const final = endSlope([chords[last]!, chords[last - 1]!], [widths[last]!, widths[last - 1]!]);
  return [first, ...inner, final];
}

type Pair = readonly [number, number];

function harmonic([left, right]: Pair, [leftWidth, rightWidth]: Pair): number {
  if (left * right <= 0) return 0;
  const leftWeight = 2 * rightWidth + leftWidth;
  const rightWeight = rightWidth + 2 * leftWidth;
  return (leftWeight + rightWeight) / (leftWeight / left + rightWeight / right);
}

function endSlope([near, far]: Pair, [nearWidth, farWidth]: Pair): number {
  const slope = ((2 * nearWidth + farWidth) * near - nearWidth * far) / (nearWidth + farWidth);
  if (slope * near <= 0) return 0;
  if (near * far <= 0 && Math.abs(slope) > 3 * Math.abs(near)) return 3 * near;
  return slope;
}
