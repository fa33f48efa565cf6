import type { Refused } from '../result';
import { commaEvidence, hasDecimalPoint, isTwoWayComma, measuredNumber, type CommaMeaning } from './number';

/** One filled cell. */
export type Cell = { readonly text: string; readonly isQuoted: boolean };
/** `row` is the line of the text it starts on, as a spreadsheet or an editor counts; `text` the line as it was written. */
export type Row = { readonly row: number; readonly cells: readonly Cell[]; readonly text: string };

export type Separator = ',' | ';' | '\t' | ' ';

export type Table = {
  readonly kind: 'table';
  readonly separator: Separator;
  /** Undefined where the first row holds numbers already. */
  readonly heading: Row | undefined;
  readonly rows: readonly Row[];
  readonly comma: CommaMeaning;
  /** A cell whose comma may be either, where only the semicolons between columns told how to read it. */
  readonly commaTakenFor: string | undefined;
};

export type TableRefusal = Refused<'TABLE_EMPTY' | 'TABLE_QUOTE_OPEN' | 'TABLE_TOO_LONG'> & {
  readonly row?: number;
};

/** More than any sweep or bath yields, and what a fit still does in seconds. */
export const MOST_ROWS = 10_000;

/** As many rows of 800 characters each. Cells take twenty times the room of their text. */
const MOST_CHARACTERS = 8 * 2 ** 20;

/** A text that is no table of a gauge or a sender by its size alone; undefined where it may be one. */
export const tooLargeText = (text: string): TableRefusal | undefined =>
  text.length > MOST_CHARACTERS
    ? refused(
        'TABLE_TOO_LONG',
        `there are ${Math.round(text.length / 2 ** 20)} million characters; a table of a gauge or a sender has far fewer`,
      )
    : undefined;

/**
 * Splits a table as it comes from a spreadsheet, a data sheet or a notebook: tab, semicolon, comma or spaces between the
 * columns (whichever its first line uses), quoted fields, `#` remarks and blank lines left out, a byte order mark and any
 * line ending understood. How its commas are meant is judged by all of its cells before any of them is read.
 * Refuses: TABLE_EMPTY, TABLE_QUOTE_OPEN (a quote never closed), TABLE_TOO_LONG (more than MOST_ROWS rows, or too large
 * to be a table at all).
 */
export function tableFromText(given: string): Table | TableRefusal {
  const large = tooLargeText(given);
  if (large !== undefined) return large;
  const text = given.replace(/^\ufeff/, '');
  const separator = separatorOf(text);
  if (separator === undefined)
    return refused('TABLE_EMPTY', 'the file is empty; its first line must name the columns');
  const split = rowsOf(text, separator);
  if ('kind' in split) return split;
  const [first, ...rest] = split;
  if (first === undefined)
    return refused('TABLE_EMPTY', 'the file is empty; its first line must name the columns');
  const isHeading = first.cells.every((cell) => cell.text === '' || !isNumber(cell.text));
  const rows = isHeading ? rest : split;
  const excess = rows[MOST_ROWS];
  if (excess !== undefined) {
    const message = `there are ${rows.length} rows; at most ${MOST_ROWS} can be used: thin them out`;
    return refused('TABLE_TOO_LONG', message, excess.row);
  }
  return {
    kind: 'table',
    separator,
    heading: isHeading ? first : undefined,
    rows,
    ...commaOf(separator, rows),
  };
}

const refused = (code: TableRefusal['code'], message: string, row?: number): TableRefusal => ({
  kind: 'refused',
  code,
  message,
  ...(row === undefined ? {} : { row }),
});

const isNumber = (text: string): boolean => {
  const read = measuredNumber(text);
  return read.kind === 'number' || read.code === 'TYPED_AMBIGUOUS' || read.code === 'TYPED_TOO_LARGE';
};

/** `#REF!`, `#N/A`, `#WERT!`: what a spreadsheet writes in the first cell of a row is no remark, and the row is not lost. */
const SPREADSHEET_ERROR = /^#(?:[\p{Lu}/0]+[!?]|N\/A|NV)\s*(?:[,;\t]|$)/u;

const isRemark = (line: string): boolean => line.startsWith('#') && !SPREADSHEET_ERROR.test(line);

const isContent = (line: string): boolean => line.trim() !== '' && !isRemark(line.trim());

/** The first lines with anything on them; no more of the text is split than is looked at. */
function firstLines(text: string, most: number): string[] {
  const found: string[] = [];
  for (let at = 0; at < text.length && found.length < most;) {
    const end = endOfLine(text, at);
    const line = text.slice(at, end);
    if (isContent(line)) found.push(line.replace(/"[^"]*"/g, '""'));
    at = end + 1;
  }
  return found;
}

/** Tab before semicolon before comma: a first line may hold the later ones inside a name, hardly the earlier ones. */
function separatorOf(text: string): Separator | undefined {
  const [first, second] = firstLines(text, 2);
  if (first === undefined) return undefined;
  const strong = (['\t', ';'] as const).find((mark) => first.includes(mark));
  if (strong !== undefined) return strong;
  if (spacesPart(first)) return ' ';
  if (first.includes(',')) return ',';
  // A heading of one line of words: its data tell whether spaces part them.
  return /\s/.test(first.trim()) && second !== undefined && spacesPart(second) ? ' ' : ',';
}

/** True where the words of a line are whole numbers and units by themselves: `40 °C 1200 ohm`, `40,5 1200`. */
function spacesPart(line: string): boolean {
  const words = withoutRemark(line).trim().split(/\s+/);
  const numbers = words.filter(isNumber).length;
  return numbers >= 2 && !words.some((word) => word.endsWith(','));
}

type Rows = Row[] | TableRefusal;

function rowsOf(text: string, separator: Separator): Rows {
  const rows: Row[] = [];
  const place: Place = { at: 0, row: 1 };
  while (place.at < text.length) {
    const startRow = place.row;
    const startAt = place.at;
    const lineEnd = endOfLine(text, place.at);
    const line = text.slice(place.at, lineEnd);
    if (!isContent(line)) {
      step(text, place, lineEnd);
      continue;
    }
    if (separator === ' ') step(text, place, lineEnd);
    const cells = separator === ' ' ? spacedCells(line) : readRow({ text, separator }, place);
    if (cells === undefined)
      return refused('TABLE_QUOTE_OPEN', 'a quote is opened and never closed', startRow);
    const written = text.slice(startAt, place.at).replace(/[\r\n]+$/, '');
    if (cells.some((cell) => cell.text !== '')) rows.push({ row: startRow, cells, text: written });
  }
  return rows;
}

type Source = { readonly text: string; readonly separator: Separator };
type Place = { at: number; row: number };

function endOfLine(text: string, from: number): number {
  // A slice would copy the rest of the text for every line.
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

/** The cells of a row, undefined where a quote is never closed. */
function readRow(source: Source, place: Place): Cell[] | undefined {
  const cells: Cell[] = [];
  for (;;) {
    const cell = readCell(source, place);
    if (cell === undefined) return undefined;
    const mark = source.text[place.at];
    if (mark === source.separator) {
      cells.push(cell);
      place.at += 1;
      continue;
    }
    cells.push(cell.isQuoted ? cell : { ...cell, text: withoutRemark(cell.text) });
    if (mark !== undefined) step(source.text, place, place.at);
    return cells;
  }
}

/** A remark behind the last figure; what a spreadsheet writes for an error is none. */
const withoutRemark = (text: string): string => {
  const at = /\s#/.exec(text)?.index;
  if (at === undefined || SPREADSHEET_ERROR.test(text.slice(at + 1))) return text;
  return text.slice(0, at).trim();
};

function readCell(source: Source, place: Place): Cell | undefined {
  const { text } = source;
  const quoted = /^[^\S\t\r\n]*"/.exec(text.slice(place.at, place.at + 20));
  if (quoted !== null) {
    place.at += quoted[0].length;
    const content = readQuoted(source, place);
    return content === undefined ? undefined : { text: content, isQuoted: true };
  }
  const from = place.at;
  toEndOfCell(source, place);
  return { text: text.slice(from, place.at).trim(), isQuoted: false };
}

function readQuoted(source: Source, place: Place): string | undefined {
  const { text } = source;
  let content = '';
  for (;;) {
    const mark = text[place.at];
    if (mark === undefined) return undefined;
    place.at += 1;
    if (mark === '"') {
      if (text[place.at] !== '"') break;
      place.at += 1;
    }
    if (mark === '\n') place.row += 1;
    content += mark;
  }
  const after = place.at;
  toEndOfCell(source, place);
  return `${content}${text.slice(after, place.at)}`.trim();
}

function toEndOfCell({ text, separator }: Source, place: Place): void {
  for (let mark = text[place.at]; mark !== undefined; mark = text[place.at]) {
    if (mark === '\r' || mark === '\n' || mark === separator) return;
    place.at += 1;
  }
}

/** Words of a line parted by spaces; a unit joins the figure before it, a bracket the word before it. */
function spacedCells(line: string): Cell[] {
  const bare = withoutRemark(line).trim();
  const wide = bare.split(/\s{2,}/);
  const words = wide.length > 1 && !wide.some(spacesPart) ? wide : bare.split(/\s*,\s+|\s+/);
  const joined = words.reduce<string[]>((cells, word) => {
    const before = cells.at(-1);
    const isUnit = before !== undefined && isNumber(before) && !isNumber(word);
    if (before !== undefined && (isUnit || /^[([]/.test(word))) cells.splice(-1, 1, `${before} ${word}`);
    else cells.push(word);
    return cells;
  }, []);
  return joined.map((text) => ({
    text: text.replace(/^"(.*)"$/, '$1').trim(),
    isQuoted: text.startsWith('"'),
  }));
}

/** A semicolon between columns is what spreadsheets use where the comma is the decimal mark. */
function commaOf(separator: Separator, rows: readonly Row[]): Pick<Table, 'comma' | 'commaTakenFor'> {
  const cells = rows.flatMap((row) => row.cells.map(({ text }) => text));
  const evidence = new Set(cells.map(commaEvidence));
  const settled = (comma: CommaMeaning) => ({ comma, commaTakenFor: undefined });
  // Both ways in one table: none of them is believed, every doubtful cell is asked about.
  if (evidence.has('decimal') && evidence.has('thousands')) return settled('unknown');
  if (evidence.has('decimal')) return settled('decimal');
  if (evidence.has('thousands')) return settled('thousands');
  const hasPoint = cells.some(hasDecimalPoint);
  if (separator !== ';') return settled(hasPoint ? 'thousands' : 'unknown');
  if (hasPoint) return settled('unknown');
  return { comma: 'decimal', commaTakenFor: cells.find(isTwoWayComma) };
}
