import type { Quantity } from '../../core/response';
import { asDifferenceOf } from '../../core/text/sender-table';
import { keptUnit, quantityOfUnit, unitChange } from '../../core/units';
import type { Surroundings } from '../command';
import { InputError } from '../input-error';
import {
  cellOf,
  CellReader,
  fileWarning,
  finish,
  optionalColumn,
  recogniseColumns,
  requireColumn,
  type Column,
  type Grid,
} from './columns';
import { readGrid } from './input-file';

const STEMS = [
  'u_reading',
  'u_temperature',
  'u_value',
  'reading',
  'temperature',
  'pressure',
  'level',
  'value',
  'leg',
  'when',
  'second',
  'supply',
] as const;

/** One row: what is true and what the needle shows, in the unit of the dial. Uncertainties are standard ones. */
export type PairRow = {
  readonly row: number;
  readonly value: number;
  readonly indicated: number;
  readonly valueUncertainty: number | undefined;
  readonly readingUncertainty: number | undefined;
  readonly leg: 'up' | 'down' | undefined;
  readonly made: 'run' | 'substituted' | undefined;
  readonly second: number | undefined;
  readonly supplyVolt: number | undefined;
};

export type PairFile = {
  readonly file: string;
  /** Empty where nothing says it. */
  readonly unit: string;
  readonly quantity: Quantity;
  readonly rows: readonly PairRow[];
  readonly warnings: readonly string[];
};

const LEGS = ['up', 'down'] as const;
const MADE = ['run', 'substituted'] as const;
const notNegative = (value: number): string | undefined => (value >= 0 ? undefined : 'it cannot be negative');
const positive = (value: number): string | undefined => (value > 0 ? undefined : 'it must be above 0');

/** A word out of a short list; empty is not said. What it is not is told to the reader. */
function wordIn<Word extends string>(
  reader: CellReader,
  row: Parameters<CellReader['number']>[0],
  column: Column | undefined,
  words: readonly Word[],
): Word | undefined {
  if (column === undefined) return undefined;
  const said = cellOf(row, column).text.trim().toLowerCase();
  if (said === '') return undefined;
  const found = words.find((word) => word === said);
  if (found === undefined) reader.reject(row, column, `"${said}" is neither ${words.join(' nor ')}`);
  return found;
}

/** Pairs of reference and needle from CSV. Throws InputError with file, row and column. */
export async function readPairs(path: string, surroundings: Surroundings): Promise<PairFile> {
  return pairsOfGrid(await readGrid(path, surroundings));
}

/** The same of a table that was read already. */
export function pairsOfGrid(grid: Grid): PairFile {
  const { file } = grid;
  const columns = recogniseColumns(grid, STEMS);
  const reading = requireColumn(file, columns, 'reading', 'reading');
  const [value, second] = (['temperature', 'pressure', 'level', 'value'] as const).flatMap(
    (stem) => optionalColumn(columns, stem) ?? [],
  );
  if (value === undefined)
    requireColumn(file, columns, 'value', 'temperature_C (or pressure_kPa, level_percent, value)');
  if (value === undefined || second !== undefined)
    throw new InputError(
      `columns "${value?.title}" and "${second?.title}" both give what is true; keep one`,
      {
        file,
        row: columns.heading.row,
      },
    );
  const turn = turnInto(file, reading, value);
  const uncertainty = optionalColumn(columns, 'u_temperature') ?? optionalColumn(columns, 'u_value');
  const ownReading = optionalColumn(columns, 'u_reading');
  const [leg, made] = [optionalColumn(columns, 'leg'), optionalColumn(columns, 'when')];
  const [time, supply] = [optionalColumn(columns, 'second'), optionalColumn(columns, 'supply')];
  const reader = new CellReader(columns);
  const rows = columns.table.rows.map((row): PairRow => {
    const own = asDifferenceOf(value, uncertainty, reader.optionalNumber(row, uncertainty, positive));
    return {
      row: row.row,
      value: turn.factor * reader.number(row, value) + turn.offset,
      indicated: reader.number(row, reading),
      valueUncertainty: own === undefined ? undefined : own * Math.abs(turn.factor),
      readingUncertainty: reader.optionalNumber(row, ownReading, notNegative),
      leg: wordIn(reader, row, leg, LEGS),
      made: wordIn(reader, row, made, MADE),
      second: reader.optionalNumber(row, time, notNegative),
      supplyVolt: reader.optionalNumber(row, supply, positive),
    };
  });
  if (rows.length === 0) throw new InputError('there is a header row and nothing below it', { file });
  finish(file, reader);
  const unit = unitOf(reading) ?? unitOf(value) ?? '';
  return {
    file,
    unit,
    quantity: unit === '' ? 'other' : quantityOfUnit(unit),
    rows,
    warnings: columns.warnings.map((warning) => fileWarning(file, warning)),
  };
}

const unitOf = ({ unit }: Column): string | undefined => unit && keptUnit(unit);

/** From the unit of what is true into that of the needle. */
function turnInto(file: string, reading: Column, value: Column): { factor: number; offset: number } {
  const [from, to] = [unitOf(value), unitOf(reading)];
  if (from === undefined || to === undefined || from === to) return { factor: 1, offset: 0 };
  const change = unitChange(from, to);
  if (change.kind === 'refused')
    throw new InputError(`columns "${value.title}" and "${reading.title}" are not of one quantity`, { file });
  return change;
}
