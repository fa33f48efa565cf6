import { typedNumber } from '../../core/typed-number';

export type PastedPoint = { readonly row: number; readonly value: number; readonly resistanceOhm: number };
export type PastedProblem = { readonly row: number; readonly message: string };
export type Pasted = { readonly points: readonly PastedPoint[]; readonly problems: readonly PastedProblem[] };

const OHM_HEADING = /ohm|\u03a9|\u2126|resist/i;
const MOST_ROWS = 1000;

/**
 * Reads a table as it comes from a spreadsheet, a datasheet or a notebook: two columns, tab, semicolon, comma or spaces
 * between them. A heading row is passed over and says which column is the resistance; without one the value comes first.
 */
export function pastedPoints(text: string): Pasted {
  const rows = text
    .split(/\r?\n/)
    .map((line, index) => ({ row: index + 1, cells: cellsOf(line) }))
    .filter(({ cells }) => cells.length > 0)
    .slice(0, MOST_ROWS);
  const heading = rows[0] !== undefined && rows[0].cells.every(isWord) ? rows[0] : undefined;
  const isOhmFirst = heading !== undefined && OHM_HEADING.test(heading.cells[0] ?? '');
  const read = rows.filter((each) => each !== heading).map((each) => pointOf(each, isOhmFirst));
  return {
    points: read.filter((each) => 'value' in each),
    problems: read.filter((each) => 'message' in each),
  };
}

const isWord = (cell: string): boolean => typedNumber(cell).kind === 'refused';

function cellsOf(line: string): string[] {
  const bare = line.replace(/#.*$/, '').trim();
  const split = bare.includes('\t') ? /\t/ : bare.includes(';') ? /;/ : /\s/.test(bare) ? /[,\s]\s*/ : /,/;
  return bare
    .split(split)
    .map((cell) => cell.trim())
    .filter((cell) => cell !== '');
}

function pointOf(
  { row, cells }: { readonly row: number; readonly cells: readonly string[] },
  isOhmFirst: boolean,
): PastedPoint | PastedProblem {
  const [first, second] = cells;
  if (first === undefined || second === undefined)
    return { row, message: 'two figures are needed: value and ohms' };
  const value = typedNumber(isOhmFirst ? second : first);
  const ohm = typedNumber(isOhmFirst ? first : second);
  if (value.kind === 'refused') return { row, message: value.message };
  if (ohm.kind === 'refused') return { row, message: ohm.message };
  if (ohm.value < 0) return { row, message: `${ohm.value} ohm: a resistance is never negative` };
  return { row, value: value.value, resistanceOhm: ohm.value };
}
