import type { PlotSeries } from './columns';

type Band = readonly { readonly x: number; readonly low: number; readonly high: number }[];

/** Two thin lines at the ends of a stated tolerance; none where none is stated. */
export const toleranceSeries = (
  band: Band | undefined,
): readonly (PlotSeries & { readonly look: 'tolerance' })[] =>
  band === undefined
    ? []
    : (['low', 'high'] as const).map((end) => ({
        label: `tolerance, ${end} end`,
        look: 'tolerance',
        points: band.map((point) => ({ x: point.x, y: point[end] })),
      }));
