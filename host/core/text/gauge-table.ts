import { refuse, type Refused } from '../result';
import { keptUnit, unitFromText } from '../units';
import {
  cellOf,
  CellReader,
  optionalColumn,
  recogniseColumns,
  type Column,
  type Columns,
  type SaidUnits,
  type TableProblem,
} from './columns';
import { kilohmsOfGauge } from './doubtful-scale';
import { isFraction } from './fraction';
import { tableFromText, type Row, type TableRefusal } from './table';

/** What a table of a gauge's readings may hold. */
export const GAUGE_COLUMNS = [
  'u_reading',
  'u_resistance',
  'resistance',
  'reading',
  'supply_at',
  'supply',
  'leg',
  'at_stop',
] as const;

/** One row of such a table, with its row number. */
export type GaugeRow = {
  readonly row: number;
  readonly resistanceOhm: number;
  readonly reading: number;
  readonly leg: 'up' | 'down' | undefined;
  readonly atStop: 'low' | 'high' | undefined;
  readonly readingUncertainty: number | undefined;
  readonly resistanceUncertaintyOhm: number | undefined;
  readonly supplyVolt: number | undefined;
  readonly supplyAt: 'feed' | 'battery' | undefined;
};

/** The rows of a gauge's table; what is wrong with a cell is told to the reader. */
export function gaugeReadings(
  columns: Columns,
  reader: CellReader,
  { resistance, reading }: { readonly resistance: Column; readonly reading: Column },
): readonly GaugeRow[] {
  const leg = optionalColumn(columns, 'leg');
  const atStop = optionalColumn(columns, 'at_stop');
  const uncertainty = optionalColumn(columns, 'u_reading');
  const supply = optionalColumn(columns, 'supply');
  const place = optionalColumn(columns, 'supply_at');
  const ownOhm = optionalColumn(columns, 'u_resistance');
  return columns.table.rows.map((row) => ({
    row: row.row,
    resistanceOhm: reader.number(row, resistance, notNegative),
    reading: reader.number(row, reading),
    leg: word(reader, row, leg, LEG_WORDS),
    atStop: word(reader, row, atStop, STOP_WORDS),
    readingUncertainty: reader.optionalNumber(row, uncertainty, positive),
    resistanceUncertaintyOhm: reader.optionalNumber(row, ownOhm, notNegative),
    supplyVolt: reader.optionalNumber(row, supply, positive),
    supplyAt: word(reader, row, place, PLACE_WORDS),
  }));
}

export type GaugeTable = {
  readonly kind: 'gauge-table';
  readonly rows: readonly GaugeRow[];
  /** Unit of the readings, as the table says it; undefined where nothing does. */
  readonly unit: string | undefined;
  readonly warnings: readonly string[];
};

/**
 * A pasted or opened table of ohms and needle readings, whole or not at all: a row that is left out would be missed by
 * nobody. Readings without a unit are in that of the dial.
 * Refuses: what is no table or has no heading, a column that is missing (GAUGE_TABLE_COLUMN), a cell that is no number.
 */
export function gaugeTable(
  text: string,
  { unit, said = {} }: { readonly unit: string; readonly said?: SaidUnits },
): GaugeTable | TableProblem | TableRefusal | Refused<'GAUGE_TABLE_COLUMN'> {
  const table = tableFromText(text);
  if (table.kind === 'refused') return table;
  const columns = recogniseColumns(table, GAUGE_COLUMNS, said, { resistance: 'ohm', reading: unit });
  if (columns.kind === 'problem') return columns;
  const resistance = optionalColumn(columns, 'resistance');
  const titled = optionalColumn(columns, 'reading');
  const reading = titled === undefined ? undefined : inFractions(columns, titled);
  if (resistance === undefined || reading === undefined)
    return refuse(
      'GAUGE_TABLE_COLUMN',
      'the first line must name the columns resistance_ohm and reading; leg and at_stop may follow',
    );
  const reader = new CellReader(columns);
  const rows = gaugeReadings(columns, reader, { resistance, reading });
  const [wrong] = reader.problems;
  if (wrong !== undefined) return wrong;
  const ohms = rows.map(({ resistanceOhm }) => resistanceOhm);
  const kilo = kilohmsOfGauge(ohms, table.rows, resistance);
  if (kilo !== undefined) return kilo;
  return {
    kind: 'gauge-table',
    rows,
    unit: reading.unit === undefined ? undefined : keptUnit(reading.unit),
    warnings: columns.warnings,
  };
}

/** One `1/4` says that the `1` below it is full, and not 1 % of it. */
function inFractions({ table }: Columns, column: Column): Column {
  const isOne = column.unit === undefined && table.rows.some((row) => isFraction(cellOf(row, column).text));
  const unit = isOne ? unitFromText('fraction') : undefined;
  return unit === undefined ? column : { ...column, unit };
}

const notNegative = (value: number): string | undefined => (value < 0 ? 'it cannot be negative' : undefined);
const positive = (value: number): string | undefined => (value > 0 ? undefined : 'it must be above 0');

/** The leg is the direction of the NEEDLE, whatever the resistance does. */
const LEG_WORDS = {
  up: ['up', 'u', 'upscale', 'rising'],
  down: ['down', 'd', 'downscale', 'falling'],
} as const;
const PLACE_WORDS = { feed: ['feed', 'gauge'], battery: ['battery'] } as const;
const STOP_WORDS = { low: ['low', 'l', 'bottom'], high: ['high', 'h', 'top'] } as const;

function word<Name extends string>(
  reader: CellReader,
  row: Row,
  column: Column | undefined,
  words: Readonly<Record<Name, readonly string[]>>,
): Name | undefined {
  if (column === undefined) return undefined;
  const { text } = cellOf(row, column);
  if (['', '-', 'no', 'none'].includes(text.toLowerCase())) return undefined;
  for (const name in words) if (words[name].includes(text.toLowerCase())) return name;
  reader.reject(
    row,
    column,
    `"${text}" is neither ${Object.keys(words).join(' nor ')}; leave it empty if it is not known`,
  );
  return undefined;
}
