import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import { bandPath, linePath } from '../../scene/line-path';
import { lineClass, LineList, Sample } from './line-list';
import {
  ohmsScene,
  SAMPLE_PIXEL,
  type Corner,
  type OhmsQuestion,
  type OhmsScene,
} from '../../scene/ohms-scene';
import { Dot, LineNames, PlotFrame, type PlotParts } from './plot-parts';
import { Strip, Upright } from './strip';
import { Tiles, type Tile } from './tiles';

type OhmsPlotProps = PlotParts & {
  readonly question: OhmsQuestion;
  readonly heightPixel?: number | undefined;
  /** Ohms under the marks. */
  readonly tiles?: readonly Tile[];
};

/** Ohms over the dial laid flat: what the gauge wants, what was read, and what senders give. */
export function OhmsPlot({ question, heightPixel, tiles, ...parts }: OhmsPlotProps): JSX.Element {
  return (
    <PlotFrame
      {...parts}
      sceneFor={(wish) => ohmsScene(question, { ...wish, heightPixel })}
      inside={(scene) => <OhmsDrawing scene={scene} question={question} />}
      below={({ strip, space, below }, { typeFactor }) => (
        <>
          {tiles === undefined ? null : (
            <Tiles tiles={tiles} strip={strip} space={space} typeFactor={typeFactor} />
          )}
          {below.length === 0 ? null : <LineList rows={below} />}
        </>
      )}
    />
  );
}

type DrawingProps = { readonly scene: OhmsScene; readonly question: OhmsQuestion };

function OhmsDrawing({ scene, question }: DrawingProps): JSX.Element {
  const id = useId();
  const { space, strip, axis, yOf, lines, band, dots, drops } = scene;
  const { plot } = space;
  const measured = lines.filter(({ look }) => look === 'curve');
  return (
    <>
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
      <LineNames labels={scene.labels} textPixel={space.textPixel} />
      {scene.corner === undefined ? null : <CornerList corner={scene.corner} textPixel={space.textPixel} />}
      <Strip strip={strip} space={space} />
    </>
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
