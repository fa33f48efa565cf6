import type { Surroundings } from './command';
import { foldJob, type JobState } from '../job';
import { parseJournal } from '../store';
import { gridFromText, type Grid } from './csv';
import { InputError } from './input-error';

/** A text file of any common encoding. Refuses what is not there, not readable, or no text, with the reason. */
export async function readText(path: string, surroundings: Surroundings): Promise<string> {
  const bytes = await readBytes(path, surroundings);
  if (bytes[0] === 0x50 && bytes[1] === 0x4b) {
    throw new InputError('this is a spreadsheet or archive; save it as CSV first', { file: path });
  }
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  if (bytes.includes(0)) throw new InputError('this is not a text file', { file: path });
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    // Older spreadsheets write the degree sign in the Western single-byte code.
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

async function readBytes(path: string, surroundings: Surroundings): Promise<Uint8Array> {
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
    default:
      return `the file could not be read (${error instanceof Error ? error.message : String(error)})`;
  }
}

/** A file that is CSV, a JSON document or the journal of a job, by its content. */
export type Input =
  | { readonly kind: 'csv'; readonly file: string; readonly grid: Grid }
  | { readonly kind: 'json'; readonly file: string; readonly document: unknown }
  /** The journal of a job: its readings are a gauge, its sender points a sender. */
  | { readonly kind: 'job'; readonly file: string; readonly job: JobState };

export async function readInput(path: string, surroundings: Surroundings): Promise<Input> {
  const text = await readText(path, surroundings);
  const file = path === '-' ? 'standard input' : path;
  if (/^\{"n":1,"at":/.test(text)) return { kind: 'job', file, job: jobFromText(file, text) };
  if (/^\s*[{[]/.test(text.replace(/^\ufeff/, '')))
    return { kind: 'json', file, document: parseJson(file, text) };
  return { kind: 'csv', file, grid: gridFromText(file, text) };
}

export function parseJson(file: string, text: string): unknown {
  try {
    return JSON.parse(text.replace(/^\ufeff/, ''));
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new InputError(`this is not valid JSON (${reason})`, { file }, { cause: error });
  }
}

function jobFromText(file: string, text: string): JobState {
  const journal = parseJournal(new TextEncoder().encode(text), file);
  if (journal.kind === 'refused') throw new InputError(journal.message);
  const job = foldJob(journal.events);
  if (job === undefined) throw new InputError('this is not the journal of a job', { file });
  return job;
}
