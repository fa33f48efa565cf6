import type uPlot from 'uplot';
import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

/** A sample: seconds since the trace began, and what was measured. */
export type TraceSample = { readonly second: number; readonly value: number };

type TraceProps = {
  readonly samples: readonly TraceSample[];
  /** Read by screen readers; the newest value stands in words beside the trace. */
  readonly label: string;
};

const HEIGHT_PIXEL = 132;
const SECONDS_PER_MINUTE = 60;

/** Fetched when there is something to trace. */
const library = async (): Promise<typeof uPlot> => (await import('uplot')).default;

const colour = (name: string): string =>
  getComputedStyle(document.documentElement).getPropertyValue(name).trim();

/** Many samples a minute as a moving line: the one kind of plot that a canvas draws better. */
export function LiveTrace({ samples, label }: TraceProps): JSX.Element {
  const host = useRef<HTMLDivElement>(null);
  const drawn = useRef<uPlot | undefined>(undefined);
  const newest = useRef(samples);
  newest.current = samples;
  useEffect(() => {
    const box = host.current;
    if (box === null) return undefined;
    let isGone = false;
    const redraw = (Library: typeof uPlot): void => {
      drawn.current?.destroy();
      drawn.current = new Library(optionsOf(box.clientWidth), dataOf(newest.current), box);
    };
    const night = document.getElementById('night');
    const scheme = matchMedia('(prefers-color-scheme: dark)');
    const forced = new MutationObserver(() => follow?.());
    let follow: (() => void) | undefined;
    const size = new ResizeObserver(() => {
      if (drawn.current !== undefined && Math.abs(drawn.current.width - box.clientWidth) > 1) follow?.();
    });
    void library().then((found) => {
      if (isGone) return;
      follow = () => redraw(found);
      follow();
      size.observe(box);
      scheme.addEventListener('change', follow);
      if (night !== null) forced.observe(night, { attributeFilter: ['media'] });
    });
    return () => {
      isGone = true;
      size.disconnect();
      forced.disconnect();
      if (follow !== undefined) scheme.removeEventListener('change', follow);
      drawn.current?.destroy();
      drawn.current = undefined;
    };
  }, []);
  useEffect(() => drawn.current?.setData(dataOf(samples)), [samples]);
  return (
    <div
      class="live-trace"
      role="img"
      aria-label={label}
      ref={host}
      style={{ minHeight: `${HEIGHT_PIXEL}px` }}
    />
  );
}

const dataOf = (samples: readonly TraceSample[]): uPlot.AlignedData => [
  samples.map(({ second }) => second / SECONDS_PER_MINUTE),
  samples.map(({ value }) => value),
];

function optionsOf(width: number): uPlot.Options {
  const grid = { stroke: colour('--grid'), width: 1 };
  const axis = {
    stroke: colour('--ink2'),
    grid,
    ticks: { show: false },
    font: '13px Sofia Sans, sans-serif',
  };
  return {
    width,
    height: HEIGHT_PIXEL,
    legend: { show: false },
    cursor: { show: false },
    scales: { x: { time: false } },
    axes: [
      { ...axis, grid: { show: false }, size: 24, values: (_, at) => at.map((minute) => `${minute} min`) },
      { ...axis, size: 56, values: (_, at) => at.map((ohm) => `${ohm} \u03a9`) },
    ],
    series: [{}, { stroke: colour('--ink'), width: 2, points: { show: false } }],
  };
}
