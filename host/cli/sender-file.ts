import {
  fitSender,
  senderPointFault,
  type FittedSender,
  type PointFault,
  type SenderLawName,
  type SenderPoint,
} from '../core/sender';
import { countedSenderPoints, type JobState } from '../job';
import type { Surroundings } from './command';
import {
  CellReader,
  optionalColumn,
  recogniseColumns,
  requireColumn,
  type Column,
  type Columns,
} from './columns';
import type { Grid } from './csv';
import { InputError, RefusedError } from './input-error';
import { readInput } from './input-file';
import { pointsFromSenderJson } from './saved-curves';

export type SenderInput = {
  readonly file: string;
  readonly unit: string;
  readonly points: readonly SenderPoint[];
  readonly model?: SenderLawName | undefined;
  readonly warnings: readonly string[];
};

const SENDER_COLUMNS = [
  'u_temperature',
  'u_resistance',
  'u_value',
  'resistance',
  'temperature',
  'pressure',
  'level',
  'value',
] as const;

/** Points of a sender from CSV, or from the JSON this program's `sender` command wrote. */
export async function readSenderInput(path: string, surroundings: Surroundings): Promise<SenderInput> {
  const input = await readInput(path, surroundings);
  switch (input.kind) {
    case 'csv':
      return senderFromGrid(input.grid);
    case 'json':
      return pointsFromSenderJson(input.file, input.document);
    case 'job':
      return senderFromJob(input.file, input.job);
  }
}

/** Counted points of the only sender of a job. */
function senderFromJob(file: string, job: JobState): SenderInput {
  const [senderId, ...others] = [...new Set(job.senderPoints.map((point) => point.senderId))];
  if (senderId === undefined) throw new InputError('this job has no sender points yet', { file });
  if (others.length > 0)
    throw new InputError(`this job has ${others.length + 1} senders; give the one meant as a CSV`, { file });
  const unit = job.senders.find((sender) => sender.senderId === senderId)?.unit ?? job.gauge.unit;
  return { file, unit, points: countedSenderPoints(job, senderId), warnings: [] };
}

function senderFromGrid(grid: Grid): SenderInput {
  const columns = recogniseColumns(grid, SENDER_COLUMNS);
  const resistance = requireColumn(columns, 'resistance', 'resistance_ohm');
  const value = valueColumn(columns);
  const valueUncertainty = optionalColumn(columns, 'u_temperature') ?? optionalColumn(columns, 'u_value');
  const resistanceUncertainty = optionalColumn(columns, 'u_resistance');
  const reader = new CellReader(columns);
  const points = grid.rows.map((row) => ({
    value: reader.number(row, value),
    resistanceOhm: reader.number(row, resistance, notNegative),
    valueUncertainty: reader.optionalNumber(row, valueUncertainty, notNegative),
    resistanceUncertaintyOhm: reader.optionalNumber(row, resistanceUncertainty, notNegative),
  }));
  reader.finish();
  if (points.length === 0)
    throw new InputError('there is a header row and nothing below it', { file: grid.file });
  const unit = value.unit?.coreUnit ?? '';
  rejectImpossible(grid, points, unit, { value, resistance, valueUncertainty, resistanceUncertainty });
  return { file: grid.file, unit, points, warnings: columns.warnings };
}

/** What no sender can have is bad input, told by its row and column; the fit would tell it by the number of the point. */
function rejectImpossible(
  { file, rows }: Grid,
  points: readonly SenderPoint[],
  unit: string,
  columns: Readonly<Record<PointFault['of'], Column | undefined>>,
): void {
  for (const [index, point] of points.entries()) {
    const fault = senderPointFault(point, unit);
    if (fault !== undefined)
      throw new InputError(fault.says, { file, row: rows[index]?.row, column: columns[fault.of]?.title });
  }
}

function valueColumn(columns: Columns): Column {
  const found = (['temperature', 'pressure', 'level', 'value'] as const).flatMap(
    (stem) => optionalColumn(columns, stem) ?? [],
  );
  const [first, second] = found;
  if (first === undefined) {
    return requireColumn(
      columns,
      'temperature',
      'temperature_C (or temperature_F, pressure_kPa, psi, bar, level_percent)',
    );
  }
  if (second !== undefined) {
    throw new InputError(
      `columns "${first.title}" and "${second.title}" both give the value of a sender; keep one`,
      {
        file: columns.grid.file,
        row: columns.grid.header.row,
      },
    );
  }
  return first;
}

export const notNegative = (value: number): string | undefined =>
  value < 0 ? 'it cannot be negative' : undefined;

/** Fits a sender to its input. Refuses as the fit does, naming the file. */
export function fitSenderInput(input: SenderInput, model?: SenderLawName): FittedSender {
  const chosen = model ?? input.model;
  const fitted = fitSender(input.points, {
    unit: input.unit,
    ...(chosen === undefined ? {} : { model: chosen }),
  });
  if (fitted.kind === 'refused') throw new RefusedError(fitted.code, `${input.file}: ${fitted.message}`);
  return fitted;
}
