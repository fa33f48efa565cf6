import { isSenderTable } from '../../catalogue';
import { inputError, recogniseColumns } from './columns';
import type { Input } from './input-file';

/** A table of needle readings beside what is true, without resistances. */
export function isPairsInput(input: Input): boolean {
  if (input.kind !== 'csv') return false;
  const { found } = recogniseColumns(input.grid, [
    'resistance',
    'reading',
    'temperature',
    'pressure',
    'level',
    'value',
  ]);
  const stems = new Set<string>(found.map(({ stem }) => stem));
  return stems.has('reading') && !stems.has('resistance') && stems.size > 1;
}

/** A file with a column of readings is a gauge's; one with temperature, pressure or level is a sender's. */
export function isSenderInput(input: Input): boolean {
  if (input.kind === 'job') return false;
  if (input.kind === 'card') return input.card.kind === 'sender';
  if (input.kind === 'json') return JSON.stringify(input.document).includes('"kind":"sender"');
  const isSender = isSenderTable(input.grid.table);
  if (typeof isSender !== 'boolean') throw inputError(input.grid.file, isSender);
  return isSender;
}
