import { differenceKeptAs, keptUnit, unitChange, unitFromText } from '../units';
import {
  CellReader,
  optionalColumn,
  recogniseColumns,
  type Column,
  type Columns,
  type SaidUnits,
  type TableProblem,
} from './columns';
import { doubtfulScale } from './doubtful-scale';
import { mixedScales } from './mixed-scales';
import { nearest } from './nearest';
import { unknownUnitHint } from './unknown-unit';
import { unlikelyValues } from './unlikely-values';
import { tableFromText, type Row, type Table, type TableRefusal } from './table';

export type SenderTableRow = {
  readonly row: number;
  /** In the table's `unit`. */
  readonly value: number;
  readonly resistanceOhm: number;
  readonly valueUncertainty: number | undefined;
  readonly resistanceUncertaintyOhm: number | undefined;
};

/** A row that was not understood: where, what it says, what to do. `column` is left out when the whole row is meant. */
export type SenderTableProblem = {
  readonly row: number;
  readonly text: string;
  readonly message: string;
  readonly column?: string;
};

export type SenderTable = {
  readonly kind: 'sender-table';
  readonly points: readonly SenderTableRow[];
  /** Rows that were not understood, each with its reason; none is ever dropped without a word. */
  readonly problems: readonly SenderTableProblem[];
  /** Unit of the values: the heading's or the cells', kelvin and fractions already turned; undefined where nothing says. */
  readonly unit: string | undefined;
  /** As the table says it where that was turned: "K". */
  readonly writtenUnit: string | undefined;
  readonly columns: {
    readonly value: Column;
    readonly resistance: Column;
    readonly valueUncertainty: Column | undefined;
    readonly resistanceUncertainty: Column | undefined;
  };
  readonly warnings: readonly string[];
  /** What is left to mend: the heading and every row that was not understood, as they were written. */
  readonly rest: string;
};

export type SenderTableOptions = {
  /** The unit of a sender that is known already: values without a unit are in it, other quantities are refused. */
  readonly unit?: string | undefined;
  readonly said?: SaidUnits;
  /** Two columns without a heading are taken as value and ohms. */
  readonly headless?: boolean;
};

const STEMS = [
  'u_temperature',
  'u_resistance',
  'u_value',
  'resistance',
  'temperature',
  'pressure',
  'level',
  'value',
] as const;

/**
 * The points of a sender from a table, as page and command both read it. Refuses what cannot be split (`TableRefusal`);
 * a `TableProblem` with `ask` is a question whose answer goes into `said`.
 */
export function senderTable(
  text: string,
  options: SenderTableOptions = {},
): SenderTable | TableProblem | TableRefusal {
  const table = tableFromText(text);
  if (table.kind === 'refused') return table;
  const isHeadless = table.heading === undefined && options.headless === true;
  const headed = isHeadless ? withHeading(table, options) : table;
  if (headed.kind === 'problem') return headed;
  const columns = recogniseColumns(headed, STEMS, options.said, isHeadless ? { resistance: 'ohm' } : {});
  if (columns.kind === 'problem') return columns;
  const value = valueColumn(columns);
  if (value.kind === 'problem') return value;
  const resistance = optionalColumn(columns, 'resistance');
  if (resistance === undefined) return missing(columns, 'resistance_ohm');
  return read(columns, { value: value.column, resistance }, options);
}

/** A heading of our own over two columns without one: the value, then the ohms, as the page's field says. */
function withHeading(table: Table, { unit }: SenderTableOptions): Table | TableProblem {
  const wide = table.rows.find(({ cells }) => cells.length > 2);
  if (wide !== undefined) {
    const message = `${wide.cells.length} figures and no heading: put a heading above that names the ohms, or semicolons between the columns`;
    return { kind: 'problem', code: 'TABLE_NO_HEADING', message, row: wide.row };
  }
  const isKnown = unit !== undefined && unitFromText(unit) !== undefined;
  const cells = [isKnown ? `value ${unit}` : 'value', 'resistance'];
  return {
    ...table,
    heading: { row: 0, text: '', cells: cells.map((cell) => ({ text: cell, isQuoted: false })) },
  };
}

type Found = { readonly kind: 'found'; readonly column: Column };

function valueColumn(columns: Columns): Found | TableProblem {
  const stems = ['temperature', 'pressure', 'level', 'value'] as const;
  const [first, second] = stems.flatMap((stem) => optionalColumn(columns, stem) ?? []);
  if (first === undefined)
    return missing(columns, 'temperature_C (or temperature_F, pressure_kPa, psi, bar, level_percent)');
  if (second === undefined) return { kind: 'found', column: first };
  const message = `columns "${first.title}" and "${second.title}" both give the value of a sender; keep one`;
  return { kind: 'problem', code: 'TABLE_SAME_TWICE', message, row: columns.heading.row };
}

function missing({ heading }: Columns, name: string): TableProblem {
  const titles = heading.cells.map(({ text }) => text).filter((text) => text !== '');
  const near = nearest(name, titles);
  const rename = near === undefined ? '' : `; rename "${near}" if that is what it means`;
  const hint = unknownUnitHint(titles) || rename;
  const message = `there is no column ${name}; the columns are ${titles.map((title) => `"${title}"`).join(', ')}${hint}`;
  return { kind: 'problem', code: 'TABLE_NO_HEADING', message, row: heading.row };
}

const notNegative = (value: number): string | undefined => (value < 0 ? 'it cannot be negative' : undefined);

function read(
  columns: Columns,
  { value, resistance }: { readonly value: Column; readonly resistance: Column },
  { unit: ownUnit, said }: SenderTableOptions,
): SenderTable | TableProblem {
  const other = otherQuantity(value, ownUnit, columns);
  if (other !== undefined) return other;
  const valueUncertainty = optionalColumn(columns, 'u_temperature') ?? optionalColumn(columns, 'u_value');
  const resistanceUncertainty = optionalColumn(columns, 'u_resistance');
  const reader = new CellReader(columns);
  const all = columns.table.rows.map((row) => ({
    row: row.row,
    value: reader.number(row, value),
    resistanceOhm: reader.number(row, resistance, notNegative),
    valueUncertainty: asDifferenceOf(
      value,
      valueUncertainty,
      reader.optionalNumber(row, valueUncertainty, notNegative),
    ),
    resistanceUncertaintyOhm: reader.optionalNumber(row, resistanceUncertainty, notNegative),
  }));
  const problems = problemsByRow(columns.table.rows, reader);
  const bad = new Set(problems.map(({ row }) => row));
  const points = all.filter(({ row }) => !bad.has(row));
  const scales = said?.resistance === undefined ? mixedScales(points, resistance) : undefined;
  if (scales !== undefined) return scales;
  const doubtful = doubtfulScale(points, columns.table.rows, { value, resistance });
  if (doubtful?.ask !== undefined && said?.[doubtful.ask.stem] === undefined) return doubtful;
  const heading = columns.heading.text === '' ? [] : [columns.heading.text];
  const left = problems.map((problem) => problem.text);
  const writtenUnit = value.unit?.name;
  const unit = value.unit === undefined ? undefined : keptUnit(value.unit);
  return {
    kind: 'sender-table',
    points,
    problems,
    unit,
    writtenUnit: writtenUnit === unit ? undefined : writtenUnit,
    columns: { value, resistance, valueUncertainty, resistanceUncertainty },
    warnings: [
      ...columns.warnings,
      ...unlikelyValues(
        points.map((point) => point.value),
        value.unit,
      ),
    ],
    rest: left.length === 0 ? '' : [...heading, ...left].join('\n'),
  };
}

/** An uncertainty in the unit that the values beside it are kept in, whatever unit its own column has. */
export function asDifferenceOf(
  value: Column,
  uncertainty: Column | undefined,
  read: number | undefined,
): number | undefined {
  const from = uncertainty?.unit && unitFromText(keptUnit(uncertainty.unit));
  return from === undefined || value.unit === undefined || read === undefined
    ? read
    : differenceKeptAs(from, value.unit, read);
}

/** The first problem of each row: one is enough to find the row by, and the row is mended as a whole. */
function problemsByRow(rows: readonly Row[], reader: CellReader): SenderTableProblem[] {
  const first = new Map<number, SenderTableProblem>();
  for (const { row, message, column } of reader.problems) {
    const text = rows.find((each) => each.row === row)?.text ?? '';
    if (!first.has(row)) first.set(row, { row, text, message, ...(column === undefined ? {} : { column }) });
  }
  return [...first.values()].sort((one, two) => one.row - two.row);
}

/** A table of bar cannot be one of a sender in degC: no answer could make it one. */
function otherQuantity(
  value: Column,
  ownUnit: string | undefined,
  columns: Columns,
): TableProblem | undefined {
  if (ownUnit === undefined || value.unit === undefined) return undefined;
  if (unitChange(keptUnit(value.unit), ownUnit).kind === 'unit-change') return undefined;
  return {
    kind: 'problem',
    code: 'TABLE_UNITS_DIFFER',
    message: `this column is in ${value.unit.name}, which no sender in ${ownUnit} can have; mend the heading, or add another sender for this table`,
    row: columns.heading.row,
    column: value.title,
  };
}
