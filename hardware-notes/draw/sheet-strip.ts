import { isPad, outlineOf, roomOf } from '../strip-board/packages';
import {
  FIXING_MM,
  PITCH_MM,
  fixings,
  holeName,
  rowName,
  type Hole,
  type PlacedPart,
  type StripBoard,
} from '../strip-board/board';
import { circuit } from '../circuit/circuit';
import { ink, Sheet, softInk, wireColour } from './sheet';
import { LabelPlacer } from './label-placer';

/** Both sides of a strip board. The copper side is the mirror image: what is left on one is right on the other. */

const PIXELS = 25;
const LEFT = 110;
const TOP = 140;
const STRIP = 18;
const copper = '#e8c39a';
const cutColour = '#a33a1d';
/** Wires of the gauge current and of the returns: 0.75 mm². */
const heavyNets = /^(FUSED|BEHIND-K16|CHAIN-\d+|SHUNT\+|COMMON)$/;

export const isHeavy = (net: string): boolean => heavyNets.test(net);

type View = { readonly board: StripBoard; readonly isMirrored: boolean };

const x = ({ board, isMirrored }: View, column: number): number =>
  LEFT + (isMirrored ? board.columns - 1 - column : column) * PIXELS;
const y = (row: number): number => TOP + row * PIXELS;

/** Columns of a row where the strip is copper, as runs from one to the other. */
export function copperRuns({ cuts, peels, columns }: StripBoard, row: number): [number, number][] {
  const gone = new Set([
    ...cuts.filter(([each]) => each === row).map(([, column]) => column),
    ...peels
      .filter(({ from }) => from[0] === row)
      .flatMap(({ from, to }) => Array.from({ length: to[1] - from[1] + 1 }, (_, index) => from[1] + index)),
  ]);
  const runs: [number, number][] = [];
  for (let column = 0; column < columns; column += 1) {
    if (gone.has(column)) continue;
    const last = runs.at(-1);
    if (last?.[1] === column - 1) last[1] = column;
    else runs.push([column, column]);
  }
  return runs;
}

/** Where the letters of the rows stand. */
const letterColumns = (board: StripBoard): readonly number[] => [
  LEFT - 34,
  LEFT + board.columns * PIXELS + 8,
];

function grid(sheet: Sheet, view: View): void {
  const { board } = view;
  for (let row = 0; row < board.rows; row += 1) {
    for (const [from, to] of copperRuns(board, row)) {
      const left = Math.min(x(view, from), x(view, to)) - PIXELS / 2 + 1;
      const width = (to - from + 1) * PIXELS - 2;
      sheet.raw(
        `<rect x="${left}" y="${y(row) - STRIP / 2}" width="${width}" height="${STRIP}" fill="${copper}" opacity="${view.isMirrored ? 1 : 0.45}"/>`,
      );
    }
    for (const at of letterColumns(board))
      sheet.text(at, y(row) + 4.5, rowName(row), { size: 13, anchor: 'middle', bold: true });
  }
  for (let column = 0; column < board.columns; column += 1) {
    for (const at of [TOP - 26, TOP + board.rows * PIXELS + 6])
      sheet.text(x(view, column), at, String(column + 1), {
        size: 11.5,
        anchor: 'middle',
        colour: column % 5 === 4 ? ink : softInk,
        bold: column % 5 === 4,
      });
  }
  const dots: string[] = [];
  for (let row = 0; row < board.rows; row += 1)
    for (let column = 0; column < board.columns; column += 1)
      dots.push(`M${x(view, column) - 2} ${y(row)}a2 2 0 1 0 4 0a2 2 0 1 0 -4 0`);
  sheet.raw(`<path d="${dots.join('')}" fill="#ffffff" stroke="#b9a080" stroke-width="0.6"/>`);
}

function cuts(sheet: Sheet, view: View): void {
  for (const hole of view.board.cuts) {
    const [middle, level] = [x(view, hole[1]), y(hole[0])];
    sheet.raw(
      view.isMirrored
        ? `<circle data-cut="${holeName(hole)}" cx="${middle}" cy="${level}" r="10" fill="#ffffff" stroke="${cutColour}" stroke-width="2"/><path d="M${middle - 5} ${level - 5}l10 10m0 -10l-10 10" stroke="${cutColour}" stroke-width="2"/>`
        : `<path data-cut="${holeName(hole)}" d="M${middle - 5} ${level - 5}l10 10m0 -10l-10 10" stroke="${cutColour}" stroke-width="1.8"/>`,
    );
  }
  for (const { from, to } of view.board.peels) {
    const left = Math.min(x(view, from[1]), x(view, to[1])) - PIXELS / 2;
    sheet.raw(
      `<rect x="${left}" y="${y(from[0]) - STRIP / 2}" width="${(to[1] - from[1] + 1) * PIXELS}" height="${STRIP}" fill="#f8d9d0" opacity="0.6"/>`,
    );
  }
}

/** Drilled for the pillars: no copper is left there. */
function drilled(sheet: Sheet, view: View): void {
  for (const hole of fixings) {
    const [cx, cy] = atHole(view, hole);
    sheet.raw(
      `<circle data-fixing="${holeName(hole)}" cx="${cx}" cy="${cy}" r="${((FIXING_MM / 2 / PITCH_MM) * PIXELS).toFixed(1)}" fill="#ffffff" stroke="${ink}" stroke-width="1.4"/>`,
    );
  }
}

function links(sheet: Sheet, view: View): void {
  for (const { net, from, to } of view.board.links) {
    const [x1, y1, x2, y2] = [x(view, from[1]), y(from[0]), x(view, to[1]), y(to[0])];
    const width = isHeavy(net) ? 4 : 2.4;
    sheet.raw(
      `<path data-link="${holeName(from)}-${holeName(to)}" d="M${x1} ${y1}L${x2} ${y2}" stroke="${wireColour}" stroke-width="${width}" stroke-linecap="round" opacity="0.8"/>`,
    );
    for (const [cx, cy] of [
      [x1, y1],
      [x2, y2],
    ])
      sheet.raw(
        `<circle cx="${cx}" cy="${cy}" r="4.5" fill="#ffffff" stroke="${wireColour}" stroke-width="2"/>`,
      );
  }
}

const isMarked = (reference: string): boolean => /^(U|K|Q|R34|D2[0-3]$)/.test(reference);
const valueOf = (reference: string): string => {
  const value = circuit.find((each) => each.reference === reference)?.value ?? '';
  return /^[RC]/.test(reference) ? value : '';
};

/** Band of a diode's cathode, plus of an electrolytic, one of a chip, names of a transistor's leads. */
function marks(sheet: Sheet, view: View, { reference, terminals }: PlacedPart): void {
  const [first, second] = terminals;
  if (first === undefined) return;
  const [cx, cy] = [x(view, first.hole[1]), y(first.hole[0])];
  if (isMarked(reference)) {
    sheet.raw(
      `<rect x="${cx - 6.5}" y="${cy - 6.5}" width="13" height="13" fill="none" stroke="${ink}" stroke-width="1.6"/>`,
    );
    return;
  }
  if (second === undefined) return;
  const isUpright = first.hole[1] === second.hole[1];
  const way = Math.sign(isUpright ? second.hole[0] - first.hole[0] : x(view, second.hole[1]) - cx);
  if (/^D(?!1$|18|25|37|2[0-3])/.test(reference))
    sheet.raw(
      isUpright
        ? `<rect x="${cx - 8}" y="${cy + way * 17 - 2.5}" width="16" height="5" fill="${ink}"/>`
        : `<rect x="${cx + way * 17 - 2.5}" y="${cy - 8}" width="5" height="16" fill="${ink}"/>`,
    );
  if (/^C(52|9[0-2])$/.test(reference)) {
    const [px, py] = isUpright ? [cx + 14, cy + 5] : [cx, cy - 12];
    sheet.text(px, py, '+', { size: 17, bold: true, anchor: 'middle' });
  }
}

function body(sheet: Sheet, view: View, part: PlacedPart): void {
  const { reference, terminals } = part;
  const room = roomOf(
    reference,
    terminals.map(({ hole }) => hole),
  );
  if (outlineOf(reference).kind === 'wire') {
    const [from, to] = terminals;
    if (from !== undefined && to !== undefined)
      sheet.path(`M${x(view, from.hole[1])} ${y(from.hole[0])}L${x(view, to.hole[1])} ${y(to.hole[0])}`, {
        width: 3,
      });
    return;
  }
  const sides = [x(view, room.left), x(view, room.right)];
  const left = Math.min(...sides);
  const [width, height] = [Math.abs((sides[1] ?? 0) - (sides[0] ?? 0)), (room.bottom - room.top) * PIXELS];
  sheet.raw(
    `<rect x="${left.toFixed(1)}" y="${y(room.top).toFixed(1)}" width="${width.toFixed(1)}" height="${height.toFixed(1)}" rx="3" fill="#ffffff" fill-opacity="0.72" stroke="${ink}" stroke-width="1.4"/>`,
  );
}

function leads(sheet: Sheet, view: View, part: PlacedPart): void {
  for (const { number, hole } of part.terminals)
    sheet.raw(
      `<circle data-lead="${part.reference} ${number} ${holeName(hole)}" cx="${x(view, hole[1])}" cy="${y(hole[0])}" r="3.6" fill="${ink}"/>`,
    );
}

function names(view: View, placer: LabelPlacer): void {
  for (const { reference, terminals } of view.board.parts) {
    if (isPad(reference)) {
      for (const { number, hole } of terminals)
        placer.beside([x(view, hole[1]), y(hole[0])], `${reference}.${number}`, wireColour);
      continue;
    }
    const holes = terminals.map(({ hole }) => hole);
    const room = roomOf(reference, holes);
    placer.inside(
      [x(view, (room.left + room.right) / 2), y((room.top + room.bottom) / 2)],
      [Math.abs(room.right - room.left) * PIXELS, (room.bottom - room.top) * PIXELS],
      [reference, valueOf(reference)],
    );
  }
  for (const { wire, hole } of view.board.wires)
    placer.beside([x(view, hole[1]), y(hole[0])], `W${wire}`, wireColour);
}

const atHole = (view: View, [row, column]: Hole): readonly [number, number] => [x(view, column), y(row)];

function wireEnds(sheet: Sheet, view: View): void {
  for (const { wire, hole, net } of view.board.wires) {
    const [cx, cy] = atHole(view, hole);
    sheet.raw(
      `<circle data-wire="W${wire} ${holeName(hole)}" cx="${cx}" cy="${cy}" r="${isHeavy(net) ? 7 : 5.5}" fill="#eef4fa" stroke="${wireColour}" stroke-width="2.2"/>`,
    );
  }
}

function sheetOf(view: View, side: string, [number, of]: readonly [number, number]): Sheet {
  const { board } = view;
  const title = `${board.title}, ${side}`;
  const [width, height] = [LEFT * 2 + board.columns * PIXELS, TOP + board.rows * PIXELS + 150];
  const sheet = new Sheet({ title, number, of, width, height });
  sheet.text(50, 64, `Strip board: ${title}${view.isMirrored ? ', mirrored' : ''}`, { size: 20, bold: true });
  return sheet;
}

/** Seen from above: parts, links, ends of wires. Crosses are cuts, on the other side. */
export function stripPartsSheet(board: StripBoard, number: number, of: number): Sheet {
  const view = { board, isMirrored: false };
  const sheet = sheetOf(view, 'parts side', [number, of]);
  grid(sheet, view);
  cuts(sheet, view);
  drilled(sheet, view);
  for (const part of board.parts.filter(({ reference }) => !isPad(reference))) body(sheet, view, part);
  links(sheet, view);
  wireEnds(sheet, view);
  for (const part of board.parts) {
    leads(sheet, view, part);
    if (!isPad(part.reference)) marks(sheet, view, part);
  }
  const placer = new LabelPlacer(sheet);
  for (const part of board.parts)
    for (const { hole } of part.terminals) placer.keepOff(atHole(view, hole), 4);
  for (const { from, to } of board.links)
    for (const hole of [from, to]) placer.keepOff(atHole(view, hole), 5);
  for (const { hole } of board.wires) placer.keepOff(atHole(view, hole), 7);
  for (let row = 0; row < board.rows; row += 1)
    for (const at of letterColumns(board)) placer.keepOff([at, y(row)], 18);
  for (const hole of fixings) placer.keepOff(atHole(view, hole), 17);
  names(view, placer);
  sheet.note(50, TOP + board.rows * PIXELS + 50, [
    'Square: pin 1 (K16: A1). Band: cathode. +: plus. Blue line: link, thick ones 0.75 mm². Blue ring: wire to another board or to a socket. Large ring in a corner: 3.2 mm, pillar.',
    'Cross: the strip is cut under this hole. Red shade: the strip is taken off whole. All cuts first, then links, then parts.',
  ]);
  return sheet;
}

/** Seen from below, mirrored: strips, cuts, every soldered hole. */
export function stripCopperSheet(board: StripBoard, number: number, of: number): Sheet {
  const view = { board, isMirrored: true };
  const sheet = sheetOf(view, 'copper side', [number, of]);
  grid(sheet, view);
  cuts(sheet, view);
  drilled(sheet, view);
  for (const part of board.parts) leads(sheet, view, part);
  for (const { from, to } of board.links)
    for (const hole of [from, to]) {
      const [cx, cy] = atHole(view, hole);
      sheet.raw(
        `<circle cx="${cx}" cy="${cy}" r="4.5" fill="#ffffff" stroke="${wireColour}" stroke-width="2"/>`,
      );
    }
  wireEnds(sheet, view);
  sheet.note(50, TOP + board.rows * PIXELS + 50, [
    'Column 1 is on the right here. Crossed ring: cut. Red shade: strip taken off. Black: lead of a part. Blue: link or wire. Large ring in a corner: 3.2 mm, pillar.',
    'Hold the board to the light after cutting and count again: a cut that leaves a hair of copper is no cut.',
  ]);
  return sheet;
}
