import type { Row, Table } from './table';

/** Where the cells beyond the heading hold a number. */
export type StrayNumber = {
  readonly kind: 'problem';
  readonly code: 'TABLE_DECIMAL_COMMA';
  readonly message: string;
  readonly row: number;
  readonly column: string;
};

/** Cells beyond the heading: a remark is kept out with a warning, a number is likely half of a decimal comma. */
export function strayCells({ rows, separator }: Table, heading: Row): readonly string[] | StrayNumber {
  const warnings: string[] = [];
  for (const { row, cells } of rows) {
    const stray = cells.slice(heading.cells.length).filter(({ text }) => text !== '');
    if (stray.length === 0) continue;
    if (separator === ',' && stray.some(({ text }) => /^\d+$/.test(text))) {
      const message = `there are ${cells.length} cells where the header names ${heading.cells.length} columns; with decimal commas, separate the columns by semicolons`;
      const column = String(heading.cells.length + 1);
      return { kind: 'problem', code: 'TABLE_DECIMAL_COMMA', message, row, column };
    }
    const words = stray.map(({ text }) => text).join(' ');
    warnings.push(`row ${row}: "${words}" stands beyond the last column and is not used`);
  }
  return warnings;
}
