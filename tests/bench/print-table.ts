import { existsSync, readFileSync, rmSync } from 'node:fs';
import { cpus } from 'node:os';
import { rowsFile, type BenchRow } from './table';

const columns = ['part', 'what', 'measured', 'goal'] as const;

function isRow(value: unknown): value is BenchRow {
  return (
    typeof value === 'object' && value !== null && 'part' in value && 'what' in value && 'measured' in value
  );
}

function print(rows: readonly BenchRow[]): void {
  const widths = columns.map((column) =>
    Math.max(column.length, ...rows.map((row) => (row[column] ?? '').length)),
  );
  const line = (cells: readonly string[]): string =>
    cells
      .map((cell, at) => cell.padEnd(widths[at] ?? 0))
      .join('  ')
      .trimEnd();
  console.log(
    `\n${cpus()[0]?.model ?? 'unknown processor'}, ${cpus().length} cores, Node ${process.version}`,
  );
  console.log(line(columns));
  console.log(line(widths.map((width) => '-'.repeat(width))));
  for (const row of rows) console.log(line(columns.map((column) => row[column] ?? '')));
}

/** Vitest global set-up: empties the rows first, prints the one table last. */
export function setup(): () => void {
  rmSync(rowsFile, { force: true });
  return () => {
    if (!existsSync(rowsFile)) return;
    const rows = readFileSync(rowsFile, 'utf8')
      .trim()
      .split('\n')
      .map((text): unknown => JSON.parse(text));
    print(rows.filter(isRow));
  };
}
