import type { JSX } from 'preact';
import { useId, useRef } from 'preact/hooks';
import { errorScene, type ErrorQuestion, type ErrorScene } from './error-scene';
import { bandPath, linePath } from './line-path';
import { lineClass, LineList } from './line-list';
import { PlotPoints, type PointHands } from './plot-points';
import { Strip, Upright } from './strip';
import { useWidth } from './use-width';

type ErrorPlotProps = {
  readonly question: ErrorQuestion;
  /** Unit of the dial, as it is printed. */
  readonly unit: string;
  /** Read by screen readers; the same figures stand in a table beside the plot. */
  readonly label: string;
  readonly hands?: PointHands;
  /** For print: drawn for this width and not for its frame's. */
  readonly widthPixel?: number;
};

/** Errors over the dial laid flat: the limit's zone clear, outside it hatched. */
export function ErrorPlot(props: ErrorPlotProps): JSX.Element {
  const frame = useRef<HTMLDivElement>(null);
  const measured = useWidth(frame);
  const wish = props.widthPixel === undefined ? measured : { width: props.widthPixel, typeFactor: 1 };
  const scene = wish === undefined ? undefined : errorScene(props.question, wish);
  return (
    <div class="plot-figure">
      <div class="plot-frame" ref={frame}>
        {scene === undefined ? null : <ErrorDrawing scene={scene} {...props} />}
        {scene === undefined || props.hands === undefined ? null : (
          <PlotPoints {...props.hands} places={scene.dots.map(({ id, x, y }) => ({ id, left: x, top: y }))} />
        )}
      </div>
      {scene === undefined ? null : <Below scene={scene} question={props.question} />}
    </div>
  );
}

function Below({
  scene,
  question,
}: {
  readonly scene: ErrorScene;
  readonly question: ErrorQuestion;
}): JSX.Element | null {
  const isLimitSaid = question.limit === undefined || scene.limitLabel !== undefined;
  if (scene.below.length === 0 && isLimitSaid) return null;
  return (
    <>
      {scene.below.length === 0 ? null : <LineList rows={scene.below} />}
      {isLimitSaid ? null : <p class="hint">{question.limit?.words}: outside it is hatched.</p>}
    </>
  );
}

function ErrorDrawing({
  scene,
  question,
  label,
  unit,
}: ErrorPlotProps & { readonly scene: ErrorScene }): JSX.Element {
  const id = useId();
  const { space, strip, axis, yOf, lines, bands, outside } = scene;
  const { plot, textPixel } = space;
  return (
    <svg
      class="plot"
      role="img"
      aria-label={label}
      width={space.width}
      height={space.height}
      viewBox={`0 0 ${space.width} ${space.height}`}
      font-size={textPixel}
    >
      <pattern id={`${id}h`} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <line class="hatch" x1="0" y1="0" x2="0" y2="7" />
      </pattern>
      <clipPath id={`${id}c`}>
        <rect x={plot.left} y={plot.top} width={plot.right - plot.left} height={plot.bottom - plot.top} />
      </clipPath>
      <Upright axis={axis} yOf={yOf} space={space} unit={unit} />
      {outside.map((box) => (
        <rect
          key={box.top}
          fill={`url(#${id}h)`}
          x={box.left}
          y={box.top}
          width={box.right - box.left}
          height={Math.max(0, box.bottom - box.top)}
        />
      ))}
      {question.limit === undefined
        ? null
        : [question.limit.size, -question.limit.size].map((size) => (
            <line key={size} class="limit" x1={plot.left} x2={plot.right} y1={yOf(size)} y2={yOf(size)} />
          ))}
      <line class="zero" x1={plot.left} x2={plot.right} y1={yOf(0)} y2={yOf(0)} />
      <g clip-path={`url(#${id}c)`}>
        {bands.map((band) => (
          <path key={band.id} class="band" d={bandPath(band.high, band.low)} />
        ))}
        {lines.map((each) => (
          <path key={each.id} class={lineClass({ look: each.look, dash: 0 })} d={linePath(each.line)} />
        ))}
      </g>
      <Dots dots={scene.dots} />
      <Names scene={scene} limit={question.limit?.words} />
      <Strip strip={strip} space={space} />
    </svg>
  );
}

function Dots({ dots }: Pick<ErrorScene, 'dots'>): JSX.Element {
  return (
    <g>
      {dots.map(({ id, x, y, kind, bar }) => (
        <g key={id}>
          {bar === undefined ? null : (
            <path class="bar" d={`M${x} ${bar[0]}V${bar[1]}M${x - 5} ${bar[0]}h10M${x - 5} ${bar[1]}h10`} />
          )}
          {kind === 'struck' ? (
            <path class="struck-dot" d={`M${x - 4} ${y - 4}l8 8m0-8l-8 8`} />
          ) : (
            <circle class={`dot-${kind}`} cx={x} cy={y} r="5.5" />
          )}
        </g>
      ))}
    </g>
  );
}

function Names({
  scene,
  limit,
}: {
  readonly scene: ErrorScene;
  readonly limit: string | undefined;
}): JSX.Element {
  const base = (bottom: number): number => bottom - scene.space.textPixel * 0.3;
  return (
    <g>
      {scene.limitLabel === undefined ? null : (
        <text class="halo limit-name" x={scene.limitLabel.left} y={base(scene.limitLabel.bottom)}>
          {limit}
        </text>
      )}
      {scene.labels.map(({ row, box }) => (
        <text key={row.id} class={`halo ${row.look}-name`} x={box.left} y={base(box.bottom)}>
          {row.name}
        </text>
      ))}
    </g>
  );
}
