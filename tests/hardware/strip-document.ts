/** Reads strip-board.md as a builder does: lists of cuts, links, leads and wires. It knows nothing of the program that wrote it. */

export type Spot = { readonly board: string; readonly row: number; readonly column: number };
export type Lead = { readonly ref: string; readonly pin: string; readonly spot: Spot };
export type Join = {
  readonly what: string;
  readonly from: Spot;
  readonly to: Spot;
  readonly isHeavy: boolean;
};
export type StripDocument = {
  readonly leads: readonly Lead[];
  /** Holes where the strip is gone, cut or taken off. */
  readonly gone: readonly Spot[];
  readonly cuts: readonly Spot[];
  readonly joins: readonly Join[];
};

export const BOARDS = ['power', 'path', 'meter'] as const;
export const ROWS = 36;
export const COLUMNS = 60;

/** 'C12' of a board: third strip, twelfth hole, both counted from 0. Throws for what is no hole of the board. */
export function spotOf(board: string, name: string): Spot {
  const match = /^(A?)([A-Z])([1-9]\d?)$/.exec(name);
  const row = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ'.indexOf(match?.[2] ?? '?') + (match?.[1] === 'A' ? 26 : 0);
  const column = Number(match?.[3]) - 1;
  if (match === null || row >= ROWS || column >= COLUMNS) throw new Error(`no hole of the board: ${name}`);
  return { board, row, column };
}

const tableIn = (text: string, name: string): string => {
  const found = new RegExp(`<!-- table: ${name} -->([\\s\\S]*?)<!-- end -->`).exec(text)?.[1];
  if (found === undefined) throw new Error(`strip-board.md has no table ${name}`);
  return found;
};

const rowsIn = (text: string, name: string): string[][] =>
  [...tableIn(text, name).matchAll(/^\| (.+) \|$/gm)].map((match) => (match[1] ?? '').split(' | ')).slice(2);

function leadsIn(text: string, board: string): Lead[] {
  return rowsIn(text, `strip-${board}-parts`).flatMap(([ref = '', , list = '']) =>
    list.split(', ').map((item) => {
      const words = item.split(' ');
      const first = words[0] ?? '';
      const pin = first === '+' ? '1' : first === '−' ? '2' : first;
      const [of, own] = pin.includes('.') ? pin.split('.') : [ref, pin];
      return { ref: of ?? '', pin: own ?? '', spot: spotOf(board, words.at(-1) ?? '') };
    }),
  );
}

function goneIn(text: string, board: string): { cuts: Spot[]; stripped: Spot[] } {
  const [list = '', whole = ''] = tableIn(text, `strip-${board}-cuts`).split('Strip taken off whole:');
  const cuts = [...list.matchAll(/\b(A?[A-Z]\d+)\b/g)].map(([name]) => spotOf(board, name));
  const stripped = [...whole.matchAll(/(A?[A-Z]\d+) to (A?[A-Z]\d+)/g)].flatMap(([, one = '', two = '']) => {
    const [from, to] = [spotOf(board, one), spotOf(board, two)];
    if (from.row !== to.row) throw new Error(`${one} to ${two}: not one strip`);
    return Array.from({ length: to.column - from.column + 1 }, (_, index) => ({
      ...from,
      column: from.column + index,
    }));
  });
  return { cuts, stripped };
}

const linksIn = (text: string, board: string): Join[] =>
  rowsIn(text, `strip-${board}-links`).map(([from = '', to = '', net = '', wire = '']) => ({
    what: `link ${from} to ${to} (${net})`,
    from: spotOf(board, from),
    to: spotOf(board, to),
    isHeavy: wire.startsWith('0.75'),
  }));

const wiresIn = (text: string): Join[] =>
  rowsIn(text, 'strip-wires').map(([name = '', net = '', from = '', to = '', wire = '']) => {
    const end = (place: string): Spot => spotOf(place.split(' ')[0] ?? '', place.split(' ')[1] ?? '');
    return { what: `${name} (${net})`, from: end(from), to: end(to), isHeavy: wire.startsWith('0.75') };
  });

/** All that the document says of the three boards. */
export function readStripDocument(text: string): StripDocument {
  const each = BOARDS.map((board) => goneIn(text, board));
  return {
    leads: BOARDS.flatMap((board) => leadsIn(text, board)),
    cuts: each.flatMap(({ cuts }) => cuts),
    gone: each.flatMap(({ cuts, stripped }) => [...cuts, ...stripped]),
    joins: [...BOARDS.flatMap((board) => linksIn(text, board)), ...wiresIn(text)],
  };
}

export const keyOf = ({ board, row, column }: Spot): string => `${board} ${row} ${column}`;
