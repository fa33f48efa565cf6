import { errorScene, type ErrorQuestion, type ErrorScene } from '../../scene/error-scene';
import type { Line, Spot } from '../../scene/label-place';
import { bandPath } from '../../scene/line-path';
import type { NamedLine } from '../../scene/named-line';
import { ohmsScene, type OhmsQuestion } from '../../scene/ohms-scene';
import type { PlotWish } from '../../scene/plot-space';
import { paragraph, stacked, type Block } from '../paper/block';
import { boxPath, INK, line, moved, type Bounds, type Item } from '../paper/items';
import type { Letters } from '../paper/letters';
import {
  boundsOf,
  dotItem,
  inside,
  lineColour,
  lineItem,
  nameItems,
  stripItems,
  uprightItems,
} from './strip';

/** Type on paper is read nearer than on a screen. */
const PAPER_TYPE = 0.8;

export type PlotSize = { readonly width: number; readonly height: number };

const wishOf = ({ width, height }: PlotSize): PlotWish => ({
  width,
  typeFactor: PAPER_TYPE,
  // The layout takes the type's part of its height off again.
  heightPixel: height + (1 - PAPER_TYPE) * 60,
});

const SAMPLE = 30;
const LIST_SIZE = 10.5;

/** What found no place beside its line is named below the plot, with a piece of the line. */
function listBelow(letters: Letters, { rows, words, width }: Below): Block {
  const lines = rows.map((row): Block => {
    const text = paragraph(letters, {
      text: row.says === undefined ? row.name : `${row.name}: ${row.says}`,
      width: width - SAMPLE - 6,
      size: LIST_SIZE,
      colour: lineColour(row.look),
    });
    return {
      height: text.height,
      items: [
        lineItem(row.look, row.dash, [
          { x: 0, y: LIST_SIZE * 0.7 },
          { x: SAMPLE, y: LIST_SIZE * 0.7 },
        ]),
        moved(SAMPLE + 6, 0, text.items),
      ],
    };
  });
  const said = words.map((text) => paragraph(letters, { text, width, size: LIST_SIZE, colour: INK.soft }));
  return stacked([...lines, ...said], 2);
}

type Below = {
  readonly rows: readonly NamedLine[];
  readonly words: readonly string[];
  readonly width: number;
};

const withList = (letters: Letters, plot: Block, below: Below): Block =>
  below.rows.length + below.words.length === 0 ? plot : stacked([plot, listBelow(letters, below)], 5);

/** Ohms over the dial laid flat. */
export function ohmsPlot(letters: Letters, question: OhmsQuestion, size: PlotSize): Block {
  const scene = ohmsScene(question, wishOf(size));
  const { space, strip, axis, yOf, lines, band, dots } = scene;
  const { plot } = space;
  const looks = (isCurve: boolean): Item[] =>
    lines
      .filter(({ look }) => (look === 'curve') === isCurve)
      .map(({ look, dash, line: points }) => lineItem(look, dash, points));
  const banded: Item[] =
    band === undefined || band.high.length === 0
      ? []
      : [{ kind: 'path', d: bandPath(band.high, band.low), fill: INK.ink, opacity: 0.13 }];
  const drawn: Block = {
    height: space.height,
    items: [
      ...uprightItems(axis, yOf, space, '\u03a9'),
      inside({ ...plot, top: plot.top - 6 }, [...looks(false), ...banded, ...looks(true)]),
      ...dots.flatMap((dot) => [...dot.bars.map(barItem), dotItem(dot)]),
      ...nameItems(scene.labels, space.textPixel),
      ...stripItems(strip, space),
    ],
  };
  return withList(letters, drawn, { rows: scene.below, words: [], width: size.width });
}

const HATCH_STEP = 6;

/** Slanting lines across a box. Source: geometry. */
function hatched(bounds: Bounds): Item {
  const { x, y, width, height } = bounds;
  const count = Math.ceil((width + height) / HATCH_STEP);
  const d = Array.from({ length: count }, (_, index) => {
    const at = x + index * HATCH_STEP;
    return `M${at} ${y}L${at - height} ${y + height}`;
  }).join('');
  return {
    kind: 'group',
    x: 0,
    y: 0,
    clip: bounds,
    items: [{ kind: 'path', d, stroke: INK.hatch, width: 0.7 }],
  };
}

/** Errors over the dial laid flat: the zone of the limit clear, outside it hatched. `unit`: as it is printed. */
export function errorPlot(letters: Letters, question: ErrorQuestion, unit: string, size: PlotSize): Block {
  const scene = errorScene(question, wishOf(size));
  const { space } = scene;
  const words =
    question.limit === undefined || scene.limitLabel !== undefined
      ? []
      : [`${question.limit.words}: outside it is hatched`];
  const drawn: Block = {
    height: space.height,
    items: [
      ...uprightItems(scene.axis, scene.yOf, space, unit),
      ...zoneItems(scene),
      ...curveItems(scene),
      ...scene.dots.flatMap((dot) => [...barItems(dot), dotItem(dot)]),
      ...limitName(question, scene),
      ...nameItems(scene.labels, space.textPixel),
      ...stripItems(scene.strip, space),
    ],
  };
  return withList(letters, drawn, { rows: scene.below, words, width: size.width });
}

const zoneItems = ({ space: { plot }, outside, limitLines, yOf }: ErrorScene): Item[] => [
  ...outside.map((box) => hatched(boundsOf(box))),
  ...limitLines.flatMap(([from, to]): Item[] =>
    from === undefined || to === undefined ? [] : [line([from.x, from.y], [to.x, to.y], 1, INK.bad)],
  ),
  line([plot.left, yOf(0)], [plot.right, yOf(0)], 0.9, INK.ink),
];

const curveItems = ({ space: { plot }, bands, lines }: ErrorScene): Item[] => [
  inside(plot, [
    ...bands.map((each): Item => ({
      kind: 'path',
      d: bandPath(each.high, each.low),
      fill: INK.ink,
      opacity: 0.13,
    })),
    ...lines.map(({ look, line: points }) => lineItem(look, 0, points)),
  ]),
];

/** A bar with its ends, level or upright. */
function barItem([from, to]: Line): Item {
  if (from === undefined || to === undefined) return { kind: 'path', d: '' };
  const isLevel = from.y === to.y;
  const end = ({ x, y }: Spot): string => (isLevel ? `M${x} ${y - 3}v6` : `M${x - 3} ${y}h6`);
  return {
    kind: 'path',
    d: `M${from.x} ${from.y}L${to.x} ${to.y}${end(from)}${end(to)}`,
    stroke: INK.ink,
    width: 1,
  };
}

function barItems({ x, bar }: ErrorScene['dots'][number]): Item[] {
  if (bar === undefined) return [];
  const [high, low] = bar;
  return [
    {
      kind: 'path',
      d: `M${x} ${high}V${low}M${x - 3} ${high}h6M${x - 3} ${low}h6`,
      stroke: INK.ink,
      width: 1,
    },
  ];
}

/** The words of the limit stand on paper, so that the hatching does not run through them. */
function limitName({ limit }: ErrorQuestion, { limitLabel, space }: ErrorScene): Item[] {
  if (limit === undefined || limitLabel === undefined) return [];
  return [
    { kind: 'path', d: boxPath(boundsOf(limitLabel)), fill: INK.paper },
    {
      kind: 'text',
      x: limitLabel.left,
      y: limitLabel.bottom - space.textPixel * 0.3,
      text: limit.words,
      font: 'text',
      size: space.textPixel,
      colour: INK.bad,
      anchor: 'start',
    },
  ];
}
