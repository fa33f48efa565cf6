/**
 * A strip board as a builder sees it from the parts side: strips run from left to right, rows are lettered from the top (A to Z,
 * then AA and so on), holes are numbered from the left. Every hole is 2.54 mm from the next.
 */

export const PITCH_MM = 2.54;

/** Row and column, both from 0. */
export type Hole = readonly [row: number, column: number];

const LETTERS = 26;

/** Name of a row: A to Z, AA to AZ. */
export const rowName = (row: number): string => {
  const letter = String.fromCharCode('A'.charCodeAt(0) + (row % LETTERS));
  return row < LETTERS ? letter : `A${letter}`;
};

/** A hole as it is printed: C12. */
export const holeName = ([row, column]: Hole): string => `${rowName(row)}${column + 1}`;

/** The hole of a name. Throws for what is none. */
export function holeOf(name: string): Hole {
  const match = /^(A?)([A-Z])(\d+)$/.exec(name);
  if (match === null) throw new Error(`no hole: ${name}`);
  const [, more, letter = 'A', column] = match;
  const row = letter.charCodeAt(0) - 'A'.charCodeAt(0) + (more === 'A' ? LETTERS : 0);
  return [row, Number(column) - 1];
}

/** A terminal of a part in its hole; `number` as in the netlist. */
export type PlacedTerminal = { readonly number: string; readonly hole: Hole };
export type PlacedPart = { readonly reference: string; readonly terminals: readonly PlacedTerminal[] };
export type Link = { readonly net: string; readonly from: Hole; readonly to: Hole };
/** Copper taken off a strip over several holes, first to last. */
export type Peel = { readonly from: Hole; readonly to: Hole };
/** One end of a wire to another board or to the star point; both ends have the same number. */
export type WireEnd = { readonly wire: number; readonly net: string; readonly hole: Hole };

export type StripBoard = {
  readonly name: string;
  readonly title: string;
  readonly rows: number;
  readonly columns: number;
  readonly parts: readonly PlacedPart[];
  readonly links: readonly Link[];
  readonly cuts: readonly Hole[];
  readonly peels: readonly Peel[];
  readonly wires: readonly WireEnd[];
};

/** Holes of 3.2 mm for the pillars, on every board. */
export const fixings: readonly Hole[] = [
  [1, 1],
  [1, 58],
  [34, 1],
  [34, 58],
];
export const FIXING_MM = 3.2;

/** Sizes that any board of the usual 160 × 100 mm has room for. */
export const ROWS = 36;
export const COLUMNS = 60;

type Lines = Readonly<Record<'parts' | 'links' | 'cuts' | 'peels' | 'wires', string>>;

const linesOf = (text: string): string[] =>
  text
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '');

const pairOf = (text: string): [Hole, Hole] => {
  const [from = '', to = ''] = text.split('-');
  return [holeOf(from), holeOf(to)];
};

/** A part's line: 'U6: 1 C4, 2 D4'. */
function partOf(line: string): PlacedPart {
  const [reference = '', rest = ''] = line.split(': ');
  const terminals = rest.split(', ').map((item) => {
    const [number = '', hole = ''] = item.split(' ');
    return { number, hole: holeOf(hole) };
  });
  return { reference, terminals };
}

/** A board from its lists as they are written in the files beside this one. Throws for what it cannot read. */
export function stripBoard(name: string, title: string, lines: Lines): StripBoard {
  return {
    name,
    title,
    rows: ROWS,
    columns: COLUMNS,
    parts: linesOf(lines.parts).map(partOf),
    links: linesOf(lines.links).map((line) => {
      const [net = '', holes = ''] = line.split(': ');
      const [from, to] = pairOf(holes);
      return { net, from, to };
    }),
    cuts: linesOf(lines.cuts).flatMap((line) => line.split(' ').map(holeOf)),
    peels: linesOf(lines.peels).map((line) => {
      const [from, to] = pairOf(line);
      return { from, to };
    }),
    wires: linesOf(lines.wires).map((line) => {
      const [number = '', hole = '', ...net] = line.split(' ');
      return { wire: Number(number), hole: holeOf(hole), net: net.join(' ') };
    }),
  };
}
