import type { ComponentChildren, JSX } from 'preact';
import { useRef } from 'preact/hooks';
import type { Box, Spot } from '../../scene/label-place';
import type { NamedLine } from '../../scene/named-line';
import { PlotPoints, type PointHands } from './plot-points';
import type { PlotSpace } from '../../scene/plot-space';
import { useWidth, type Measured } from './use-width';

export type PlotParts = {
  /** Read by screen readers; the same figures stand in a table beside the plot. */
  readonly label: string;
  /** Dots that can be pointed at, focused and chosen. */
  readonly hands?: PointHands;
  /** For print: drawn for this width and not for its frame's. */
  readonly widthPixel?: number;
};

type Scene = {
  readonly space: PlotSpace;
  readonly dots: readonly (Spot & { readonly id: string })[];
};

type FrameProps<Drawn extends Scene> = PlotParts & {
  readonly sceneFor: (wish: Measured) => Drawn;
  /** What stands inside the drawing, and what below it. */
  readonly inside: (scene: Drawn) => ComponentChildren;
  readonly below: (scene: Drawn, wish: Measured) => ComponentChildren;
};

/** A plot that is drawn anew for each width of its frame, with its dots under the hands. */
export function PlotFrame<Drawn extends Scene>(props: FrameProps<Drawn>): JSX.Element {
  const { label, hands, widthPixel, sceneFor, inside, below } = props;
  const frame = useRef<HTMLDivElement>(null);
  const measured = useWidth(frame);
  const wish = widthPixel === undefined ? measured : { width: widthPixel, typeFactor: 1 };
  if (wish === undefined) return figure(frame, null, null);
  const scene = sceneFor(wish);
  const { width, height, textPixel } = scene.space;
  const places = scene.dots.map(({ id, x, y }) => ({ id, left: x, top: y }));
  const drawn = (
    <>
      <svg
        class="plot"
        role="img"
        aria-label={label}
        width={width}
        height={height}
        viewBox={`0 0 ${width} ${height}`}
        font-size={textPixel}
      >
        {inside(scene)}
      </svg>
      {hands === undefined ? null : <PlotPoints {...hands} places={places} />}
    </>
  );
  return figure(frame, drawn, below(scene, wish));
}

const figure = (
  frame: { readonly current: HTMLDivElement | null },
  drawn: ComponentChildren,
  below: ComponentChildren,
): JSX.Element => (
  <div class="plot-figure">
    <div class="plot-frame" ref={frame}>
      {drawn}
    </div>
    {below}
  </div>
);

const RADIUS = { up: 5.5, down: 5.2 };
const NARROW_FACTOR = 0.8;

type DotProps = {
  readonly dot: Spot & { readonly kind: 'up' | 'down' | 'struck' };
  readonly isNarrow: boolean;
};

/** Filled: the needle was rising. Open: falling. A cross: struck. */
export function Dot({ dot: { x, y, kind }, isNarrow }: DotProps): JSX.Element {
  if (kind === 'struck') return <path class="struck-dot" d={`M${x - 4} ${y - 4}l8 8m0-8l-8 8`} />;
  return <circle class={`dot-${kind}`} cx={x} cy={y} r={RADIUS[kind] * (isNarrow ? NARROW_FACTOR : 1)} />;
}

type NamesProps = {
  readonly labels: readonly { readonly row: NamedLine; readonly box: Box }[];
  readonly textPixel: number;
};

/** Where letters stand in the box that was found for them. */
export const baseIn = ({ bottom }: Box, textPixel: number): number => bottom - textPixel * 0.3;

/** Names beside their lines. */
export const LineNames = ({ labels, textPixel }: NamesProps): JSX.Element => (
  <g>
    {labels.map(({ row, box }) => (
      <text key={row.id} class={`halo ${row.look}-name`} x={box.left} y={baseIn(box, textPixel)}>
        {row.name}
      </text>
    ))}
  </g>
);
