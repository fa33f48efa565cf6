import { heading, paragraph, type Block, type Section } from './block';
import { INK, rule, textAt, type Font, type Item } from './items';
import { wrapped, type Letters } from './letters';

export type Column = {
  readonly title: string;
  readonly align?: 'end';
  readonly font?: Font;
  /** So much more room before it: where the second half of a table begins. */
  readonly apart?: number;
};

/** A row of texts; `isFaint`: it does not count. */
export type Row = { readonly cells: readonly string[]; readonly isFaint?: boolean };

export type Table = {
  readonly title: string;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  /** Said below the rows. */
  readonly note?: string;
  readonly isWhole?: true;
};

const SIZE = 11;
const HEAD_SIZE = 10;
const LINE = 13.4;
const PAD = 2.6;
const GAP = 10;
/** Between many short columns. */
const NARROW_GAP = 6;
const MANY_COLUMNS = 8;
const gapOf = ({ length }: readonly unknown[]): number => (length >= MANY_COLUMNS ? NARROW_GAP : GAP);
const apartOf = (columns: readonly Column[]): number =>
  columns.reduce((sum, { apart = 0 }) => sum + apart, 0);

type Measured = Table & {
  readonly letters: Letters;
  readonly width: number;
  readonly widths: readonly number[];
};

/**
 * Widths of the columns: each as wide as its widest text while there is room; then the widest give way, and their texts
 * are broken into lines.
 */
function widthsOf(letters: Letters, { columns, rows }: Table, width: number): number[] {
  const natural = columns.map(({ title, font = 'text' }, index) =>
    Math.max(
      letters.widthOf(title, 'text', HEAD_SIZE),
      ...rows.map(({ cells }) => letters.widthOf(cells[index] ?? '', font, SIZE)),
    ),
  );
  const room = width - gapOf(columns) * (columns.length - 1) - apartOf(columns);
  const total = natural.reduce((sum, each) => sum + each, 0);
  if (total <= room) {
    const spare = room - total;
    return natural.map((each, index) =>
      index === 0
        ? each + spare * share(columns.length)
        : each + (spare * (1 - share(columns.length))) / Math.max(1, columns.length - 1),
    );
  }
  const most = capFor(natural, room);
  return natural.map((each) => Math.min(each, most));
}

/** What is left over goes to the columns evenly, so that figures stand near what they are of. */
const share = (count: number): number => 1 / Math.max(1, count);

/** The width above which columns give way so that all fit. Source: bisection. */
function capFor(natural: readonly number[], room: number): number {
  let [low, high] = [0, Math.max(...natural)];
  for (let turn = 0; turn < 40; turn += 1) {
    const cap = (low + high) / 2;
    const sum = natural.reduce((total, each) => total + Math.min(each, cap), 0);
    if (sum > room) high = cap;
    else low = cap;
  }
  return low;
}

const startsOf = (widths: readonly number[], columns: readonly Column[]): number[] =>
  widths.map((_, index) =>
    widths
      .slice(0, index)
      .reduce((sum, each) => sum + each + gapOf(widths), apartOf(columns.slice(0, index + 1))),
  );

type Line = {
  readonly cells: readonly string[];
  readonly size: number;
  readonly colour: string;
  readonly isHead: boolean;
};

function rowBlock(
  { letters, columns, widths, width }: Measured,
  { cells, size, colour, isHead }: Line,
): Block {
  const starts = startsOf(widths, columns);
  const texts = columns.map(({ font = 'text' }, index) =>
    wrapped(cells[index] ?? '', {
      letters,
      font: isHead ? 'text' : font,
      size,
      width: (widths[index] ?? 0) + 0.01,
    }),
  );
  const lines = Math.max(1, ...texts.map(({ length }) => length));
  const height = lines * LINE + 2 * PAD;
  const items: Item[] = columns.flatMap(({ align, font = 'text' }, index) =>
    (texts[index] ?? []).map((text, at) =>
      textAt(
        (starts[index] ?? 0) + (align === 'end' ? (widths[index] ?? 0) : 0),
        PAD + size + (LINE - size) / 2 - 1 + at * LINE,
        text,
        { size, colour, font: isHead ? 'text' : font, anchor: align ?? 'start' },
      ),
    ),
  );
  return { height, items: [...items, rule([0, height], width, 0.7, isHead ? INK.ink : INK.rule)] };
}

function noteBlock(letters: Letters, text: string, width: number): Block {
  const words = paragraph(letters, { text, width, size: HEAD_SIZE + 0.5, colour: INK.soft });
  return { height: words.height + PAD, items: [{ kind: 'group', x: 0, y: PAD, items: words.items }] };
}

/** A table as a section: its heading with the titles of the columns, and a block a row. */
export function tableSection(letters: Letters, table: Table, width: number): Section {
  const measured: Measured = { ...table, letters, width, widths: widthsOf(letters, table, width) };
  const hasTitles = table.columns.some(({ title }) => title !== '');
  const titles = rowBlock(measured, {
    cells: table.columns.map(({ title }) => title),
    size: HEAD_SIZE,
    colour: INK.soft,
    isHead: true,
  });
  const headed = (title: string): Block => {
    const head = heading(letters, title, width);
    if (!hasTitles) return head;
    return {
      height: head.height + titles.height,
      items: [...head.items, { kind: 'group', x: 0, y: head.height, items: titles.items }],
    };
  };
  return {
    head: headed(table.title),
    again: headed(`${table.title} (continued)`),
    ...(table.isWhole === undefined ? {} : { isWhole: table.isWhole }),
    rows: [
      ...table.rows.map(({ cells, isFaint }) =>
        rowBlock(measured, {
          cells,
          size: SIZE,
          colour: isFaint === true ? INK.soft : INK.ink,
          isHead: false,
        }),
      ),
      ...(table.note === undefined || table.note === '' ? [] : [noteBlock(letters, table.note, width)]),
    ],
  };
}
