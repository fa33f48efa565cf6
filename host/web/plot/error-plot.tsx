import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import { errorScene, type ErrorQuestion, type ErrorScene } from '../../scene/error-scene';
import { bandPath, linePath } from '../../scene/line-path';
import { lineClass, LineList } from './line-list';
import { baseIn, Dot, LineNames, PlotFrame, type PlotParts } from './plot-parts';
import { Strip, Upright } from './strip';

type ErrorPlotProps = PlotParts & {
  readonly question: ErrorQuestion;
  /** Unit of the dial, as it is printed. */
  readonly unit: string;
};

/** Errors over the dial laid flat: the limit's zone clear, outside it hatched. */
export function ErrorPlot({ question, unit, ...parts }: ErrorPlotProps): JSX.Element {
  return (
    <PlotFrame
      {...parts}
      sceneFor={(wish) => errorScene(question, wish)}
      inside={(scene) => <ErrorDrawing scene={scene} question={question} unit={unit} />}
      below={(scene) => <Below scene={scene} question={question} />}
    />
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

type DrawingProps = Pick<ErrorPlotProps, 'question' | 'unit'> & { readonly scene: ErrorScene };

function ErrorDrawing({ scene, question, unit }: DrawingProps): JSX.Element {
  const id = useId();
  const { space, strip, axis, yOf, lines, bands, outside, limitLines } = scene;
  const { plot } = space;
  return (
    <>
      <pattern id={`${id}h`} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <line class="hatch" x1="0" y1="0" x2="0" y2="7" />
      </pattern>
      <clipPath id={`${id}c`}>
        <rect x={plot.left} y={plot.top} width={plot.right - plot.left} height={plot.bottom - plot.top} />
      </clipPath>
      <Upright axis={axis} yOf={yOf} space={space} unit={unit} />
      {outside.map((box) => (
        <rect
          key={`${box.left} ${box.top}`}
          fill={`url(#${id}h)`}
          x={box.left}
          y={box.top}
          width={box.right - box.left}
          height={Math.max(0, box.bottom - box.top)}
        />
      ))}
      {limitLines.map((each) => (
        <path key={linePath(each)} class="limit" d={linePath(each)} />
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
      <Dots scene={scene} />
      {scene.limitLabel === undefined ? null : (
        <text class="halo limit-name" x={scene.limitLabel.left} y={baseIn(scene.limitLabel, space.textPixel)}>
          {question.limit?.words}
        </text>
      )}
      <LineNames labels={scene.labels} textPixel={space.textPixel} />
      <Strip strip={strip} space={space} />
    </>
  );
}

function Dots({ scene: { dots, space } }: Pick<DrawingProps, 'scene'>): JSX.Element {
  return (
    <g>
      {dots.map((dot) => (
        <g key={dot.id}>
          {dot.bar === undefined ? null : (
            <path
              class="bar"
              d={`M${dot.x} ${dot.bar[0]}V${dot.bar[1]}M${dot.x - 5} ${dot.bar[0]}h10M${dot.x - 5} ${dot.bar[1]}h10`}
            />
          )}
          <Dot dot={dot} isNarrow={space.isNarrow} />
        </g>
      ))}
    </g>
  );
}
