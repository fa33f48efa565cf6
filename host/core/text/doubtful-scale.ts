import { cellOf, type Column, type TableProblem } from './columns';
import type { Row } from './table';

type Point = { readonly row: number; readonly value: number; readonly resistanceOhm: number };
type Sender = { readonly value: Column; readonly resistance: Column };

/** Of fewer points a slip and a scale cannot be told apart. */
const LEAST_POINTS = 3;
/** Temperature senders of gauges end at ten ohms and more when hot. Common practice, no source. */
const LEAST_HOT_OHM = 5;
/** Tank and pressure senders have 30 ohm and more at one of their ends. Common practice, no source. */
const LEAST_END_OHM = 10;
/** No sender of a gauge has as much at both its ends. Common practice, no source. */
const MOST_LEAST_OHM = 20_000;

/** Figures that bear their own unit leave no doubt. */
const isBare = (rows: readonly Row[], column: Column): boolean =>
  rows.every((row) => /^[\s\d.,+\-\u2212eE]*$/.test(cellOf(row, column).text));

/**
 * A whole column on another scale than its heading says: kilohms under "ohm", ohms under "kohm", parts of a tank under
 * "percent". The figures
 * agree with each other, so only what such senders have tells. Asked, never changed.
 */
export function doubtfulScale(
  points: readonly Point[],
  rows: readonly Row[],
  columns: Sender,
): TableProblem | undefined {
  if (points.length < LEAST_POINTS) return undefined;
  return (
    kilohms(points, rows, columns) ??
    plainOhms(points, rows, columns.resistance) ??
    parts(points, rows, columns.value) ??
    kelvins(points, rows, columns.value)
  );
}

function kilohms(
  points: readonly Point[],
  rows: readonly Row[],
  { value, resistance }: Sender,
): TableProblem | undefined {
  if (resistance.unit?.name !== 'ohm' || !isBare(rows, resistance)) return undefined;
  const ohms = points.map(({ resistanceOhm }) => resistanceOhm).filter((ohm) => ohm > 0);
  const [least, most] = [Math.min(...ohms), Math.max(...ohms)];
  const isTemperature = value.stem === 'temperature' || value.unit?.family === 'temperature';
  const isDoubtful = isTemperature ? least < LEAST_HOT_OHM : most < LEAST_END_OHM;
  if (ohms.length === 0 || !isDoubtful) return undefined;
  return {
    kind: 'problem',
    code: 'TABLE_UNITS_DIFFER',
    message: `${least} to ${most} ohm is less than a sender of a gauge has: these look like kilohms; write the unit into the heading, or behind each figure`,
    row: points[0]?.row,
    column: resistance.title,
    ask: { stem: 'resistance', units: ['kohm', 'ohm'] },
  };
}

function plainOhms(
  points: readonly Point[],
  rows: readonly Row[],
  resistance: Column,
): TableProblem | undefined {
  const { unit } = resistance;
  if (unit === undefined || unit.name === 'ohm' || !isBare(rows, resistance)) return undefined;
  const least = Math.min(...points.map(({ resistanceOhm }) => resistanceOhm));
  if (!(least > MOST_LEAST_OHM)) return undefined;
  return {
    kind: 'problem',
    code: 'TABLE_UNITS_DIFFER',
    message: `${least} ohm and more is more than a sender of a gauge has: these look like ohms; name the column resistance_ohm, or write the unit behind each figure`,
    row: points[0]?.row,
    column: resistance.title,
    ask: { stem: 'resistance', units: ['ohm', unit.name] },
  };
}

/** As for senders, of the resistances a gauge was read at: every gauge has more than a few ohms at one of its ends. */
export function kilohmsOfGauge(
  ohms: readonly number[],
  rows: readonly Row[],
  resistance: Column,
): TableProblem | undefined {
  const isDoubtful = ohms.length >= LEAST_POINTS && Math.max(...ohms) < LEAST_HOT_OHM;
  if (resistance.unit?.name !== 'ohm' || !isBare(rows, resistance) || !isDoubtful) return undefined;
  return {
    kind: 'problem',
    code: 'TABLE_UNITS_DIFFER',
    message: `${Math.min(...ohms)} to ${Math.max(...ohms)} ohm is less than a gauge is read at: these look like kilohms; name the column resistance_kohm, or write ohm behind each figure`,
    row: rows[0]?.row,
    column: resistance.title,
  };
}

function parts(points: readonly Point[], rows: readonly Row[], value: Column): TableProblem | undefined {
  if (value.unit?.columnName !== 'percent' || !isBare(rows, value)) return undefined;
  const values = points.map((point) => point.value);
  const isPart =
    values.every((each) => each >= 0 && each <= 1) && values.some((each) => each > 0 && each < 1);
  if (!isPart) return undefined;
  return {
    kind: 'problem',
    code: 'TABLE_UNITS_DIFFER',
    message: `no level of this column is above 1 %: these look like parts of the whole, 1 being full; name the column level_fraction, or write the unit behind each figure`,
    row: points[0]?.row,
    column: value.title,
    ask: { stem: value.stem, units: ['fraction', 'percent'] },
  };
}

/** Kelvins under degC: a sender of a gauge is read from below 250 degC, and none is used at 450 degC. Common practice. */
const KELVINS = { from: 250, to: 450 } as const;

function kelvins(points: readonly Point[], rows: readonly Row[], value: Column): TableProblem | undefined {
  if (value.unit?.name !== 'degC' || !isBare(rows, value)) return undefined;
  const isKelvin = points.every((point) => point.value >= KELVINS.from && point.value <= KELVINS.to);
  if (!isKelvin) return undefined;
  return {
    kind: 'problem',
    code: 'TABLE_UNITS_DIFFER',
    message: `every temperature of this column is ${KELVINS.from} degC or more: these look like kelvins; name the column ${value.stem}_K, or write the unit behind each figure`,
    row: points[0]?.row,
    column: value.title,
    ask: { stem: value.stem, units: ['K', 'C'] },
  };
}
