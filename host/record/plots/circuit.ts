import type { Gauge } from '../../job/schema/gauge';
import {
  circuitLayout,
  type CircuitLayout,
  type CircuitQuestion,
  type DrawnPart,
} from '../../scene/circuit-layout';
import { senderPlaceWords } from '../../words/network';
import { shownPart } from '../../words/shown';
import type { Block } from '../paper/block';
import { boxPath, circlePath, INK, textAt, type Item, type PathItem } from '../paper/items';

const wire = (d: string, colour: string = INK.ink, fill?: string): PathItem => ({
  kind: 'path',
  d,
  stroke: colour,
  width: 1.5,
  ...(fill === undefined ? {} : { fill }),
});

/** The circuit as it is left: what there is in ink, what was added in blue, what lies behind the dash framed. */
export function circuitBlock(question: CircuitQuestion, quantity: Gauge['quantity'], width: number): Block {
  const layout = circuitLayout(question, width);
  const { leadY, feedX, gauge, sender, dash, textPixel } = layout;
  const where = senderPlaceWords[quantity];
  const small = textPixel * 0.8;
  const says = (x: number, y: number, text: string, colour: string = INK.soft): Item =>
    textAt(x, y, text, { size: small, colour, anchor: 'middle' });
  return {
    height: heightOf(layout),
    items: [
      { kind: 'path', d: boxPath(dash), stroke: INK.soft, width: 0.9, dash: [4, 3] },
      says(dash.x + dash.width / 2, dash.y + dash.height + textPixel * 1.2, 'behind the dash'),
      wire(`M${feedX} ${leadY}H${sender.x}V${sender.top}`),
      { kind: 'path', d: circlePath(feedX, leadY, 3.5), fill: INK.ink },
      textAt(feedX - 3, leadY - textPixel * 0.7, 'feed', { size: small, colour: INK.soft }),
      ...gaugeItems(layout),
      says(gauge.x, leadY + gauge.radius + textPixel * 1.25, 'gauge', INK.ink),
      ...layout.parts.flatMap((part) => partItems(part, layout)),
      ...senderItems(layout, quantity === 'temperature'),
      says(sender.x, leadY - textPixel * (where === undefined ? 0.8 : 1.9), 'sender', INK.ink),
      ...(where === undefined ? [] : [says(sender.x, leadY - textPixel * 0.8, where)]),
    ],
  };
}

/** To the foot of the ground sign or of the words below the dash. */
const heightOf = ({ dash, sender, textPixel }: CircuitLayout): number =>
  Math.max(dash.y + dash.height + textPixel * 1.5, sender.top + sender.height + 28);

function gaugeItems({ gauge: { x, radius: r }, leadY }: CircuitLayout): Item[] {
  return [
    { ...wire(circlePath(x, leadY, r)), fill: INK.paper },
    wire(
      `M${x - r * 0.62} ${leadY + r * 0.28}a${r * 0.78} ${r * 0.78} 0 0 1 ${r * 1.24} 0M${x} ${leadY + r * 0.42}l${r * 0.36} ${-r * 0.82}`,
    ),
  ];
}

const groundPath = (x: number, y: number): string =>
  `M${x - 16} ${y}h32M${x - 10} ${y + 6}h20M${x - 4} ${y + 12}h8`;

/** A slash through its body: it goes with heat. An arrow: it goes with a float or a membrane. */
function senderItems({ sender: { x, top, height } }: CircuitLayout, isThermistor: boolean): Item[] {
  const bottom = top + height;
  const foot = bottom + 12;
  return [
    wire(boxPath({ x: x - 13, y: top, width: 26, height }), INK.ink, INK.paper),
    wire(`M${x} ${bottom}V${foot}${groundPath(x, foot)}`),
    wire(
      isThermistor
        ? `M${x - 25} ${bottom - 2}h9L${x + 19} ${top - 5}`
        : `M${x - 23} ${bottom - 5}L${x + 20} ${top + 5}m-9 1l9 -1l-3 8`,
    ),
  ];
}

function partItems({ part, body, way, value, bag }: DrawnPart, layout: CircuitLayout): Item[] {
  const { leadY, textPixel, bigPixel, gauge } = layout;
  const middle = body.x + body.width / 2;
  const level = body.y + body.height / 2;
  const foot = body.y + body.height + textPixel * 0.9;
  const ways: Readonly<Record<DrawnPart['way'], Item[]>> = {
    'in-lead': [],
    'to-ground': [
      wire(
        `M${middle} ${leadY}V${body.y}M${middle} ${body.y + body.height}V${foot}${groundPath(middle, foot)}`,
        INK.pen,
      ),
      { kind: 'path', d: circlePath(middle, leadY, 3.5), fill: INK.pen },
    ],
    'over-gauge': [
      wire(
        `M${gauge.x - gauge.radius - 6} ${leadY}V${level}H${body.x}M${body.x + body.width} ${level}H${gauge.x + gauge.radius + 6}V${leadY}`,
        INK.pen,
      ),
    ],
  };
  return [
    ...ways[way],
    wire(boxPath(body), INK.pen, INK.penwash),
    textAt(value.x, value.y, shownPart(part.resistanceOhm), {
      size: bigPixel,
      font: 'engraved',
      colour: INK.pen,
      anchor: value.anchor,
    }),
    ...(bag === undefined
      ? []
      : [textAt(bag.x, bag.y, bag.text, { size: textPixel * 0.8, anchor: bag.anchor })]),
  ];
}
