import type uPlot from 'uplot';
import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { columnsOf, type PlotSeries, type Place } from './columns';
import { PlotPoints, type PointHands } from './plot-points';

/** How a series is drawn. Shapes differ as well as colours, so that the legs can be told apart in grey. */
export type PlotLook =
  'dots-up' | 'dots-down' | 'dots-struck' | 'line' | 'line-dashed' | 'edge' | 'tolerance';

export type PlotProps = {
  /** Read by screen readers; the same figures stand in the table beside the canvas. */
  readonly label: string;
  readonly xLabel: string;
  readonly yLabel: string;
  readonly isXLog?: boolean;
  readonly series: readonly (PlotSeries & { readonly look: PlotLook })[];
  /** Two series, by index, between which the band is filled. */
  readonly band?: readonly [number, number];
  /** Horizontal lines: marks of the dial, a limit, zero. */
  readonly levels?: readonly number[];
  readonly heightPixel?: number;
  /** Points that can be hovered, focused and chosen; they lie on dots of the series. */
  readonly hands?: PointHands;
};

const colour = (name: string): string =>
  getComputedStyle(document.documentElement).getPropertyValue(name).trim();

/** Fetched beside the page, not within it: nothing is plotted before there is something to plot. */
const library = import('uplot');

/** The only door to the chart library; redrawn whole when the data change, which they do at the pace of a person. */
export function Plot(props: PlotProps): JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  const [places, setPlaces] = useState<readonly Place[]>([]);
  const { hands, ...drawing } = props;
  const key = JSON.stringify([drawing, hands?.points]);
  useEffect(() => {
    const host = box.current;
    if (host === null) return undefined;
    let drawn: uPlot | undefined;
    let Library: typeof uPlot | undefined;
    const redraw = (): void => {
      if (Library === undefined) return;
      drawn?.destroy();
      // The library knows its scales only once it has drawn.
      drawn = draw(Library, host, props, (plot) => setPlaces(placesOf(plot, props.hands)));
    };
    let isGone = false;
    void library.then((found) => {
      if (isGone) return;
      Library = found.default;
      redraw();
    });
    const size = new ResizeObserver(() => {
      if (drawn === undefined || Math.abs(drawn.width - host.clientWidth) > 1) redraw();
    });
    size.observe(host);
    const scheme = matchMedia('(prefers-color-scheme: dark)');
    scheme.addEventListener('change', redraw);
    return () => {
      isGone = true;
      size.disconnect();
      scheme.removeEventListener('change', redraw);
      drawn?.destroy();
    };
  }, [key]);
  const height = props.heightPixel ?? USUAL_HEIGHT_PIXEL;
  return (
    <div class="plot-frame">
      <div class="plot" role="img" aria-label={props.label} ref={box} style={{ minHeight: `${height}px` }} />
      {hands === undefined ? null : <PlotPoints {...hands} places={places} />}
    </div>
  );
}

const placesOf = (drawn: uPlot, hands: PointHands | undefined): Place[] =>
  (hands?.points ?? []).map(({ id, x, y }) => ({
    id,
    left: drawn.valToPos(x, 'x') + drawn.over.offsetLeft,
    top: drawn.valToPos(y, 'y') + drawn.over.offsetTop,
  }));

const USUAL_HEIGHT_PIXEL = 300;
const BAND_ALPHA = '30';

function draw(
  Library: typeof uPlot,
  host: HTMLElement,
  props: PlotProps,
  onDrawn: (plot: uPlot) => void,
): uPlot | undefined {
  const columns = columnsOf(props.series);
  if (columns.kind === 'refused' || host.clientWidth === 0) return undefined;
  const data: uPlot.AlignedData = [[...columns.xs], ...columns.ys.map((column) => [...column])];
  const options = optionsOf(host.clientWidth, props);
  return new Library({ ...options, hooks: { ...options.hooks, draw: [onDrawn] } }, data, host);
}

function optionsOf(width: number, props: PlotProps): uPlot.Options {
  const ink = colour('--ink2');
  const grid = { stroke: colour('--rule'), width: 1 };
  const axis = { stroke: ink, grid, ticks: grid, font: '13px system-ui', labelFont: '600 13px system-ui' };
  return {
    width,
    height: props.heightPixel ?? USUAL_HEIGHT_PIXEL,
    legend: { show: false },
    cursor: { drag: { x: false, y: false } },
    scales: {
      x: { time: false, distr: props.isXLog === true ? 3 : 1, ...(props.isXLog === true ? { log: 10 } : {}) },
    },
    axes: [
      { ...axis, label: props.xLabel, labelSize: 22, size: 34 },
      { ...axis, label: props.yLabel, labelSize: 22, size: 52 },
    ],
    series: [{}, ...props.series.map(seriesOf)],
    ...(props.band === undefined
      ? {}
      : {
          bands: [
            { series: [props.band[0] + 1, props.band[1] + 1], fill: `${colour('--pen')}${BAND_ALPHA}` },
          ] satisfies uPlot.Band[],
        }),
    hooks: { drawAxes: [(plot) => drawLevels(plot, props.levels ?? [])] },
  };
}

function seriesOf(series: PlotSeries & { readonly look: PlotLook }): uPlot.Series {
  const pen = colour('--pen');
  const common = { label: series.label, spanGaps: true };
  switch (series.look) {
    case 'dots-up':
      return {
        ...common,
        paths: () => null,
        points: { show: true, size: 10, width: 2, stroke: pen, fill: pen },
      };
    case 'dots-down':
      return {
        ...common,
        paths: () => null,
        points: { show: true, size: 11, width: 2.5, stroke: colour('--bad'), fill: colour('--sheet') },
      };
    case 'dots-struck':
      return {
        ...common,
        paths: () => null,
        points: { show: true, size: 9, width: 1, stroke: colour('--ink2'), fill: colour('--sheet') },
      };
    case 'line':
      return { ...common, stroke: colour('--ink'), width: 2, points: { show: false } };
    case 'line-dashed':
      return { ...common, stroke: colour('--ink2'), width: 2, dash: [6, 5], points: { show: false } };
    case 'tolerance':
      return { ...common, stroke: colour('--bad'), width: 1.5, dash: [8, 3, 2, 3], points: { show: false } };
    case 'edge':
      return { ...common, stroke: `${pen}60`, width: 1, points: { show: false } };
  }
}

function drawLevels(plot: uPlot, levels: readonly number[]): void {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.strokeStyle = colour('--rule-strong');
  ctx.setLineDash([2, 4]);
  for (const level of levels) {
    const y = plot.valToPos(level, 'y', true);
    if (y < bbox.top || y > bbox.top + bbox.height) continue;
    ctx.beginPath();
    ctx.moveTo(bbox.left, y);
    ctx.lineTo(bbox.left + bbox.width, y);
    ctx.stroke();
  }
  ctx.restore();
}
