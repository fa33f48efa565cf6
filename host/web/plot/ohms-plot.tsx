import type { JSX } from 'preact';
import { useId, useRef } from 'preact/hooks';
import { bandPath, linePath } from './line-path';
import { lineClass, LineList, Sample } from './line-list';
import {
  ohmsScene,
  SAMPLE_PIXEL,
  type Corner,
  type DrawnDot,
  type OhmsQuestion,
  type OhmsScene,
} from './ohms-scene';
import { PlotPoints, type PointHands } from './plot-points';
import { Strip, Upright } from './strip';
import { Tiles, type Tile } from './tiles';
import { useWidth } from './use-width';

type OhmsPlotProps = {
  readonly question: OhmsQuestion;
  /** Read by screen readers; the same figures stand in a table beside the plot. */
  readonly label: string;
  readonly heightPixel?: number | undefined;
  /** Ohms under the marks. */
  readonly tiles?: readonly Tile[];
  /** Dots that can be pointed at, focused and chosen. */
  readonly hands?: PointHands;
  /** For print: drawn for this width and not for its frame's. */
  readonly widthPixel?: number;
};

/** Ohms over the dial laid flat: what the gauge wants, what was read, and what senders give. */
export function OhmsPlot(props: OhmsPlotProps): JSX.Element {
  const frame = useRef<HTMLDivElement>(null);
  const measured = useWidth(frame);
  const wish = props.widthPixel === undefined ? measured : { width: props.widthPixel, typeFactor: 1 };
  const scene =
    wish === undefined ? undefined : ohmsScene(props.question, { ...wish, heightPixel: props.heightPixel });
  return (
    <div class="plot-figure">
      <div class="plot-frame" ref={frame}>
        {scene === undefined ? null : (
          <OhmsDrawing scene={scene} label={props.label} question={props.question} />
        )}
        {scene === undefined || props.hands === undefined ? null : (
          <PlotPoints {...props.hands} places={scene.dots.map(({ id, x, y }) => ({ id, left: x, top: y }))} />
        )}
      </div>
      {scene === undefined || wish === undefined || props.tiles === undefined ? null : (
        <Tiles tiles={props.tiles} strip={scene.strip} space={scene.space} typeFactor={wish.typeFactor} />
      )}
      {scene === undefined || scene.below.length === 0 ? null : <LineList rows={scene.below} />}
    </div>
  );
}

type DrawingProps = {
  readonly scene: OhmsScene;
  readonly label: string;
  readonly question: OhmsQuestion;
};

function OhmsDrawing({ scene, label, question }: DrawingProps): JSX.Element {
  const id = useId();
  const { space, strip, axis, yOf, lines, band, dots, drops } = scene;
  const { plot } = space;
  const measured = lines.filter(({ look }) => look === 'curve');
  return (
    <svg
      class="plot"
      role="img"
      aria-label={label}
      width={space.width}
      height={space.height}
      viewBox={`0 0 ${space.width} ${space.height}`}
      font-size={space.textPixel}
    >
      <clipPath id={id}>
        <rect
          x={plot.left}
          y={plot.top - 6}
          width={plot.right - plot.left}
          height={plot.bottom - plot.top + 6}
        />
      </clipPath>
      <Upright axis={axis} yOf={yOf} space={space} unit={'\u03a9'} />
      {drops.map(({ x, y }) => (
        <line key={x} class="drop" x1={x} x2={x} y1={y} y2={plot.bottom} />
      ))}
      <g clip-path={`url(#${id})`}>
        {lines
          .filter(({ look }) => look !== 'curve')
          .map((each) => (
            <path key={each.id} class={lineClass(each)} d={linePath(each.line)} />
          ))}
        {band === undefined ? null : <path class="band" d={bandPath(band.high, band.low)} />}
        {measured.map((each) => (
          <path key={each.id} class="curve" d={linePath(each.line)} />
        ))}
      </g>
      {question.nowOhm === undefined ? null : <Now ohm={question.nowOhm} scene={scene} />}
      {dots.map((dot) => (
        <Dot key={dot.id} dot={dot} isNarrow={space.isNarrow} />
      ))}
      {scene.labels.map(({ row, box }) => (
        <text
          key={row.id}
          class={`halo ${row.look}-name`}
          x={box.left}
          y={box.bottom - space.textPixel * 0.3}
        >
          {row.name}
        </text>
      ))}
      {scene.corner === undefined ? null : <CornerList corner={scene.corner} textPixel={space.textPixel} />}
      <Strip strip={strip} space={space} />
    </svg>
  );
}

function Now({ ohm, scene }: { readonly ohm: number; readonly scene: OhmsScene }): JSX.Element | null {
  const { plot, textPixel } = scene.space;
  const y = scene.yOf(ohm);
  if (!(y >= plot.top && y <= plot.bottom)) return null;
  return (
    <g class="now-line">
      <line x1={plot.left} x2={plot.right} y1={y} y2={y} />
      <text class="halo" x={plot.right - 6} y={y - textPixel * 0.4} text-anchor="end">
        now
      </text>
    </g>
  );
}

const RADIUS = { up: 5.5, down: 5.2 };
const NARROW_FACTOR = 0.8;

/** Filled: the needle was rising. Open: falling. A cross: struck. */
function Dot({ dot, isNarrow }: { readonly dot: DrawnDot; readonly isNarrow: boolean }): JSX.Element {
  const { x, y, kind } = dot;
  if (kind === 'struck')
    return (
      <path
        class="struck-dot"
        d={`M${x - 4} ${y - 4}L${x + 4} ${y + 4}M${x + 4} ${y - 4}L${x - 4} ${y + 4}`}
      />
    );
  return <circle class={`dot-${kind}`} cx={x} cy={y} r={RADIUS[kind] * (isNarrow ? NARROW_FACTOR : 1)} />;
}

function CornerList({
  corner,
  textPixel,
}: {
  readonly corner: Corner;
  readonly textPixel: number;
}): JSX.Element {
  const { box, rows, saysAt, rowPixel } = corner;
  const left = box.left + 10;
  return (
    <g class="corner-list">
      <rect x={box.left} y={box.top} width={box.right - box.left} height={box.bottom - box.top} />
      {rows.map((row, index) => {
        const base = box.top + rowPixel * (index + 0.75);
        return (
          <g key={row.id}>
            <Sample row={row} x={left} y={base - textPixel * 0.33} />
            <text class={`${row.look}-name`} x={left + SAMPLE_PIXEL} y={base}>
              {row.name}
            </text>
            <text x={left + saysAt} y={base}>
              {row.says}
            </text>
          </g>
        );
      })}
    </g>
  );
}
