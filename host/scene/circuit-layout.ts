import type { Place, Topology } from '../core/network';
import { shownPart } from '../words/shown';
import { figureWidth, wordsWidth } from './text-width';

/** A part to add, where it goes and what its bag says. */
export type CircuitPart = {
  readonly place: Place;
  readonly resistanceOhm: number;
  /** Left out where nobody said it. */
  readonly tolerancePercent?: number | undefined;
  readonly ratingWatt?: number | undefined;
};

export type CircuitQuestion = { readonly topology: Topology; readonly parts: readonly CircuitPart[] };

export type Rect = {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
};

/** A resistor of the drawing: lying in the lead, standing to ground, or lying over the gauge. */
export type DrawnPart = {
  readonly part: CircuitPart;
  readonly way: 'in-lead' | 'to-ground' | 'over-gauge';
  readonly body: Rect;
  /** Where its value is written, and which way the text runs from there. */
  readonly value: { readonly x: number; readonly y: number; readonly anchor: 'start' | 'middle' };
  /** What its bag says, where there is room for it; the list of the parts says it too. */
  readonly bag:
    | { readonly text: string; readonly x: number; readonly y: number; readonly anchor: 'start' | 'middle' }
    | undefined;
};

export type CircuitLayout = {
  readonly width: number;
  readonly height: number;
  readonly leadY: number;
  readonly feedX: number;
  readonly gauge: { readonly x: number; readonly radius: number };
  readonly sender: { readonly x: number; readonly top: number; readonly height: number };
  /** Round what is behind the dash. */
  readonly dash: Rect;
  readonly parts: readonly DrawnPart[];
  readonly textPixel: number;
  readonly bigPixel: number;
};

const NARROW_PIXEL = 520;
const WIDE = { text: 16, big: 28, radius: 38, body: [100, 36], margin: 20 } as const;
const NARROW = { text: 14, big: 21, radius: 26, body: [74, 32], margin: 10 } as const;
/** The widest a circuit is drawn: beyond it the lines only grow longer. */
const WIDEST_PIXEL = 580;

type Sizes = typeof WIDE | typeof NARROW;

/** No value is written smaller than this. */
const LEAST_BIG_PIXEL = 14;
const BESIDE_PIXEL = 7;

/** As large as fits over its slot. */
function bigFor(parts: readonly CircuitPart[], slot: number, sizes: Sizes): number {
  const widest = Math.max(0, ...parts.map((part) => figureWidth(shownPart(part.resistanceOhm), 1)));
  return widest === 0 ? sizes.big : Math.max(LEAST_BIG_PIXEL, Math.min(sizes.big, (slot - 4) / widest));
}

/** What stands along the lead, from the gauge to the sender. Source: the topologies of the network search. */
function alongLead({ topology, parts }: CircuitQuestion): readonly CircuitPart[] {
  const at = (place: Place): CircuitPart[] => parts.filter((part) => part.place === place);
  // In this one the series part lies beyond the joint, on the sender's side.
  if (topology === 'series-then-shunt') return [...at('shunt'), ...at('series')];
  return [...at('series-gauge-side'), ...at('series'), ...at('shunt'), ...at('series-sender-side')];
}

/** Feed, gauge, the network behind the dash, the lead, the sender and its ground, for one width. Source: geometry. */
export function circuitLayout(question: CircuitQuestion, frameWidth: number): CircuitLayout {
  const width = Math.min(WIDEST_PIXEL, frameWidth);
  const along = alongLead(question);
  const sizes: Sizes = width >= NARROW_PIXEL ? WIDE : NARROW;
  const over = question.parts.filter(({ place }) => place === 'across-gauge');
  const shunt = along.find(({ place }) => place === 'shunt');
  const top = sizes.margin;
  const leadY = top + sizes.big + sizes.radius + (over.length > 0 ? sizes.radius + sizes.big + 14 : 12);
  const gauge = { x: sizes.margin + sizes.text * 3 + sizes.radius, radius: sizes.radius };
  const senderX = width - sizes.margin - sizes.text * 2.6;
  const dashLeft = gauge.x - sizes.radius - sizes.text;
  const dashRight = senderX - sizes.text * 3.4;
  const from = gauge.x + sizes.radius + 8;
  const slot = (dashRight - sizes.text * 0.6 - from) / Math.max(1, along.length);
  const big = bigFor(along, slot, sizes);
  const isUnder =
    shunt !== undefined &&
    sizes.body[1] / 2 + BESIDE_PIXEL + figureWidth(shownPart(shunt.resistanceOhm), big) > slot / 2;
  const dashBottom = leadY + sizes.radius + sizes.text * (shunt === undefined ? 3.2 : isUnder ? 9 : 6.6);
  const lines = { leadY, sizes, big, isUnder, hasBags: hasBags(along, slot, sizes) };
  const placed = along.map((part, index) => partAt(part, from + slot * (index + 0.5), slot, lines));
  return {
    width,
    height: Math.round(Math.max(dashBottom + sizes.text * 1.8, leadY + sizes.text * 9.4)),
    leadY,
    feedX: sizes.margin,
    gauge,
    sender: { x: senderX, top: leadY + sizes.text * 2, height: sizes.text * 3.9 },
    dash: { x: dashLeft, y: top, width: dashRight - dashLeft, height: dashBottom - top },
    parts: [...placed, ...over.map((part) => overGauge(part, gauge.x, lines))],
    textPixel: sizes.text,
    bigPixel: big,
  };
}

/** Height of the sign of ground. */
const GROUND_PIXEL = 18;

type Lines = {
  readonly leadY: number;
  readonly sizes: Sizes;
  readonly big: number;
  /** The value of the shunt stands under its ground and not beside it. */
  readonly isUnder: boolean;
  /** What the bags of the lead say has room between their neighbours. */
  readonly hasBags: boolean;
};

/** Bags are written a little smaller than the other words. */
const BAG_FACTOR = 0.9;

function bagText({ ratingWatt, tolerancePercent }: CircuitPart): string {
  const said = [
    ...(ratingWatt === undefined ? [] : [`${ratingWatt} W`]),
    ...(tolerancePercent === undefined ? [] : [`${tolerancePercent} %`]),
  ];
  return said.join(', ');
}

/** A bag in the lead keeps clear of its neighbours' and of the body of a shunt. */
function hasBags(along: readonly CircuitPart[], slot: number, sizes: Sizes): boolean {
  const hasShunt = along.some(({ place }) => place === 'shunt');
  const room = hasShunt ? Math.min(slot, 2 * slot - sizes.body[1]) : slot;
  return along
    .filter(({ place }) => place !== 'shunt')
    .every((part) => wordsWidth(bagText(part), sizes.text * BAG_FACTOR) <= room);
}

function partAt(
  part: CircuitPart,
  x: number,
  slot: number,
  { leadY, sizes, big, isUnder, hasBags: isBagShown }: Lines,
): DrawnPart {
  const [length, breadth] = sizes.body;
  const long = Math.min(length, slot * 0.82);
  const text = bagText(part);
  if (part.place === 'shunt') {
    const body = {
      x: x - breadth / 2,
      y: leadY + sizes.text * 1.4,
      width: breadth,
      height: sizes.text * 3.6,
    };
    const beside = body.x + breadth + BESIDE_PIXEL;
    const under = body.y + body.height + sizes.text * 0.9 + GROUND_PIXEL + big;
    if (isUnder)
      return {
        part,
        way: 'to-ground',
        body,
        value: { x, y: under, anchor: 'middle' },
        bag: { text, x, y: under + sizes.text * 1.25, anchor: 'middle' },
      };
    return {
      part,
      way: 'to-ground',
      body,
      value: { x: beside, y: body.y + body.height / 2, anchor: 'start' },
      bag: { text, x: beside, y: body.y + body.height / 2 + sizes.text * 1.25, anchor: 'start' },
    };
  }
  return {
    part,
    way: 'in-lead',
    body: { x: x - long / 2, y: leadY - breadth / 2, width: long, height: breadth },
    value: { x, y: leadY - breadth / 2 - 9, anchor: 'middle' },
    bag: isBagShown ? { text, x, y: leadY + breadth / 2 + sizes.text * 1.3, anchor: 'middle' } : undefined,
  };
}

function overGauge(part: CircuitPart, x: number, { leadY, sizes }: Lines): DrawnPart {
  const [length, breadth] = sizes.body;
  const y = leadY - sizes.radius - sizes.text - breadth;
  return {
    part,
    way: 'over-gauge',
    body: { x: x - length / 2, y, width: length, height: breadth },
    value: { x, y: y - 7, anchor: 'middle' },
    bag: { text: bagText(part), x: x + length / 2 + 7, y: y + breadth * 0.7, anchor: 'start' },
  };
}
