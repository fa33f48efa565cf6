import type { DialStrip } from '../../scene/dial-strip';
import type { Box, Line } from '../../scene/label-place';
import type { NamedLine } from '../../scene/named-line';
import type { PlotSpace } from '../../scene/plot-space';
import type { ValueAxis } from '../../scene/value-axis';
import { linePath } from '../../scene/line-path';
import {
  boxPath,
  circlePath,
  INK,
  line,
  textAt,
  type Bounds,
  type Dash,
  type Item,
  type PathItem,
} from '../paper/items';

const STROKES = {
  mark: { long: 0.3, width: 2 },
  half: { long: 0.2, width: 1.1 },
  fine: { long: 0.14, width: 0.7 },
} as const;

/** The dial laid flat: black with its own marks. */
export function stripItems(strip: DialStrip, space: PlotSpace): Item[] {
  const { plot, stripPixel, figurePixel } = space;
  const base = plot.bottom + stripPixel * 0.8;
  return [
    {
      kind: 'path',
      d: boxPath({ x: strip.left, y: plot.bottom, width: strip.right - strip.left, height: stripPixel }),
      fill: INK.plate,
    },
    ...strip.ticks.map(({ x, size }) =>
      line(
        [x, plot.bottom],
        [x, plot.bottom + stripPixel * STROKES[size].long],
        STROKES[size].width,
        INK.onPlate,
      ),
    ),
    ...strip.figures.map(({ x, text, anchor }) =>
      textAt(x, base, text, { size: figurePixel, font: 'engraved', colour: INK.onPlate, anchor }),
    ),
  ];
}

/** Hairlines across and their figures; the unit stands once, at the head. */
export function uprightItems(
  axis: ValueAxis,
  yOf: (value: number) => number,
  space: PlotSpace,
  unit: string,
): Item[] {
  const { plot, textPixel } = space;
  return [
    ...axis.ticks.flatMap(({ value, text }): Item[] => [
      line([plot.left, yOf(value)], [plot.right, yOf(value)], 0.7, INK.grid),
      textAt(plot.left - 6, yOf(value) + textPixel * 0.34, text, {
        size: textPixel,
        colour: INK.soft,
        anchor: 'end',
      }),
    ]),
    textAt(plot.left - 6, textPixel * 0.9, unit, { size: textPixel, colour: INK.soft, anchor: 'end' }),
  ];
}

/** Dashes by which senders are told apart. */
const DASHES: readonly Dash[] = [
  [5, 2.5],
  [1.5, 2],
  [9, 2],
  [3, 1.5],
  [10, 4],
];

/** The colour of what is said of a line. */
export const lineColour = (look: NamedLine['look']): string =>
  look === 'curve' ? INK.ink : look === 'sender' ? INK.pen : INK.soft;

const dashOf = (look: NamedLine['look'], dash: number): Dash | undefined => {
  switch (look) {
    case 'sender':
      return DASHES[dash % DASHES.length];
    case 'before':
      return [4, 3];
    case 'edge':
      return [1.5, 2.5];
    case 'curve':
      return undefined;
  }
};

export function lineItem(look: NamedLine['look'], dash: number, points: Line): PathItem {
  const width = look === 'curve' ? 2 : 1.3;
  const dashes = dashOf(look, dash);
  return {
    kind: 'path',
    d: linePath(points),
    stroke: lineColour(look),
    width,
    ...(dashes === undefined ? {} : { dash: dashes }),
  };
}

export const boundsOf = ({ left, top, right, bottom }: Box): Bounds => ({
  x: left,
  y: top,
  width: right - left,
  height: Math.max(0, bottom - top),
});

/** Inside the plot and not beyond it. */
export const inside = (plot: Box, items: readonly Item[]): Item => ({
  kind: 'group',
  x: 0,
  y: 0,
  clip: boundsOf(plot),
  items,
});

/** Filled: the needle was rising. Open: falling. A cross: struck. */
export function dotItem({
  x,
  y,
  kind,
}: {
  readonly x: number;
  readonly y: number;
  readonly kind: 'up' | 'down' | 'struck';
}): Item {
  if (kind === 'struck')
    return { kind: 'path', d: `M${x - 3} ${y - 3}l6 6m0 -6l-6 6`, stroke: INK.soft, width: 1.2 };
  return {
    kind: 'path',
    d: circlePath(x, y, 3.2),
    fill: kind === 'up' ? INK.ink : INK.paper,
    stroke: INK.ink,
    width: 1.3,
  };
}

/** Names beside their lines. */
export const nameItems = (
  labels: readonly { readonly row: NamedLine; readonly box: Box }[],
  textPixel: number,
): Item[] =>
  labels.flatMap(({ row, box }): Item[] => [
    // Nothing that is drawn behind it runs through its letters.
    { kind: 'path', d: boxPath(boundsOf(box)), fill: INK.paper, opacity: 0.8 },
    textAt(box.left, box.bottom - textPixel * 0.3, row.name, {
      size: textPixel,
      colour: lineColour(row.look),
    }),
  ]);
