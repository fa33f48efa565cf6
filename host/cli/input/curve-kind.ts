import { recogniseColumns } from './columns';
import type { Input } from './input-file';

/** A file with a column of readings is a gauge's; one with temperature, pressure or level is a sender's. */
export function isSenderInput(input: Input): boolean {
  if (input.kind === 'job') return false;
  if (input.kind === 'card') return input.card.kind === 'sender';
  if (input.kind === 'json') return JSON.stringify(input.document).includes('"kind":"sender"');
  const { found } = recogniseColumns(input.grid, ['reading', 'temperature', 'pressure', 'level']);
  return !found.some(({ stem }) => stem === 'reading') && found.length > 0;
}
