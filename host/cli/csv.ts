import { InputError } from './input-error';

/** One filled cell; `row` is the line of the file it starts on, as a spreadsheet or an editor counts. */
export type Cell = { readonly text: string; readonly isQuoted: boolean };
export type Row = { readonly row: number; readonly cells: readonly Cell[] };

export type Grid = {
  readonly file: string;
  readonly separator: ',' | ';' | '\t';
  readonly header: Row;
  readonly rows: readonly Row[];
};

/** More than any sweep or bath yields, and what a fit still does in seconds. */
export const MOST_ROWS = 10_000;

const SEPARATORS = ['\t', ';', ','] as const;

/**
 * Splits CSV text: comma, semicolon or tab (whichever the header row uses), quoted fields, `#` comment lines and blank
 * lines left out, a byte order mark and any line ending understood.
 * Refuses an empty file, a quote that is never closed, a file without a header row, more than MOST_ROWS rows.
 */
export function gridFromText(file: string, text: string): Grid {
  const lines = withoutMark(text);
  const start = firstContent(lines);
  if (start === undefined)
    throw new InputError('the file is empty; its first line must name the columns', { file });
  const separator = separatorOf(start);
  const rows = rowsOf(file, lines, separator);
  const [header, ...rest] = rows;
  if (header === undefined)
    throw new InputError('the file is empty; its first line must name the columns', { file });
  if (header.cells.every(({ text: cell }) => cell === '' || /^[-+]?[\d.,]+$/.test(cell))) {
    throw new InputError(
      'the header row is missing; the first line must name the columns, with their units',
      {
        file,
        row: header.row,
      },
    );
  }
  const excess = rest[MOST_ROWS];
  if (excess !== undefined) {
    throw new InputError(`there are ${rest.length} rows; at most ${MOST_ROWS} can be used: thin them out`, {
      file,
      row: excess.row,
    });
  }
  return { file, separator, header, rows: rest };
}

const withoutMark = (text: string): string => text.replace(/^\ufeff/, '');

/** `#REF!`, `#N/A`, `#WERT!`: what a spreadsheet writes in the first cell of a row is no remark, and the row is not lost. */
const SPREADSHEET_ERROR = /^#(?:[\p{Lu}/0]+[!?]|N\/A|NV)\s*(?:[,;\t]|$)/u;

const isRemark = (line: string): boolean => line.startsWith('#') && !SPREADSHEET_ERROR.test(line);

const isContent = (line: string): boolean => line.trim() !== '' && !isRemark(line.trim());

const firstContent = (text: string): string | undefined => text.split(/\r\n|\n|\r/).find(isContent);

/** Tab before semicolon before comma: a header may hold the later ones inside a name, hardly the earlier ones. */
function separatorOf(headerLine: string): Grid['separator'] {
  const unquoted = headerLine.replace(/"[^"]*"/g, '');
  return SEPARATORS.find((mark) => unquoted.includes(mark)) ?? ',';
}

function rowsOf(file: string, text: string, separator: string): Row[] {
  const rows: Row[] = [];
  const place = { at: 0, row: 1 };
  while (place.at < text.length) {
    const startRow = place.row;
    const lineEnd = endOfLine(text, place.at);
    const line = text.slice(place.at, lineEnd);
    if (!isContent(line)) {
      step(text, place, lineEnd);
      continue;
    }
    const cells = readRow({ file, text, separator }, place);
    if (cells.some((cell) => cell.text !== '')) rows.push({ row: startRow, cells });
  }
  return rows;
}

type Source = { readonly file: string; readonly text: string; readonly separator: string };
type Place = { at: number; row: number };

function endOfLine(text: string, from: number): number {
  // A slice would copy the rest of the file for every line.
  const mark = /[\r\n]/g;
  mark.lastIndex = from;
  return mark.exec(text)?.index ?? text.length;
}

/** Moves past the line ending at `lineEnd`. */
function step(text: string, place: Place, lineEnd: number): void {
  const isPair = text.startsWith('\r\n', lineEnd);
  place.at = lineEnd + (isPair ? 2 : 1);
  place.row += 1;
}

function readRow(source: Source, place: Place): Cell[] {
  const cells: Cell[] = [];
  for (;;) {
    cells.push(readCell(source, place));
    const mark = source.text[place.at];
    if (mark === source.separator) {
      place.at += 1;
      continue;
    }
    if (mark !== undefined) step(source.text, place, place.at);
    return cells;
  }
}

function readCell(source: Source, place: Place): Cell {
  const { text, separator } = source;
  const quoted = /^[^\S\t\r\n]*"/.exec(text.slice(place.at, place.at + 20));
  if (quoted !== null) {
    place.at += quoted[0].length;
    return { text: readQuoted(source, place), isQuoted: true };
  }
  const from = place.at;
  while (place.at < text.length && !'\r\n'.includes(text[place.at]!) && text[place.at] !== separator)
    place.at += 1;
  return { text: text.slice(from, place.at).trim(), isQuoted: false };
}

function readQuoted({ file, text, separator }: Source, place: Place): string {
  const startRow = place.row;
  let content = '';
  for (;;) {
    const mark = text[place.at];
    if (mark === undefined)
      throw new InputError('a quote is opened and never closed', { file, row: startRow });
    place.at += 1;
    if (mark === '"') {
      if (text[place.at] !== '"') break;
      place.at += 1;
    }
    if (mark === '\n') place.row += 1;
    content += mark;
  }
  const after = place.at;
  while (place.at < text.length && !'\r\n'.includes(text[place.at]!) && text[place.at] !== separator)
    place.at += 1;
  return `${content}${text.slice(after, place.at)}`.trim();
}
