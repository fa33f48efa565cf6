import { refuse, type Refused } from '../core/result';
import { explain, JOURNAL_SCHEMA, jobEvent, type JobEvent } from '../job';

/** What a journal file says. `cutTail` is what was being written when the program or the power went. */
export type JournalText = {
  readonly kind: 'journal';
  readonly events: readonly JobEvent[];
  /** Bytes from the start of the file that are whole lines. */
  readonly wholeBytes: number;
  readonly cutTail: Uint8Array | undefined;
  /** The last line is whole but for its line end. */
  readonly lacksLineEnd: boolean;
};

export type JournalProblem = Refused<
  'JOURNAL_EMPTY' | 'JOURNAL_NOT_A_JOB' | 'JOURNAL_DAMAGED' | 'JOURNAL_ORDER' | 'JOURNAL_NEWER'
>;

const LINE_END = 0x0a;
const utf8 = new TextDecoder('utf-8', { fatal: true });

type Line = { readonly number: number; readonly bytes: Uint8Array };

const jsonOf = (bytes: Uint8Array): { value: unknown } | undefined => {
  try {
    const value: unknown = JSON.parse(utf8.decode(bytes));
    return { value };
  } catch {
    return undefined;
  }
};

const schemaOf = (value: unknown): number | undefined =>
  typeof value === 'object' && value !== null && 'schema' in value && typeof value.schema === 'number'
    ? value.schema
    : undefined;

const readLine = (line: Line, file: string): JobEvent | JournalProblem => {
  const where = `${file}, line ${line.number}`;
  const json = jsonOf(line.bytes);
  if (json === undefined) {
    return refuse(
      'JOURNAL_DAMAGED',
      `${where}: not a line of JSON; restore the file from a copy, or repair that line`,
    );
  }
  const schema = line.number === 1 ? schemaOf(json.value) : undefined;
  if (schema !== undefined && schema > JOURNAL_SCHEMA) {
    const known = `this program knows up to ${JOURNAL_SCHEMA}`;
    return refuse(
      'JOURNAL_NEWER',
      `${where}: journal schema ${schema}, ${known}; open it with a newer Needlewright`,
    );
  }
  const parsed = jobEvent.safeParse(json.value);
  if (!parsed.success)
    return refuse('JOURNAL_DAMAGED', `${where}: ${explain(parsed.error)}; repair that line`);
  if (parsed.data.n !== line.number) {
    const told = `event number ${parsed.data.n} where ${line.number} is due`;
    return refuse('JOURNAL_ORDER', `${where}: ${told}; a line was removed, added or moved`);
  }
  if (line.number === 1 && parsed.data.kind !== 'job-opened') {
    return refuse(
      'JOURNAL_NOT_A_JOB',
      `${where}: a job starts with "job-opened", this file with "${parsed.data.kind}"`,
    );
  }
  return parsed.data;
};

/** Whole lines, and where the bytes after the last line end start. */
const splitLines = (bytes: Uint8Array): { lines: Line[]; wholeBytes: number } => {
  const lines: Line[] = [];
  let start = 0;
  for (let end = bytes.indexOf(LINE_END); end >= 0; end = bytes.indexOf(LINE_END, start)) {
    lines.push({ number: lines.length + 1, bytes: bytes.subarray(start, end) });
    start = end + 1;
  }
  return { lines, wholeBytes: start };
};

/** A file system may fill the end of a file with zeros when the power goes; no journal line contains one. */
const dropZeroedLine = (lines: Line[], wholeBytes: number): number => {
  const last = lines.at(-1);
  if (last === undefined || !last.bytes.includes(0)) return wholeBytes;
  lines.pop();
  return wholeBytes - last.bytes.length - 1;
};

/**
 * Reads a journal. A tail cut mid-line is told apart from damage: it is handed back as `cutTail`, and everything before
 * it counts. A last line that is whole but for its line end counts too.
 * Refuses: an empty file (JOURNAL_EMPTY), a file that is not a job (JOURNAL_NOT_A_JOB), a damaged line
 * (JOURNAL_DAMAGED), a gap in the numbers (JOURNAL_ORDER), a journal of a newer program (JOURNAL_NEWER).
 */
export const parseJournal = (bytes: Uint8Array, file: string): JournalText | JournalProblem => {
  const { lines, wholeBytes: split } = splitLines(bytes);
  const wholeBytes = dropZeroedLine(lines, split);
  const events: JobEvent[] = [];
  for (const line of lines) {
    const read = readLine(line, file);
    if (read.kind === 'refused') return read;
    events.push(read);
  }
  const tail = bytes.subarray(wholeBytes);
  const last = tail.length === 0 ? undefined : readLine({ number: lines.length + 1, bytes: tail }, file);
  if (last !== undefined && last.kind !== 'refused') {
    return { kind: 'journal', events: [...events, last], wholeBytes, cutTail: undefined, lacksLineEnd: true };
  }
  if (last?.code === 'JOURNAL_NEWER') return refuse('JOURNAL_NEWER', last.message);
  if (events.length === 0) {
    return refuse(
      'JOURNAL_EMPTY',
      `${file}: no whole event in it; the job was never opened, the folder can be removed`,
    );
  }
  return {
    kind: 'journal',
    events,
    wholeBytes,
    cutTail: tail.length === 0 ? undefined : tail,
    lacksLineEnd: false,
  };
};

/** One event as its line in the file. */
export const journalLine = (event: JobEvent): string => `${JSON.stringify(event)}\n`;

/** Why a line could not be read back; a number too large for JSON, for one, is written as `null`. */
export const lineTrouble = (line: string): string | undefined => {
  const parsed = jobEvent.safeParse(JSON.parse(line));
  return parsed.success ? undefined : explain(parsed.error);
};
