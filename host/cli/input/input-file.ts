import type { Card } from '../../catalogue';
import type { Surroundings } from '../command';
import { foldJob, type JobEvent, type JobState } from '../../job';
import { parseJournal } from '../../store';
import { textOfFile } from '../../core/text/file-text';
import { tableFromText } from '../../core/text/table';
import { inputError, type Grid } from './columns';
import { cardNamed } from './catalogue-place';
import { InputError } from '../input-error';

/** A text file of any common encoding. Refuses what is not there, not readable, or no text, with the reason. */
export async function readText(path: string, surroundings: Surroundings): Promise<string> {
  const read = textOfFile(await readBytes(path, surroundings), TextDecoder);
  if (read.kind === 'refused') throw new InputError(read.message, { file: path });
  return read.text;
}

/** A table, split. Throws InputError with its place. */
export async function readGrid(path: string, surroundings: Surroundings): Promise<Grid> {
  return gridFromText(path, await readText(path, surroundings));
}

/** A table that was read already, split. Throws InputError with its place. */
function gridFromText(file: string, text: string): Grid {
  const table = tableFromText(text);
  if (table.kind === 'refused') throw inputError(file, table);
  return { file, table };
}

/** A whole file, or standard input (`-`). Refuses what is not there or not readable, with the reason. */
export async function readBytes(path: string, surroundings: Surroundings): Promise<Uint8Array> {
  if (path === '-') return surroundings.readStandardInput();
  try {
    return await surroundings.readFile(path);
  } catch (error) {
    throw new InputError(reasonFor(error), { file: path }, { cause: error });
  }
}

function reasonFor(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  switch (code) {
    case 'ENOENT':
      return 'there is no such file';
    case 'EACCES':
    case 'EPERM':
      return 'no permission to read this file';
    case 'EISDIR':
      return 'this is a folder, not a file';
    case 'EDEVICE':
      return 'this is a device, not a file; for standard input give -';
    default:
      return `the file could not be read (${error instanceof Error ? error.message : String(error)})`;
  }
}

/** A file that is CSV, a JSON document or the journal of a job, by its content. */
export type Input =
  | { readonly kind: 'csv'; readonly file: string; readonly grid: Grid; readonly text: string }
  | { readonly kind: 'json'; readonly file: string; readonly document: unknown }
  /** A card of the catalogue, by its name. */
  | { readonly kind: 'card'; readonly file: string; readonly card: Card }
  /** The journal of a job: its readings are a gauge, its sender points a sender. */
  | {
      readonly kind: 'job';
      readonly file: string;
      readonly job: JobState;
      readonly events: readonly JobEvent[];
      readonly text: string;
    };

/** What a file named - is called. */
export const STANDARD_INPUT = 'standard input';

/** What a word of the command line means: a file by its content, or, where there is no such file, a card of the catalogue. */
export async function readInput(path: string, surroundings: Surroundings): Promise<Input> {
  let text: string;
  try {
    text = await readText(path, surroundings);
  } catch (error) {
    const card = isMissing(error) ? await cardNamed(path, surroundings) : undefined;
    if (card === undefined) throw error;
    return { kind: 'card', file: path, card };
  }
  const file = path === '-' ? STANDARD_INPUT : path;
  if (/^\{"n":1,"at":/.test(text)) return { kind: 'job', file, text, ...jobFromText(file, text) };
  if (/^\s*[{[]/.test(text.replace(/^\ufeff/, '')))
    return { kind: 'json', file, document: parseJson(file, text) };
  return { kind: 'csv', file, text, grid: gridFromText(file, text) };
}

const isMissing = (error: unknown): boolean =>
  error instanceof InputError &&
  error.cause instanceof Error &&
  'code' in error.cause &&
  error.cause.code === 'ENOENT';

export function parseJson(file: string, text: string): unknown {
  try {
    return JSON.parse(text.replace(/^\ufeff/, ''));
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new InputError(`this is not valid JSON (${reason})`, { file }, { cause: error });
  }
}

function jobFromText(
  file: string,
  text: string,
): { readonly job: JobState; readonly events: readonly JobEvent[] } {
  const journal = parseJournal(new TextEncoder().encode(text), file);
  if (journal.kind === 'refused') throw new InputError(journal.message);
  if (journal.newer !== undefined) throw new InputError(journal.newer.message);
  const job = foldJob(journal.events);
  if (job === undefined) throw new InputError('this is not the journal of a job', { file });
  return { job, events: journal.events };
}
