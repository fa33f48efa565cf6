import type { GaugeReading } from '../curve';
import { HANDHELD, lastDigitOhm, sharedOhms, type SharedOhms } from '../ohmmeter';
import { keptUnit } from '../units';
import { CellReader, optionalColumn, recogniseColumns, type TableProblem } from './columns';
import { kilohmsOfGauge } from './doubtful-scale';
import { GAUGE_COLUMNS, gaugeReadings } from './gauge-table';
import { missingColumn } from './missing-column';
import type { Table } from './table';
import { unlikelyValues } from './unlikely-values';

/** The sound rows of a table of ohms and readings, as readings that a person wrote down. */
export type GaugeRows = {
  readonly kind: 'gauge-rows';
  /** Empty where no row is sound. */
  readonly readings: readonly GaugeReading[];
  /** Empty where nothing says it. */
  readonly unit: string;
  /** A column says how well each resistance is known. */
  readonly isOhmStated: boolean;
  /** What all of its resistances share. */
  readonly resistanceUncertainty: SharedOhms;
  /** What is wrong with the other rows, cell by cell. */
  readonly problems: readonly (TableProblem & { readonly row: number })[];
  readonly warnings: readonly string[];
};

/**
 * The readings of a table whose rows are sound, and what is wrong with the others. A problem of the table as a whole: a
 * column is missing or means two things, or its scale is doubtful.
 */
export function gaugeRows(table: Table): GaugeRows | TableProblem {
  const columns = recogniseColumns(table, GAUGE_COLUMNS);
  if (columns.kind === 'problem') return columns;
  const resistance = optionalColumn(columns, 'resistance');
  if (resistance === undefined) return missingColumn(columns, 'resistance', 'resistance_ohm');
  const reading = optionalColumn(columns, 'reading');
  if (reading === undefined) return missingColumn(columns, 'reading', 'reading');
  const reader = new CellReader(columns);
  const all = gaugeReadings(columns, reader, { resistance, reading });
  const bad = new Set(reader.problems.map(({ row }) => row));
  const sound = all.filter(({ row }) => !bad.has(row)).map(({ row: _, ...read }) => read);
  const ohms = sound.map(({ resistanceOhm }) => resistanceOhm);
  const kilo = kilohmsOfGauge(
    ohms,
    table.rows.filter(({ row }) => !bad.has(row)),
    resistance,
  );
  if (kilo !== undefined) return kilo;
  const isOhmStated = optionalColumn(columns, 'u_resistance') !== undefined;
  // The last digit is all that one row does not share with the others.
  const own = isOhmStated ? undefined : lastDigitOhm(ohms);
  const values = sound.map((one) => one.reading);
  return {
    kind: 'gauge-rows',
    readings: own === undefined ? sound : sound.map((one) => ({ ...one, resistanceUncertaintyOhm: own })),
    unit: reading.unit === undefined ? '' : keptUnit(reading.unit),
    isOhmStated,
    resistanceUncertainty: sharedOhms(isOhmStated ? { percent: 0, ohm: 0 } : HANDHELD),
    problems: reader.problems,
    warnings: [...columns.warnings, ...unlikelyValues(values, reading.unit)],
  };
}
