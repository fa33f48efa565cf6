import { typedNumber } from '../../core/typed-number';
import { kilohms, ohmWords, unitInWords, withoutUnit } from './table-words';

export type PastedPoint = { readonly row: number; readonly value: number; readonly resistanceOhm: number };
/** A row that was not understood: where, what it says, what to do. `column` is left out when the whole row is meant. */
export type PastedProblem = {
  readonly row: number;
  readonly column?: number;
  readonly text: string;
  readonly message: string;
};
export type Pasted = {
  readonly points: readonly PastedPoint[];
  readonly problems: readonly PastedProblem[];
  /** Unit the heading names for the values, where it names one. */
  readonly unit: string | undefined;
  /** What is left to mend: the heading and every row that was not understood, as they were written. */
  readonly rest: string;
};

type Row = { readonly row: number; readonly text: string; readonly cells: readonly string[] };
type Columns = { readonly value: number; readonly ohm: number; readonly ohmFactor: number };

export const MOST_ROWS = 500;

/**
 * Reads a table as it comes from a spreadsheet, a datasheet or a notebook: tab, semicolon, comma or spaces between the
 * columns, figures in quotes or not, units behind figures or not. A heading says which columns are meant, and in which
 * unit; without one there must be two columns, the value first. No row is ever dropped without a word.
 */
export function pastedPoints(text: string): Pasted {
  const all = text
    .split(/\r\n|\r|\n/)
    .map((line, index): Row => ({ row: index + 1, text: line, cells: cellsOf(line) }))
    .filter(({ cells }) => cells.length > 0);
  const heading = all[0] !== undefined && all[0].cells.every(isWord) ? all[0] : undefined;
  const data = heading === undefined ? all : all.slice(1);
  const columns = columnsOf(heading?.cells);
  const read = data.slice(0, MOST_ROWS).map((row) => pointOf(row, columns, heading !== undefined));
  const tooMany = data.slice(MOST_ROWS).map(({ row, text: line }): PastedProblem => ({
    row,
    text: line,
    message: `only ${MOST_ROWS} rows are taken at once: add those, then come back for this one`,
  }));
  const problems = [...read.filter((each) => 'message' in each), ...tooMany];
  const left = problems.map((each) => each.text);
  return {
    points: read.filter((each) => 'value' in each),
    problems,
    unit: heading === undefined ? undefined : unitInWords(heading.cells[columns.value] ?? ''),
    rest: left.length === 0 || heading === undefined ? left.join('\n') : [heading.text, ...left].join('\n'),
  };
}

const isWord = (cell: string): boolean => typedNumber(withoutUnit(cell)).kind === 'refused';

/** Cells of a line; what stands in double quotes is one cell, whatever is in it. A unit on its own joins its figure. */
function cellsOf(line: string): string[] {
  const bare = line.replace(/#.*$/, '').trim();
  const quoted = [...bare.matchAll(/"((?:[^"]|"")*)"/g)].map((match) =>
    (match[1] ?? '').replaceAll('""', '"'),
  );
  const marked = bare.replace(/"(?:[^"]|"")*"/g, '\u0000');
  const split = marked.includes('\t')
    ? /\t/
    : marked.includes(';')
      ? /;/
      : /\s/.test(marked.replace(/,\s+/g, ','))
        ? /[,\s]\s*/
        : /,\s*/;
  const cells = marked
    .split(split)
    .map((cell) => cell.replaceAll('\u0000', () => quoted.shift() ?? '').trim())
    .filter((cell) => cell !== '');
  return cells.reduce<string[]>((joined, cell) => {
    const before = joined.at(-1);
    const isUnit = before !== undefined && /\d/.test(before) && withoutUnit(`1${cell}`) === '1';
    const isKilo = before !== undefined && /\d$/.test(before) && kilohms(cell) && !/\d/.test(cell);
    if (isUnit || isKilo) joined.splice(-1, 1, `${before}${cell}`);
    else joined.push(cell);
    return joined;
  }, []);
}

function columnsOf(heading: readonly string[] | undefined): Columns {
  if (heading === undefined) return { value: 0, ohm: 1, ohmFactor: 1 };
  const found = heading.findIndex(ohmWords);
  const ohm = found < 0 ? 1 : found;
  const named = heading.findIndex((cell, index) => index !== ohm && unitInWords(cell) !== undefined);
  const value = named >= 0 ? named : ohm === 0 ? 1 : 0;
  return { value, ohm, ohmFactor: kilohms(heading[ohm] ?? '') ? 1000 : 1 };
}

function pointOf(
  { row, text, cells }: Row,
  columns: Columns,
  hasHeading: boolean,
): PastedPoint | PastedProblem {
  const wrong = (message: string, column?: number): PastedProblem => ({
    row,
    text,
    message,
    ...(column === undefined ? {} : { column: column + 1 }),
  });
  const first = cells[columns.value];
  const second = cells[columns.ohm];
  if (first === undefined || second === undefined)
    return wrong('two figures are needed, the value and the ohms: add what is missing');
  if (!hasHeading && cells.length > 2) {
    return wrong(
      `${cells.length} figures and no heading: put a heading above that names the ohms, or semicolons between the columns`,
    );
  }
  const value = typedNumber(withoutUnit(first));
  const ohm = typedNumber(withoutUnit(second));
  if (value.kind === 'refused') return wrong(value.message, columns.value);
  if (ohm.kind === 'refused') return wrong(ohm.message, columns.ohm);
  if (ohm.value < 0) return wrong(`${ohm.value} ohm: a resistance is never negative`, columns.ohm);
  return { row, value: value.value, resistanceOhm: ohm.value * columns.ohmFactor };
}
