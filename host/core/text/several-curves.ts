import { normalName } from '../units';
import { measuredNumber } from './number';
import { tableFromText, tooLargeText, type Row, type Separator, type TableRefusal } from './table';

/** One curve of a text, on the lines on which it stands there; what belongs to others is left blank. */
export type CurveText = {
  /** As the text calls it. */
  readonly name: string | undefined;
  readonly text: string;
};

/** Columns that say which part a row is of. */
const WHICH = new Set(['curve', 'part', 'part_number', 'specimen', 'card', 'id']);

/** Each curve stands on the lines of its text, so the work grows with both: more is split into files. */
const MOST_CURVES = 500;
const MOST_LINES = 50_000;

/**
 * The curves that stand in one text: blocks parted by blank lines, each with a heading of its own and perhaps a title above
 * it, or rows that a column (curve, part, specimen, card) tells apart. A text of one curve comes back as it is, and rows keep
 * their numbers, so that what is wrong with one is told where it stands. Refuses TABLE_TOO_LONG: more curves or lines than
 * are taken at once.
 */
export function curvesOfText(text: string): readonly CurveText[] | TableRefusal {
  const large = tooLargeText(text);
  if (large !== undefined) return large;
  if (hasMoreLines(text, MOST_LINES))
    return tooLong(`there are more than ${MOST_LINES} lines; split it into several files`);
  const lines = text.split(/\r\n|\r|\n/);
  const blocks = blocksOf(lines);
  if (blocks.length > MOST_CURVES) return tooMany(blocks.length);
  if (blocks.length > 1) return blocks.map(({ name, from, to }) => ({ name, text: only(lines, from, to) }));
  const [block] = blocks;
  const body = block?.name === undefined ? text : only(lines, block.from, block.to);
  const told = toldApart(body);
  if ('kind' in told || told.length > 0) return told;
  return [{ name: block?.name, text: body }];
}

const tooLong = (message: string): TableRefusal => ({ kind: 'refused', code: 'TABLE_TOO_LONG', message });
const tooMany = (count: number): TableRefusal =>
  tooLong(`there are ${count} curves; at most ${MOST_CURVES} are taken at once: split it into several files`);

/** Counted without splitting: a text may be larger than all its lines as strings fit. */
function hasMoreLines(text: string, most: number): boolean {
  const ends = /\r\n|\r|\n/g;
  for (let count = 0; count < most; count += 1) if (!ends.test(text)) return false;
  return true;
}

type Block = { readonly name: string | undefined; readonly from: number; readonly to: number };

const cellsOf = (line: string): string[] => line.split(/[\t;,]/).map((cell) => cell.trim());
const isFigure = (cell: string): boolean => measuredNumber(cell).kind === 'number';
const isHeading = (line: string): boolean =>
  !/^\s*#/.test(line) &&
  cellsOf(line).filter((cell) => cell !== '').length > 1 &&
  !cellsOf(line).some(isFigure);
const isTitle = (line: string): boolean => {
  const filled = cellsOf(line).filter((cell) => cell !== '');
  return filled.length === 1 && !isFigure(filled[0] ?? '') && !/^\s*#/.test(line) && !/\d\s+\d/.test(line);
};

/** Where a heading stands at the beginning or below a blank line or a title, another block begins. */
function blocksOf(lines: readonly string[]): Block[] {
  const found: { name: string | undefined; from: number; to: number }[] = [];
  lines.forEach((line, at) => {
    const above = lines[at - 1] ?? '';
    const isTitled = isTitle(above) && (lines[at - 2] ?? '').trim() === '';
    if (!isHeading(line) || !(above.trim() === '' || isTitled)) return;
    const last = found.at(-1);
    if (last !== undefined) last.to = isTitled ? at - 1 : at;
    found.push({ name: isTitled ? filledOf(above) : undefined, from: at, to: lines.length });
  });
  return found;
}

const filledOf = (line: string): string | undefined =>
  cellsOf(line)
    .find((cell) => cell !== '')
    ?.replace(/^"(.*)"$/, '$1');

/** Lines from one to another, the others blank. */
const only = (lines: readonly string[], from: number, to: number): string =>
  lines.map((line, at) => (at >= from && at < to ? line : '')).join('\n');

/** The curves that a column tells apart; none where there is no such column, or it says one thing only. */
function toldApart(text: string): CurveText[] | TableRefusal {
  const table = tableFromText(text);
  if (table.kind === 'refused' || table.heading === undefined) return [];
  const { heading, rows, separator } = table;
  const column = heading.cells.findIndex((cell) => WHICH.has(normalName(cell.text)));
  if (column < 0) return [];
  const names = [...new Set(rows.map(({ cells }) => cells[column]?.text ?? ''))];
  if (names.length > MOST_CURVES) return tooMany(names.length);
  return names.map((name) => ({
    name: name === '' ? undefined : name,
    text: written(
      [heading, ...rows.filter(({ cells }) => (cells[column]?.text ?? '') === name)],
      column,
      separator,
    ),
  }));
}

/** Rows without one of their columns, on the lines where they stood. */
function written(rows: readonly Row[], column: number, separator: Separator): string {
  const lines: string[] = [];
  const mark = separator === ' ' ? '\t' : separator;
  for (const { row, cells } of rows) {
    while (lines.length < row - 1) lines.push('');
    const kept = cells.filter((_, at) => at !== column);
    lines.push(
      kept
        .map(({ text, isQuoted }) => (isQuoted ? `"${text.replace(/"/g, '""').replace(/\s+/g, ' ')}"` : text))
        .join(mark),
    );
  }
  return lines.join('\n');
}
