import { refuse, type Refused } from '../../core/result';

export type PlotPoint = { readonly x: number; readonly y: number };
/** Points are dots at their own x; a line is drawn through all of its points. */
export type PlotSeries = { readonly label: string; readonly points: readonly PlotPoint[] };
export type Columns = {
  readonly kind: 'columns';
  readonly xs: readonly number[];
  /** One per series, as long as xs: null = no sample here, undefined = a line runs on. */
  readonly ys: readonly (readonly (number | null | undefined)[])[];
};

/** Two points of one series at one x would hide each other; the later is moved by less than a pixel. */
const APART_FRACTION = 1e-6;

/**
 * Lays several series over one strictly ascending x axis, as the chart library demands it.
 * Source: derived here, see the test of the same name.
 * Refuses: PLOT_NOT_FINITE (with series and index), PLOT_EMPTY (no point at all).
 */
export function columnsOf(
  series: readonly PlotSeries[],
): Columns | Refused<'PLOT_NOT_FINITE' | 'PLOT_EMPTY'> {
  for (const { label, points } of series) {
    const bad = points.findIndex((point) => !Number.isFinite(point.x) || !Number.isFinite(point.y));
    if (bad >= 0) return refuse('PLOT_NOT_FINITE', `point ${bad} of "${label}" is not a finite number`);
  }
  const apart = series.map((each) => setApart(each.points));
  const xs = [...new Set(apart.flatMap((points) => points.map((point) => point.x)))].sort((a, b) => a - b);
  if (xs.length === 0) return refuse('PLOT_EMPTY', 'nothing to plot yet');
  const place = new Map(xs.map((x, index) => [x, index]));
  const ys = apart.map((points) => {
    const column: (number | null | undefined)[] = new Array<undefined>(xs.length).fill(undefined);
    for (const point of points) column[place.get(point.x) ?? 0] = point.y;
    return column;
  });
  return { kind: 'columns', xs, ys };
}

function setApart(points: readonly PlotPoint[]): PlotPoint[] {
  const ordered = [...points].sort((one, other) => one.x - other.x);
  const placed: PlotPoint[] = [];
  for (const point of ordered) {
    const last = placed.at(-1)?.x ?? Number.NEGATIVE_INFINITY;
    const x = point.x > last ? point.x : last + APART_FRACTION * Math.max(Math.abs(last), APART_FRACTION);
    placed.push({ x, y: point.y });
  }
  return placed;
}

/** Where a point has come to lie, in CSS pixels from the corner of the plot. */
export type Place = { readonly id: string; readonly left: number; readonly top: number };
