import {
  type CellReader,
  optionalColumn,
  recogniseColumns as recognise,
  type Column,
  type Columns,
  type Stem,
  type TableProblem,
} from '../../core/text/columns';
import type { Table } from '../../core/text/table';
import { InputError } from '../input-error';
import { missingColumn } from '../../core/text/missing-column';

export { cellOf, CellReader, optionalColumn, type Column } from '../../core/text/columns';

/** A table and the file it came from. */
export type Grid = { readonly file: string; readonly table: Table };

/** What is wrong with a table, as the one line of a command; the others are named by their places. */
export function inputError(
  file: string,
  problem: Pick<TableProblem, 'message' | 'row' | 'column'>,
  others: readonly Pick<TableProblem, 'row' | 'column'>[] = [],
): InputError {
  const listed = others.slice(0, 5).map(({ row, column }) => `row ${row} ${column}`);
  const left = others.length - listed.length;
  const more =
    others.length === 0 ? '' : ` (also bad: ${listed.join(', ')}${left > 0 ? `, and ${left} more` : ''})`;
  const { row, column } = problem;
  return new InputError(`${problem.message.replace(/\.$/, '')}${more}`, { file, row, column });
}

/** As the core's, of a file. Throws InputError. */
export function recogniseColumns({ file, table }: Grid, wanted: readonly Stem[]): Columns {
  const columns = recognise(table, wanted);
  if (columns.kind === 'problem') throw inputError(file, columns);
  return { ...columns, warnings: columns.warnings.map((warning) => fileWarning(file, warning)) };
}

export const fileWarning = (file: string, warning: string): string =>
  /^row \d/.test(warning) ? `${file}, ${warning}` : `${file}: ${warning}`;

/** The column of that meaning. Throws InputError for a file without it, naming what it has and what was likely meant. */
export function requireColumn(file: string, columns: Columns, stem: Stem, properName: string): Column {
  const column = optionalColumn(columns, stem);
  if (column !== undefined) return column;
  throw inputError(file, missingColumn(columns, stem, properName));
}

/** Refuses the file when a cell was bad: the first in full, the others by place. Throws InputError. */
export function finish(file: string, reader: CellReader): void {
  const [first, ...others] = reader.problems;
  if (first !== undefined) throw inputError(file, first, others);
}
