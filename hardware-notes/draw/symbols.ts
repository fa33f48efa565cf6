/**
 * Schematic symbols (IEC 60617 shapes). Every two-terminal part spans 80 pixels: it starts at the point given and
 * runs right, or down when `down` is set, so that wires meet it without arithmetic.
 */
import { COMMON } from '../../firmware-ts/board/netlist';
import { numberOf } from '../circuit/circuit';
import { ink, isolationColour, softInk, wireColour, type Point, type Sheet } from './sheet';

export const span = 80;

export type Part = {
  readonly at: Point;
  readonly down?: boolean;
  /** Runs up from the point instead: for diodes whose arrow must point up. */
  readonly up?: boolean;
  readonly name: string;
  readonly value?: readonly string[];
  /** Vertical parts only: labels to the left instead of the right. */
  readonly labelLeft?: boolean;
  /** How far the labels keep off the part's axis. */
  readonly clearance?: number;
  /** Reference in the circuit, where the label says something else or nothing. */
  readonly of?: string;
  /** Terminals at the starting end and at the far one, where the shape does not tell. */
  readonly terminals?: readonly [string, string];
};

type Shape = readonly { readonly d: string; readonly fill?: string }[];

const shapes = {
  resistor: [{ d: 'M0 0 H20 M60 0 H80' }, { d: 'M20 -8 H60 V8 H20 Z', fill: '#ffffff' }],
  fuse: [{ d: 'M20 -7 H60 V7 H20 Z', fill: '#ffffff' }, { d: 'M0 0 H80' }],
  capacitor: [{ d: 'M0 0 H36 M44 0 H80 M36 -14 V14 M44 -14 V14' }],
  /** Plus at the starting end. */
  electrolytic: [{ d: 'M0 0 H36 M44 0 H80 M36 -14 V14 M44 -14 V14 M24 -11 H32 M28 -15 V-7' }],
  diode: [{ d: 'M0 0 H80' }, { d: 'M32 -10 L50 0 L32 10 Z', fill: '#ffffff' }, { d: 'M50 -11 V11' }],
  suppressor: [
    { d: 'M0 0 H80' },
    { d: 'M24 -10 L40 0 L24 10 Z M56 -10 L40 0 L56 10 Z', fill: '#ffffff' },
    { d: 'M36 -15 L40 -11 V11 L44 15' },
  ],
  zener: [
    { d: 'M0 0 H80' },
    { d: 'M32 -10 L50 0 L32 10 Z', fill: '#ffffff' },
    { d: 'M45 -14 L50 -11 V11 L55 14' },
  ],
  /** Cathode at the starting end. */
  zenerBack: [
    { d: 'M0 0 H80' },
    { d: 'M48 -10 L30 0 L48 10 Z', fill: '#ffffff' },
    { d: 'M35 -14 L30 -11 V11 L25 14' },
  ],
  contact: [
    { d: 'M0 0 H24 M56 0 H80 M24 0 L54 -17' },
    { d: 'M24 0 m-3.2 0 a3.2 3.2 0 1 0 6.4 0 a3.2 3.2 0 1 0 -6.4 0', fill: '#ffffff' },
    { d: 'M56 0 m-3.2 0 a3.2 3.2 0 1 0 6.4 0 a3.2 3.2 0 1 0 -6.4 0', fill: '#ffffff' },
  ],
  coil: [
    { d: 'M0 0 H26 M54 0 H80' },
    { d: 'M26 -18 H54 V18 H26 Z', fill: '#ffffff' },
    { d: 'M26 18 L54 -18' },
  ],
  lamp: [
    { d: 'M0 0 H80' },
    { d: 'M32 -10 L50 0 L32 10 Z', fill: '#ffffff' },
    { d: 'M50 -11 V11 M40 -15 l8 -9 m-4 1 l4 -1 l-1 4 M50 -16 l8 -9 m-4 1 l4 -1 l-1 4' },
  ],
} as const satisfies Record<string, Shape>;

export type ShapeName = keyof typeof shapes;

const fromAnode = ['A', 'K'] as const;
const alike = ['1', '2'] as const;

/** Terminals at the two ends of each shape, as the circuit names them. */
const shapeTerminals = {
  resistor: alike,
  fuse: alike,
  capacitor: alike,
  suppressor: alike,
  diode: fromAnode,
  zener: fromAnode,
  lamp: fromAnode,
  zenerBack: ['K', 'A'],
  electrolytic: ['+', '−'],
  contact: ['COM', 'MAKE'],
  coil: ['COIL+', 'COIL−'],
} as const satisfies Record<ShapeName, readonly [string, string]>;

function recordEnds(sheet: Sheet, shape: ShapeName, part: Part, far: Point): Point {
  const [first, second] = part.terminals ?? shapeTerminals[shape];
  const name = part.of ?? part.name;
  sheet.end(name, first, part.at);
  sheet.end(name, second, far);
  return far;
}

function labels(sheet: Sheet, part: Part): void {
  const [x, y] = part.at;
  const value = part.value ?? [];
  if (part.down === true || part.up === true) {
    const top = part.up === true ? y - span : y;
    const left = part.labelLeft === true;
    const off = part.clearance ?? 18;
    const textX = left ? x - off : x + off;
    const anchor = left ? 'end' : 'start';
    const firstY = top + 45 - value.length * 8.5;
    sheet.text(textX, firstY, part.name, { bold: true, anchor });
    value.forEach((line, index) =>
      sheet.text(textX, firstY + 17 * (index + 1), line, { size: 13, anchor, colour: softInk }),
    );
    return;
  }
  const off = part.clearance ?? 14;
  sheet.text(x + 40, y - off, part.name, { bold: true, anchor: 'middle' });
  value.forEach((line, index) =>
    sheet.text(x + 40, y + off + 12 + 16 * index, line, { size: 13, anchor: 'middle', colour: softInk }),
  );
}

/** Draws a two-terminal part and its labels; answers with its far end. */
export function twoTerminal(sheet: Sheet, shape: ShapeName, part: Part): Point {
  const [x, y] = part.at;
  const turn = part.down === true ? ' rotate(90)' : part.up === true ? ' rotate(-90)' : '';
  sheet.raw(`<g transform="translate(${x} ${y})${turn}">`);
  for (const stroke of shapes[shape]) {
    sheet.path(stroke.d, { fill: 'fill' in stroke ? stroke.fill : 'none' });
  }
  sheet.raw('</g>');
  labels(sheet, part);
  const far: Point = part.up === true ? [x, y - span] : part.down === true ? [x, y + span] : [x + span, y];
  return recordEnds(sheet, shape, part, far);
}

/** Box common: the node of the GROUND clip. It is not the chassis of the PC nor the input supply. */
export function common(sheet: Sheet, x: number, y: number, label?: string): void {
  sheet.path(`M${x} ${y} V${y + 10} M${x - 12} ${y + 10} H${x + 12} L${x} ${y + 24} Z`, { fill: '#ffffff' });
  sheet.net(COMMON, [x, y]);
  if (label !== undefined) sheet.text(x, y + 40, label, { size: 12, anchor: 'middle', colour: softInk });
}

/** Another side's zero volts: three bars, in the colour of the isolation barrier, with its name. */
export function foreignGround(sheet: Sheet, [x, y]: Point, label: string, net: string): void {
  sheet.net(net, [x, y]);
  sheet.path(
    `M${x} ${y} V${y + 12} M${x - 14} ${y + 12} H${x + 14} M${x - 9} ${y + 17} H${x + 9} M${x - 4} ${y + 22} H${x + 4}`,
    {
      colour: isolationColour,
    },
  );
  sheet.text(x, y + 38, label, { size: 12, anchor: 'middle', colour: isolationColour });
}

/** A supply rail: a bar with its name above. */
export function rail(sheet: Sheet, x: number, y: number, name: string): void {
  sheet.net(name, [x, y]);
  sheet.path(`M${x} ${y} V${y - 14} M${x - 14} ${y - 14} H${x + 14}`);
  sheet.text(x, y - 20, name, { size: 13, anchor: 'middle', bold: true });
}

/** A net's name in a pointed flag; the same name elsewhere is the same conductor. `side`: where the flag lies. */
export function flag(sheet: Sheet, at: Point, side: 'left' | 'right', name: string): void {
  const [x, y] = at;
  sheet.net(name, at);
  const width = name.length * 8.1 + 20;
  const way = side === 'right' ? 1 : -1;
  sheet.path(`M${x} ${y} l${8 * way} -11 h${width * way} v22 h${-width * way} Z`, {
    fill: '#eef4fa',
    colour: wireColour,
    width: 1.4,
  });
  const middle = x + way * (8 + width / 2);
  sheet.text(middle, y + 4.5, name, { size: 13, anchor: 'middle', mono: true, colour: wireColour });
}

type ClipNotes = { readonly remark?: string; readonly end?: readonly [part: string, terminal: string] };

/** A clip or socket on the outside of the box; `end` is its terminal in the circuit. */
export function clip(sheet: Sheet, at: Point, name: string, { remark, end }: ClipNotes = {}): void {
  const [x, y] = at;
  if (end !== undefined) for (const side of [x - 7, x + 7]) sheet.end(...end, [side, y]);
  sheet.raw(`<circle cx="${x}" cy="${y}" r="7" fill="#ffffff" stroke="${ink}" stroke-width="2.2"/>`);
  sheet.text(x - 10, y - 16, name, { bold: true, size: 15 });
  if (remark !== undefined) sheet.text(x - 10, y + 26, remark, { size: 12, colour: softInk });
}

/** Records the three pins of unit 'U1a' and writes their numbers beside them. */
function numberedUnit(
  sheet: Sheet,
  name: string,
  pins: { readonly plus: Point; readonly minus: Point; readonly out: Point },
): void {
  const [reference, unit] = [name.slice(0, -1), name.slice(-1)];
  const record = (terminal: string, at: Point, [right, down]: readonly [number, number]): void => {
    sheet.end(reference, terminal, at);
    const number = numberOf(reference, terminal);
    sheet.text(at[0] + right, at[1] + down, number, { size: 11, colour: softInk });
  };
  // Inside the triangle, on the side of the name.
  const inside = ([, y]: Point): readonly [number, number] => [21, y < pins.out[1] ? 10 : -2];
  record(`+${unit}`, pins.plus, inside(pins.plus));
  record(`−${unit}`, pins.minus, inside(pins.minus));
  record(`OUT${unit}`, pins.out, [4, -5]);
}

/** A name written along a conductor instead of in a flag. */
export function netName(sheet: Sheet, at: Point, net: string, text: Point = at): void {
  sheet.net(net, at);
  sheet.text(text[0], text[1], net, { size: 13, anchor: 'middle', mono: true });
}

/** An amplifier; `at` is the output. Answers with its input points. */
export function amplifier(
  sheet: Sheet,
  at: Point,
  name: string,
  plusOnTop = true,
): { plus: Point; minus: Point } {
  const [x, y] = at;
  const left = x - 70;
  sheet.path(`M${left} ${y - 38} L${x} ${y} L${left} ${y + 38} Z`, { fill: '#ffffff' });
  const top: Point = [left, y - 19];
  const bottom: Point = [left, y + 19];
  sheet.text(left + 7, y - 14, plusOnTop ? '+' : '−', { size: 17 });
  sheet.text(left + 7, y + 24, plusOnTop ? '−' : '+', { size: 17 });
  sheet.text(left + 30, y + 5, name, { bold: true, size: 13, anchor: 'middle' });
  const pins = plusOnTop ? { plus: top, minus: bottom } : { plus: bottom, minus: top };
  numberedUnit(sheet, name, { ...pins, out: at });
  return pins;
}

/** Field-effect transistor, gate on the left; `at` is the gate. Drain 38 right and 40 up (n) or down (p). */
export function transistor(
  sheet: Sheet,
  at: Point,
  kind: 'n' | 'p',
  name: string,
): { up: Point; down: Point } {
  const [x, y] = at;
  sheet.path(
    `M${x} ${y} H${x + 14} M${x + 14} ${y - 16} V${y + 16} M${x + 21} ${y - 20} V${y - 9} M${x + 21} ${y - 5.5} V${y + 5.5} M${x + 21} ${y + 9} V${y + 20}`,
  );
  sheet.path(`M${x + 21} ${y - 14.5} H${x + 38} V${y - 40} M${x + 21} ${y + 14.5} H${x + 38} V${y + 40}`);
  const tied = kind === 'n' ? y + 14.5 : y - 14.5;
  sheet.path(`M${x + 21} ${y} H${x + 38} V${tied}`);
  const arrow = kind === 'n' ? `M${x + 22} ${y} l9 -5 v10 Z` : `M${x + 37} ${y} l-9 -5 v10 Z`;
  sheet.path(arrow, { fill: ink, width: 1 });
  sheet.text(x + 48, y + 5, name, { bold: true });
  const up: Point = [x + 38, y - 40];
  const down: Point = [x + 38, y + 40];
  sheet.end(name, 'G', at);
  sheet.end(name, kind === 'n' ? 'D' : 'S', up);
  sheet.end(name, kind === 'n' ? 'S' : 'D', down);
  return { up, down };
}

/** P-channel transistor lying in a line, gate below; its source at the given side. Answers with the gate. */
export function passTransistor(sheet: Sheet, at: Point, name: string, source: 'left' | 'right'): Point {
  const [x, y] = at;
  sheet.raw(`<g transform="translate(${x} ${y})">`);
  const tie = source === 'right' ? 'M40 12 V0 H56' : 'M40 12 V0 H24';
  sheet.path(`M0 0 H24 V12 M56 12 V0 H80 M16 12 H29 M33 12 H47 M51 12 H64 M20 19 H60 M40 19 V40 ${tie}`);
  sheet.path('M40 1 l-5 9 h10 Z', { fill: ink, width: 1 });
  sheet.raw('</g>');
  sheet.text(x + 40, y - 12, name, { bold: true, anchor: 'middle' });
  const gate: Point = [x + 40, y + 40];
  sheet.end(name, 'G', gate);
  sheet.end(name, source === 'left' ? 'S' : 'D', at);
  sheet.end(name, source === 'left' ? 'D' : 'S', [x + span, y]);
  return gate;
}
