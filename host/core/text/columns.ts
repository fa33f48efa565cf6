import {
  differenceKeptAs,
  normalName,
  unitAtEnd,
  unitFromText,
  unitNames,
  valueKeptAs,
  type Family,
  type Unit,
} from '../units';
import type { Refused } from '../result';
import { dialHint, fractionIn } from './fraction';
import { measuredNumber, type MeasuredNumber } from './number';
import { strayCells } from './stray-cells';
import type { Cell, Row, Table } from './table';
import { twoWayPoint, twoWayPointColumns } from './two-way-points';

/** What a column is about, apart from its unit. */
export type Stem = (typeof STEMS)[number]['stem'];

type StemRow = {
  readonly stem: string;
  readonly words: readonly string[];
  /** Families of units the column may be in; `dial` for readings in the dial's own unit, `text` for words and counts. */
  readonly of: readonly Family[] | 'dial' | 'text';
};

const TEMPERATURE = ['temperature'] as const;
const PRESSURE = ['pressure'] as const;
const LEVEL = ['part', 'volume'] as const;
const RESISTANCE = ['resistance'] as const;

/** In this order: a longer name is tried before the word it contains. */
const STEMS = [
  { stem: 'u_resistance', words: ['u_resistance', 'u_r', 'u'], of: RESISTANCE },
  { stem: 'u_reading', words: ['u_reading', 'u_needle'], of: 'dial' },
  { stem: 'u_temperature', words: ['u_temperature', 'u_temp', 'u_t', 'u'], of: TEMPERATURE },
  { stem: 'u_value', words: ['u_value', 'u_pressure', 'u_level'], of: 'dial' },
  { stem: 'resistance', words: ['resistance', 'r', 'res', ''], of: RESISTANCE },
  { stem: 'reading', words: ['reading', 'needle', 'gauge', 'indicated'], of: 'dial' },
  { stem: 'temperature', words: ['temperature', 'temp', 't', ''], of: TEMPERATURE },
  { stem: 'pressure', words: ['pressure', 'p', ''], of: PRESSURE },
  { stem: 'level', words: ['level', 'fuel', 'fuel_level', ''], of: LEVEL },
  { stem: 'supply_at', words: ['supply_at'], of: 'text' },
  { stem: 'supply', words: ['supply', 'voltage', 'battery'], of: ['voltage'] },
  { stem: 'sender_volt', words: ['sender', 'sender_volt', 'lead'], of: ['voltage'] },
  { stem: 'open_volt', words: ['open', 'open_volt', 'feed'], of: ['voltage'] },
  { stem: 'when', words: ['when', 'state', 'made'], of: 'text' },
  { stem: 'second', words: ['second', 'seconds', 'second_s', 'time_s', 't_s'], of: 'text' },
  { stem: 'weight', words: ['weight'], of: 'text' },
  { stem: 'count', words: ['count', 'quantity', 'pieces'], of: 'text' },
  { stem: 'tolerance', words: ['tolerance_percent', 'tolerance'], of: 'text' },
  { stem: 'label', words: ['label', 'name', 'sender'], of: 'text' },
  { stem: 'value', words: ['value', 'arc_fraction'], of: 'dial' },
  { stem: 'leg', words: ['leg', 'direction'], of: 'text' },
  { stem: 'at_stop', words: ['at_stop', 'stop', 'on_stop'], of: 'text' },
] as const satisfies readonly StemRow[];

/** A recognised column: where it stands, what its table calls it, its unit. */
export type Column = {
  readonly stem: Stem;
  readonly index: number;
  readonly title: string;
  readonly unit: Unit | undefined;
};

/** What is wrong with a table and where; `row` as in `Row`, `column` the title of the heading. */
export type TableProblem = {
  readonly kind: 'problem';
  readonly code:
    | 'TABLE_NO_HEADING'
    | 'TABLE_UNIT_UNSAID'
    | 'TABLE_UNITS_DIFFER'
    | 'TABLE_SAME_TWICE'
    | 'TABLE_DECIMAL_COMMA'
    | 'TABLE_CELL';
  readonly message: string;
  readonly row?: number | undefined;
  readonly column?: string | undefined;
  /** The stem and the units a person may choose between, where that settles it. */
  readonly ask?: { readonly stem: Stem; readonly units: readonly string[] };
};

export type Columns = {
  readonly kind: 'columns';
  readonly table: Table;
  readonly heading: Row;
  readonly found: readonly Column[];
  readonly warnings: readonly string[];
};

/** Units a person has given for columns whose heading and cells do not settle it. */
export type SaidUnits = Partial<Record<Stem, string>>;

/** In a said unit's place: each cell in the unit it bears itself. */
export const AS_WRITTEN = 'as-written';

/**
 * Recognises the columns of a table by its heading, in any case, spacing and bracket style, among the `wanted` ones. A
 * column whose heading names no unit takes the one its cells bear, then the one a person `said`, then its `usual` one.
 * Problems: no heading, two columns with one meaning, a number column without a unit, several units in one column,
 * cells beyond the heading that look like decimal commas.
 */
export function recogniseColumns(
  table: Table,
  wanted: readonly Stem[],
  said: SaidUnits = {},
  usual: SaidUnits = {},
): Columns | TableProblem {
  const { heading } = table;
  if (heading === undefined) {
    const message = 'the header row is missing; the first line must name the columns, with their units';
    return { kind: 'problem', code: 'TABLE_NO_HEADING', message, row: table.rows[0]?.row };
  }
  const stray = strayCells(table, heading);
  if ('kind' in stray) return stray;
  const warnings = [...stray];
  const named = heading.cells.map(({ text }, index) => ({
    text,
    index,
    column: recognise(text, index, wanted),
  }));
  const found: Column[] = [];
  for (const { text, index, column } of named) {
    const meant =
      column ?? byUnitAlone(text, index, wanted, named) ?? byCells(table, { text, index }, wanted, named);
    if (meant === undefined) {
      if (text !== '') warnings.push(`column "${text}" is not used`);
      continue;
    }
    const settled = withUnit(table, meant, { said, usual }, heading.row);
    if ('kind' in settled) return settled;
    const twin = found.find(({ stem }) => stem === settled.stem);
    if (twin !== undefined) {
      const message = `columns "${twin.title}" and "${text}" mean the same; keep one of them`;
      return { kind: 'problem', code: 'TABLE_SAME_TWICE', message, row: heading.row, column: text };
    }
    found.push(settled);
  }
  if (table.commaTakenFor !== undefined)
    warnings.push(
      `"${table.commaTakenFor}" is read with a decimal comma, as semicolons between columns suggest`,
    );
  return { kind: 'columns', table, heading, found, warnings };
}

function recognise(title: string, index: number, wanted: readonly Stem[]): Column | undefined {
  const name = normalName(title);
  for (const { stem, words, of } of STEMS) {
    if (!wanted.includes(stem)) continue;
    for (const word of words) {
      const rest = word === '' ? name : afterWord(name, word);
      if (rest === undefined || (word === '' && rest === '')) continue;
      if (rest === '') return { stem, index, title, unit: undefined };
      const unit = unitFromText(rest);
      if (unit !== undefined && of !== 'text' && (of === 'dial' || isOf(of, unit)))
        return { stem, index, title, unit };
    }
  }
  return undefined;
}

/** A dial's column may be in any unit that is no resistance. */
const isIn = (of: readonly Family[] | 'dial', unit: Unit): boolean =>
  of === 'dial' ? unit.family !== 'resistance' : isOf(of, unit);

const isOf = (families: readonly Family[], unit: Unit): boolean => families.includes(unit.family);

const isNoMeasurand = (title: string): boolean =>
  /tolerance|error|uncertainty|diff|delta|power|^no_/.test(normalName(title));

/** A heading in words of another language or another trade, known by its unit: `Temperatur °C`, `Widerstand Ω`. */
function byUnitAlone(
  title: string,
  index: number,
  wanted: readonly Stem[],
  named: readonly { readonly text: string; readonly column: Column | undefined }[],
): Column | undefined {
  const unit = unitAtEnd(title);
  if (unit === undefined) return undefined;
  const isMeant = ({ stem, of }: StemRow): boolean =>
    typeof of !== 'string' &&
    isOf(of, unit) &&
    !stem.startsWith('u_') &&
    wanted.some((each) => each === stem);
  const row = STEMS.find(isMeant);
  if (row === undefined || isNoMeasurand(title)) return undefined;
  const rivals = named.filter(
    ({ text, column }) =>
      column?.stem === row.stem || (column === undefined && unitAtEnd(text)?.family === unit.family),
  );
  return rivals.length === 1 ? { stem: row.stem, index, title, unit } : undefined;
}

/** A heading in words of another language, known by the one unit that every cell below it bears: `Temperatur`. */
function byCells(
  table: Table,
  { text, index }: { readonly text: string; readonly index: number },
  wanted: readonly Stem[],
  named: readonly { readonly column: Column | undefined }[],
): Column | undefined {
  const units = table.rows.map(({ cells }) => {
    const cell = cells[index]?.text ?? '';
    return cell === '' ? undefined : unitAtEnd(cell);
  });
  const families = new Set(units.map((unit) => unit?.family));
  const [family] = families;
  if (families.size !== 1 || family === undefined || isNoMeasurand(text)) return undefined;
  const row = STEMS.find(
    ({ stem, of }: StemRow) =>
      typeof of !== 'string' &&
      of.includes(family) &&
      !stem.startsWith('u_') &&
      wanted.some((each) => each === stem),
  );
  const isTaken = named.some(({ column }) => column?.stem === row?.stem);
  return row === undefined || isTaken ? undefined : { stem: row.stem, index, title: text, unit: undefined };
}

function afterWord(name: string, word: string): string | undefined {
  if (name === word) return '';
  return name.startsWith(`${word}_`) ? name.slice(word.length + 1) : undefined;
}

const stemRow = (stem: Stem): StemRow | undefined => STEMS.find((row) => row.stem === stem);

/** The units that stand in the cells of a column, with the row each is first seen in. */
function unitsInCells({ rows }: Table, { index, stem }: Column): ReadonlyMap<Unit | undefined, number> {
  const family = familyOf(stem);
  const seen = new Map<Unit | undefined, number>();
  for (const { row, cells } of rows) {
    const read = measuredNumber(cells[index]?.text ?? '', { family });
    if (read.kind === 'refused' || read.isShorthand === true || seen.has(read.unit)) continue;
    seen.set(read.unit, row);
  }
  return seen;
}

function familyOf(stem: Stem): Family | undefined {
  const of = stemRow(stem)?.of;
  return of === undefined || typeof of === 'string' ? undefined : of[0];
}

/** The column with the one unit it is in: by its heading, by its cells, by what a person said; else what to ask. */
type Given = { readonly said: SaidUnits; readonly usual: SaidUnits };

function withUnit(
  table: Table,
  column: Column,
  { said, usual }: Given,
  headingRow: number,
): Column | TableProblem {
  const of = stemRow(column.stem)?.of;
  if (of === 'text' || of === undefined) return column;
  const seen = unitsInCells(table, column);
  const inCells = [...seen.keys()].flatMap((unit) => (unit === undefined || !isIn(of, unit) ? [] : unit));
  const answer = said[column.stem];
  if (answer === AS_WRITTEN) return { ...column, unit: column.unit ?? inCells[0] };
  const chosen = answer === undefined ? undefined : unitFromText(answer);
  if (chosen !== undefined) return { ...column, unit: chosen };
  const units = [...new Set([...(column.unit === undefined ? [] : [column.unit]), ...inCells])];
  const other = units[1];
  // Bare ohms among kilohms: nobody can tell which a bare figure is.
  const isHalfSaid =
    column.unit === undefined && seen.has(undefined) && units[0]?.name !== 'ohm' && isOhm(column);
  if (other !== undefined || (isHalfSaid && units[0] !== undefined)) {
    const names = units.map(({ name }) => name);
    const message =
      other === undefined
        ? `some cells of this column say ${names.join()}, others no unit; write the unit into the heading`
        : `this column holds ${names.join(' and ')}; write one unit for the whole column`;
    const ask = { stem: column.stem, units: other === undefined ? [...names, 'ohm'] : [AS_WRITTEN] };
    const row = other === undefined ? seen.get(undefined) : seen.get(other);
    return { kind: 'problem', code: 'TABLE_UNITS_DIFFER', message, row, column: column.title, ask };
  }
  if (units[0] !== undefined || of === 'dial') return { ...column, unit: units[0] };
  const expected = unitFromText(usual[column.stem] ?? '');
  if (expected !== undefined) return { ...column, unit: expected };
  const names = unitNames(...of);
  return {
    kind: 'problem',
    code: 'TABLE_UNIT_UNSAID',
    message: `this column does not say its unit; name it ${names.map((name) => `${column.stem}_${name}`).join(' or ')}`,
    row: headingRow,
    column: column.title,
    ask: { stem: column.stem, units: names },
  };
}

const OHM_PER_KILOHM = 1000;
const hasLetter = (text: string): boolean => /\p{L}/u.test(text);

const EMPTY_CELL: Cell = { text: '', isQuoted: false };

export const cellOf = (row: Row, column: Column): Cell => row.cells[column.index] ?? EMPTY_CELL;

const isOhm = ({ stem }: Column): boolean => stem === 'resistance' || stem === 'u_resistance';

/** Reads the cells of a table and keeps what was wrong with them, so that all of it can be named at once. */
export class CellReader {
  readonly #table: Table;
  readonly #twoWayPoints: ReadonlySet<number>;
  readonly #problems: (TableProblem & { readonly row: number })[] = [];

  constructor({ table }: { readonly table: Table }) {
    this.#table = table;
    this.#twoWayPoints = twoWayPointColumns(table);
  }

  get problems(): readonly (TableProblem & { readonly row: number })[] {
    return this.#problems;
  }

  /** The number in a cell, in the unit the computations keep; 0 where it is bad, which `problems` then tells. */
  number(row: Row, column: Column, check?: (value: number) => string | undefined): number {
    const { text } = cellOf(row, column);
    if (text === '') return this.reject(row, column, 'the cell is empty');
    // Of kilohms three figures behind the point are usual.
    const isInThousands = (column.unit?.perUnit ?? 1) >= OHM_PER_KILOHM;
    if (this.#twoWayPoints.has(column.index) && !isInThousands && !hasLetter(text))
      return this.reject(row, column, twoWayPoint(text));
    const fraction = fractionIn(text, column);
    const read: MeasuredNumber | Refused =
      fraction === undefined
        ? measuredNumber(text, { comma: this.#table.comma, family: familyOf(column.stem) })
        : { kind: 'number', value: fraction };
    if (read.kind === 'refused') {
      const hint = read.code === 'TYPED_NOT_A_NUMBER' ? dialHint(text, column) : undefined;
      return this.reject(row, column, hint ?? read.message);
    }
    if (read.isShorthand === true && !isOhm(column))
      return this.reject(row, column, `"${text}" is how resistances are written; this column holds none`);
    const unit = read.unit ?? (read.isShorthand === true ? undefined : column.unit);
    if (unit !== undefined && column.unit !== undefined && unit.family !== column.unit.family)
      return this.reject(row, column, `"${text}" is in ${unit.name}; this column is in ${column.unit.name}`);
    const kept = column.stem.startsWith('u_') ? differenceKeptAs : valueKeptAs;
    const value = unit === undefined ? read.value : kept(unit, column.unit ?? unit, read.value);
    const objection = check?.(value);
    return objection === undefined ? value : this.reject(row, column, `${text}: ${objection}`);
  }

  /** As `number`, undefined for an empty cell or a column the table does not have. */
  optionalNumber(
    row: Row,
    column: Column | undefined,
    check?: (value: number) => string | undefined,
  ): number | undefined {
    if (column === undefined || cellOf(row, column).text === '') return undefined;
    return this.number(row, column, check);
  }

  reject(row: Row, column: Column, message: string): number {
    this.#problems.push({ kind: 'problem', code: 'TABLE_CELL', message, row: row.row, column: column.title });
    return 0;
  }
}

export const optionalColumn = (columns: Columns, stem: Stem): Column | undefined =>
  columns.found.find((candidate) => candidate.stem === stem);
