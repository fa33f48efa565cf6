import { dialStrip, type DialStrip, type Scale } from './dial-strip';
import { placeLabels, type Box, type Line, type Spot } from './label-place';
import { smoothLine } from './line-path';
import { namedAt, type NamedLine } from './named-line';
import { mostTicks, plotSpace, type PlotSpace, type PlotWish } from './plot-space';
import { wordsWidth } from './text-width';
import { errorAxis, type ValueAxis } from './value-axis';

/** An error (indicated less true, dial units) at a true value; `half`: its uncertainty, 95 %. */
export type ErrorPoint = { readonly value: number; readonly error: number; readonly half?: number };
export type ErrorDot = ErrorPoint & { readonly id: string; readonly kind: 'up' | 'down' | 'struck' };

export type ErrorLine = {
  readonly id: string;
  readonly name: string;
  readonly says?: string | undefined;
  readonly look: 'curve' | 'before' | 'edge';
  readonly points: readonly ErrorPoint[];
};

export type ErrorQuestion = {
  readonly scale: Scale;
  /** The stretch of the dial that is asked about; the whole dial when left out. */
  readonly from?: number;
  readonly to?: number;
  readonly lines: readonly ErrorLine[];
  readonly dots: readonly ErrorDot[];
  readonly limit?: ErrorLimit;
};

/** How far is still right between two values, dial units; a first `from` and a last `to` are without end. */
export type LimitStep = {
  readonly from: number;
  readonly to: number;
  readonly lower: number;
  readonly upper: number;
};
/** What is allowed along the dial, its steps from the lowest value up, and its words. */
export type ErrorLimit = { readonly steps: readonly LimitStep[]; readonly words: string };

/** The same to both sides, everywhere. */
export const evenLimit = (size: number, words: string): ErrorLimit => ({
  steps: [{ from: -Infinity, to: Infinity, lower: -size, upper: size }],
  words,
});

export type ErrorScene = {
  readonly space: PlotSpace;
  readonly strip: DialStrip;
  readonly axis: ValueAxis;
  readonly yOf: (error: number) => number;
  readonly lines: readonly (ErrorLine & { readonly line: Line })[];
  readonly bands: readonly { readonly id: string; readonly high: Line; readonly low: Line }[];
  readonly dots: readonly (ErrorDot & Spot & { readonly bar: readonly [number, number] | undefined })[];
  /** Outside the limit, above and below each step. */
  readonly outside: readonly Box[];
  readonly limitLines: readonly Line[];
  readonly limitLabel: Box | undefined;
  readonly labels: readonly { readonly row: NamedLine; readonly box: Box }[];
  readonly below: readonly NamedLine[];
};

const endsOf = ({ error, half = 0 }: ErrorPoint): number[] => [error - half, error + half];

/** Lays out a plot of errors over the dial for one width. Source: geometry alone. */
export function errorScene(question: ErrorQuestion, wish: PlotWish): ErrorScene {
  const { limit, from, to } = question;
  const points = [...question.dots, ...question.lines.flatMap((line) => line.points)];
  const axis = errorAxis(points.flatMap(endsOf), largestOf(limit), mostTicks(wish));
  const space = plotSpace(
    wish,
    axis.ticks.map(({ text }) => text),
  );
  const { plot } = space;
  const isPart = from !== undefined && to !== undefined;
  const strip = dialStrip(question.scale, {
    left: plot.left,
    right: plot.right,
    figurePixel: space.figurePixel,
    ...(isPart ? { from, to } : {}),
    also: points.map(({ value }) => value),
    room: isPart ? 0 : 0.02,
  });
  const yOf = (error: number): number => plot.bottom - axis.place(error) * (plot.bottom - plot.top);
  const spot = ({ value, error }: ErrorPoint): Spot => ({ x: strip.xOf(value), y: yOf(error) });
  const lines = question.lines.map((line) => ({ ...line, line: smoothLine(line.points.map(spot)) }));
  const bands = question.lines
    .filter((line) => line.points.some(({ half }) => half !== undefined))
    .map((line) => ({
      id: line.id,
      high: smoothLine(
        line.points.map((point) => spot({ ...point, error: point.error + (point.half ?? 0) })),
      ),
      low: smoothLine(line.points.map((point) => spot({ ...point, error: point.error - (point.half ?? 0) }))),
    }));
  const dots = question.dots.map((dot) => ({ ...dot, ...spot(dot), bar: barOf(dot, yOf) }));
  const steps = (limit?.steps ?? []).map((step) => stepIn(step, plot, { xOf: strip.xOf, yOf }));
  const limitLines = steps.flatMap(({ upper, lower }) => [upper, lower]);
  return {
    space,
    strip,
    axis,
    yOf,
    lines,
    bands,
    dots,
    outside: steps.flatMap(({ outside }) => outside),
    limitLines,
    ...namesIn(question, space, { lines, dots, yOf, limitLines }),
  };
}

const barOf = (
  { error, half }: ErrorPoint,
  yOf: (error: number) => number,
): readonly [number, number] | undefined =>
  half === undefined ? undefined : [yOf(error + half), yOf(error - half)];

const largestOf = (limit: ErrorLimit | undefined): number | undefined =>
  limit && Math.max(...limit.steps.flatMap(({ lower, upper }) => [Math.abs(lower), Math.abs(upper)]));

type Places = { readonly xOf: (value: number) => number; readonly yOf: (error: number) => number };

/** One step of the limit: its two lines, and what lies outside of them. */
function stepIn(
  { from, to, lower, upper }: LimitStep,
  plot: Box,
  { xOf, yOf }: Places,
): { readonly upper: Line; readonly lower: Line; readonly outside: readonly Box[] } {
  const left = from === -Infinity ? plot.left : Math.max(plot.left, xOf(from));
  const right = to === Infinity ? plot.right : Math.min(plot.right, xOf(to));
  if (!(right > left)) return { upper: [], lower: [], outside: [] };
  const across = (error: number): Line => [
    { x: left, y: yOf(error) },
    { x: right, y: yOf(error) },
  ];
  return {
    upper: across(upper),
    lower: across(lower),
    outside: [
      { ...plot, left, right, bottom: yOf(upper) },
      { ...plot, left, right, top: yOf(lower) },
    ],
  };
}

type Drawn = {
  readonly lines: readonly (ErrorLine & { readonly line: Line })[];
  readonly dots: ErrorScene['dots'];
  readonly yOf: (error: number) => number;
  readonly limitLines: readonly Line[];
};

/** The limit's words stand just outside it; then the names beside their lines. What finds no place is said below. */
function namesIn(
  { limit }: ErrorQuestion,
  space: PlotSpace,
  { lines, dots, yOf, limitLines }: Drawn,
): Pick<ErrorScene, 'limitLabel' | 'labels' | 'below'> {
  const { plot, textPixel } = space;
  const nothing: Line = [
    { x: plot.left, y: yOf(0) },
    { x: plot.right, y: yOf(0) },
  ];
  const bars = dots.map(({ x, bar = [] }) => bar.map((y) => ({ x, y })));
  const drawn = { lines: [...lines.map(({ line }) => line), ...limitLines, ...bars, nothing], dots };
  const underLimit = limitLines.find((line, index) => index % 2 === 1 && line.length > 0);
  const height = textPixel * 1.2;
  const ofLimit =
    limit === undefined || underLimit === undefined
      ? []
      : [{ id: 'limit', width: wordsWidth(limit.words, textPixel), height, line: underLimit, at: 0 }];
  const named = lines.filter(({ look }) => look !== 'edge');
  const placed = placeLabels(
    [
      ...named.map(({ id, name, line, look }) => ({
        id,
        line,
        at: look === 'curve' ? 0.35 : 0.75,
        width: wordsWidth(name, textPixel),
        height,
      })),
      ...ofLimit,
    ],
    plot,
    drawn,
  );
  const rows: NamedLine[] = lines.map(({ id, name, says, look }) => ({ id, name, says, look, dash: 0 }));
  const labels = namedAt(rows, placed);
  const [edge] = rows.filter(({ look }) => look === 'edge');
  const unplaced = rows.filter((row) => row.look !== 'edge' && labels.every((each) => each.row !== row));
  return {
    limitLabel: placed.find(({ id }) => id === 'limit')?.box,
    labels,
    below: edge === undefined ? unplaced : [...unplaced, edge],
  };
}
