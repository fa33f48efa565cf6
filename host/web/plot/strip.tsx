import type { JSX } from 'preact';
import type { DialStrip } from '../../scene/dial-strip';
import type { PlotSpace } from '../../scene/plot-space';
import type { ValueAxis } from '../../scene/value-axis';

const STROKES = {
  mark: { long: 0.3, width: 3 },
  half: { long: 0.2, width: 1.6 },
  fine: { long: 0.14, width: 1 },
};

/** The foot of every plot: the dial laid flat, black with its own marks. */
export function Strip({
  strip,
  space,
}: {
  readonly strip: DialStrip;
  readonly space: PlotSpace;
}): JSX.Element {
  const { plot, stripPixel } = space;
  const middle = plot.bottom + stripPixel * 0.76;
  return (
    <g class="strip" aria-hidden="true">
      <rect x={strip.left} y={plot.bottom} width={strip.right - strip.left} height={stripPixel} />
      {strip.ticks.map(({ x, size }) => (
        <line
          key={`${size} ${x}`}
          stroke-width={STROKES[size].width}
          x1={x}
          x2={x}
          y1={plot.bottom}
          y2={plot.bottom + stripPixel * STROKES[size].long}
        />
      ))}
      {strip.figures.map(({ x, text, anchor }) => (
        <text key={text} x={x} y={middle} text-anchor={anchor} font-size={space.figurePixel}>
          {text}
        </text>
      ))}
    </g>
  );
}

type UprightProps = {
  readonly axis: ValueAxis;
  readonly yOf: (value: number) => number;
  readonly space: PlotSpace;
  readonly unit: string;
};

/** Hairlines across and their figures; no box. The unit stands once, at the head. */
export function Upright({ axis, yOf, space, unit }: UprightProps): JSX.Element {
  const { plot, textPixel } = space;
  return (
    <g aria-hidden="true">
      {axis.ticks.map(({ value, text }) => (
        <g key={value}>
          <line class="grid" x1={plot.left} x2={plot.right} y1={yOf(value)} y2={yOf(value)} />
          <text x={plot.left - 9} y={yOf(value) + textPixel * 0.34} text-anchor="end">
            {text}
          </text>
        </g>
      ))}
      <text x={plot.left - 9} y={textPixel * 0.9} text-anchor="end">
        {unit}
      </text>
    </g>
  );
}
