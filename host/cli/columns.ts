import type { Cell, Grid, Row } from './csv';
import { InputError } from './input-error';
import { commaEvidence, hasTwoReadings, numberFromText, type CommaMeaning } from './number-text';
import { nearest } from './nearest';
import { differenceToCore, normalName, toCore, unitFromText, unitNames, type Unit } from './units';

/** What a column is about, apart from its unit. */
export type Stem = (typeof STEMS)[number]['stem'];

type StemRow = {
  readonly stem: string;
  readonly words: readonly string[];
  /** Units the column may be in; empty for text columns and for readings in the dial's own unit. */
  readonly family: Unit['family'] | 'dial' | 'text';
};

/** In this order: a longer name is tried before the word it contains. */
const STEMS = [
  { stem: 'u_resistance', words: ['u_resistance', 'u_r', 'u'], family: 'resistance' },
  { stem: 'u_reading', words: ['u_reading', 'u_needle'], family: 'dial' },
  { stem: 'u_temperature', words: ['u_temperature', 'u_temp', 'u_t', 'u'], family: 'temperature' },
  { stem: 'u_value', words: ['u_value', 'u_pressure', 'u_level'], family: 'dial' },
  { stem: 'resistance', words: ['resistance', 'r', 'res', ''], family: 'resistance' },
  { stem: 'reading', words: ['reading', 'needle', 'gauge', 'indicated'], family: 'dial' },
  { stem: 'temperature', words: ['temperature', 'temp', 't', ''], family: 'temperature' },
  { stem: 'pressure', words: ['pressure', 'p', ''], family: 'pressure' },
  { stem: 'level', words: ['level', 'fuel', 'fuel_level', ''], family: 'level' },
  { stem: 'supply', words: ['supply', 'voltage', 'battery'], family: 'voltage' },
  { stem: 'weight', words: ['weight'], family: 'text' },
  { stem: 'count', words: ['count', 'quantity', 'pieces'], family: 'text' },
  { stem: 'tolerance', words: ['tolerance_percent', 'tolerance'], family: 'text' },
  { stem: 'label', words: ['label', 'name', 'sender'], family: 'text' },
  { stem: 'value', words: ['value'], family: 'dial' },
  { stem: 'leg', words: ['leg', 'direction'], family: 'text' },
  { stem: 'at_stop', words: ['at_stop', 'stop', 'on_stop'], family: 'text' },
] as const satisfies readonly StemRow[];

/** A recognised column: where it stands, what its file calls it, its unit. */
export type Column = {
  readonly stem: Stem;
  readonly index: number;
  readonly title: string;
  readonly unit: Unit | undefined;
};

export type Columns = {
  readonly grid: Grid;
  readonly comma: CommaMeaning;
  readonly found: readonly Column[];
  readonly warnings: readonly string[];
};

/**
 * Recognises the header row of a file in any case, spacing and bracket style, among the `wanted` columns.
 * Refuses two columns with one meaning and a number column that does not say its unit.
 */
export function recogniseColumns(grid: Grid, wanted: readonly Stem[]): Columns {
  const place = { file: grid.file, row: grid.header.row };
  const found: Column[] = [];
  const warnings: string[] = [];
  grid.header.cells.forEach(({ text }, index) => {
    const column = recognise(text, index, wanted);
    if (column === undefined) {
      if (text !== '') warnings.push(`${grid.file}: column "${text}" is not used`);
      return;
    }
    if (column === 'no-unit') {
      throw new InputError(`this column does not say its unit; name it ${namesFor(text, wanted)}`, {
        ...place,
        column: text,
      });
    }
    const twin = found.find(({ stem }) => stem === column.stem);
    if (twin !== undefined) {
      throw new InputError(`columns "${twin.title}" and "${text}" mean the same; keep one of them`, {
        ...place,
        column: text,
      });
    }
    found.push(column);
  });
  const comma = commaOf(grid);
  return {
    grid,
    comma: comma.meaning,
    found,
    warnings: [...warnings, ...comma.warnings, ...strayCells(grid)],
  };
}

function recognise(title: string, index: number, wanted: readonly Stem[]): Column | 'no-unit' | undefined {
  const name = normalName(title);
  for (const { stem, words, family } of STEMS) {
    if (!wanted.includes(stem)) continue;
    for (const word of words) {
      const rest = word === '' ? name : afterWord(name, word);
      if (rest === undefined) continue;
      if (rest === '' && (family === 'dial' || family === 'text'))
        return { stem, index, title, unit: undefined };
      if (rest === '') return word === name && word.length > 1 ? 'no-unit' : undefined;
      const unit = unitFromText(rest);
      if (unit !== undefined && (family === 'dial' || unit.family === family))
        return { stem, index, title, unit };
    }
  }
  return undefined;
}

function afterWord(name: string, word: string): string | undefined {
  if (name === word) return '';
  return name.startsWith(`${word}_`) ? name.slice(word.length + 1) : undefined;
}

function namesFor(title: string, wanted: readonly Stem[]): string {
  const row = STEMS.find(
    ({ stem, words }) => wanted.includes(stem) && words.some((word) => word === normalName(title)),
  );
  if (row === undefined || row.family === 'dial' || row.family === 'text') return title;
  return unitNames(row.family)
    .map((unit) => `${row.stem}_${unit}`)
    .join(' or ');
}

type Comma = { readonly meaning: CommaMeaning; readonly warnings: readonly string[] };

/** A semicolon between columns is what spreadsheets use where the comma is the decimal mark. */
function commaOf(grid: Grid): Comma {
  const cells = grid.rows.flatMap((row) => row.cells.map(({ text }) => text));
  const evidence = cells.map(commaEvidence);
  const settled = (meaning: CommaMeaning): Comma => ({ meaning, warnings: [] });
  if (evidence.includes('decimal')) return settled('decimal');
  if (evidence.includes('thousands')) return settled('thousands');
  const hasPoint = grid.rows.some(hasDecimalPoint);
  if (grid.separator !== ';') return settled(hasPoint ? 'thousands' : 'unknown');
  if (hasPoint) return settled('unknown');
  const example = cells.find((text) => hasTwoReadings(text));
  if (example === undefined) return settled('decimal');
  const warning = `${grid.file}: "${example}" is read with a decimal comma, as semicolons between columns suggest`;
  return { meaning: 'decimal', warnings: [warning] };
}

const hasDecimalPoint = ({ cells }: Row): boolean => cells.some(({ text }) => /^[-+]?\d+\.\d+$/.test(text));

/** Cells beyond the header: a remark is kept out with a warning, a number is likely half of a decimal comma. */
function strayCells({ file, header, rows, separator }: Grid): string[] {
  const warnings: string[] = [];
  for (const { row, cells } of rows) {
    const stray = cells.slice(header.cells.length).filter(({ text }) => text !== '');
    if (stray.length === 0) continue;
    if (separator === ',' && stray.some(({ text }) => /^\d+$/.test(text))) {
      throw new InputError(
        `there are ${cells.length} cells where the header names ${header.cells.length} columns; with decimal commas, separate the columns by semicolons`,
        { file, row, column: String(header.cells.length + 1) },
      );
    }
    warnings.push(
      `${file}, row ${row}: "${stray.map(({ text }) => text).join(' ')}" stands beyond the last column and is not used`,
    );
  }
  return warnings;
}

/** The column of that meaning. Refuses a file without it, naming what it has and what was likely meant. */
export function requireColumn(columns: Columns, stem: Stem, properName: string): Column {
  const column = columns.found.find((candidate) => candidate.stem === stem);
  if (column !== undefined) return column;
  const titles = columns.grid.header.cells.map(({ text }) => text).filter((text) => text !== '');
  const near = nearest(properName, titles);
  const hint = near === undefined ? '' : `; rename "${near}" if that is what it means`;
  throw new InputError(
    `there is no column ${properName}; the columns are ${titles.map((title) => `"${title}"`).join(', ')}${hint}`,
    {
      file: columns.grid.file,
      row: columns.grid.header.row,
    },
  );
}

export const optionalColumn = (columns: Columns, stem: Stem): Column | undefined =>
  columns.found.find((candidate) => candidate.stem === stem);

const EMPTY_CELL: Cell = { text: '', isQuoted: false };

export const cellOf = (row: Row, column: Column): Cell => row.cells[column.index] ?? EMPTY_CELL;

function inCoreUnit({ stem, unit }: Column, value: number): number {
  if (unit === undefined) return value;
  return stem.startsWith('u_') ? differenceToCore(unit, value) : toCore(unit, value);
}

const isOhm = ({ stem }: Column): boolean => stem === 'resistance' || stem === 'u_resistance';

/** `1k2`, `4R7`, `90 ohm`; an exponent (`1e3`) is no such letter. */
const SHORTHAND = /[kmr\u03a9\u2126]|ohm/iu;

/** Collects the bad cells of a file, so that all of them can be named at once. */
export class CellReader {
  readonly #columns: Columns;
  readonly #bad: { readonly row: number; readonly column: string; readonly why: string }[] = [];

  constructor(columns: Columns) {
    this.#columns = columns;
  }

  /** The number in a cell, brought to the unit of the computations; 0 where it is bad, which `finish` then refuses. */
  number(row: Row, column: Column, check?: (value: number) => string | undefined): number {
    const { text } = cellOf(row, column);
    const read = numberFromText(text, this.#columns.comma);
    if (read.kind === 'not-a-number')
      return this.reject(row, column, text === '' ? 'the cell is empty' : read.why);
    if (!isOhm(column) && SHORTHAND.test(text))
      return this.reject(row, column, `"${text}" is how resistances are written; this column holds none`);
    const value = inCoreUnit(column, read.value);
    const objection = check?.(value);
    return objection === undefined ? value : this.reject(row, column, `${text}: ${objection}`);
  }

  /** As `number`, undefined for an empty cell or a column the file does not have. */
  optionalNumber(
    row: Row,
    column: Column | undefined,
    check?: (value: number) => string | undefined,
  ): number | undefined {
    if (column === undefined || cellOf(row, column).text === '') return undefined;
    return this.number(row, column, check);
  }

  reject(row: Row, column: Column, why: string): number {
    this.#bad.push({ row: row.row, column: column.title, why });
    return 0;
  }

  /** Refuses the file when a cell was bad: the first in full, the others by place. */
  finish(): void {
    const [first, ...others] = this.#bad;
    if (first === undefined) return;
    const listed = others.slice(0, 5).map(({ row, column }) => `row ${row} ${column}`);
    const left = others.length - listed.length;
    const more =
      others.length === 0 ? '' : ` (also bad: ${listed.join(', ')}${left > 0 ? `, and ${left} more` : ''})`;
    throw new InputError(`${first.why}${more}`, {
      file: this.#columns.grid.file,
      row: first.row,
      column: first.column,
    });
  }
}
