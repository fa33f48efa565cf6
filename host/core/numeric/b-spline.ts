/**
 * Beyond the ends the spline goes on straight. The four cubic B-splines that are not zero at `at`, on uniform knots: values of basis functions index .. index + 3.
 * Basis function j is centred on first + (j - 1) * spacing; with `intervals` intervals there are intervals + 3 of them.
 * Source: de Boor, A Practical Guide to Splines, uniform case in closed form.
 */
export function cubicBasis(
  at: number,
  grid: { readonly first: number; readonly spacing: number; readonly intervals: number },
): { readonly index: number; readonly values: readonly number[]; readonly slopes: readonly number[] } {
  const place = (at - grid.first) / grid.spacing;
  const inside = Math.min(Math.max(place, 0), grid.intervals);
  const index = Math.min(Math.floor(inside), grid.intervals - 1);
  const t = inside - index;
  const back = 1 - t;
  const slopes = [-(back * back) / 2, (3 * t * t - 4 * t) / 2, (-3 * t * t + 2 * t + 1) / 2, (t * t) / 2];
  const values = [
    back ** 3 / 6,
    (3 * t ** 3 - 6 * t * t + 4) / 6,
    (-3 * t ** 3 + 3 * t * t + 3 * t + 1) / 6,
    t ** 3 / 6,
  ].map((value, k) => value + (place - inside) * slopes[k]!);
  return { index, values, slopes: slopes.map((value) => value / grid.spacing) };
}
