import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import type { JobEvent } from '../job';
import { readLine, type Line, type LineRefused } from './journal-line';

/** What a journal file says. `cutTail` is what was being written when the program or the power went. */
export type JournalText = {
  readonly kind: 'journal';
  readonly events: readonly JobEvent[];
  /** Bytes from the start of the file that are whole lines. */
  readonly wholeBytes: number;
  readonly cutTail: Uint8Array | undefined;
  /** The last line is whole but for its line end. */
  readonly lacksLineEnd: boolean;
  /** A newer program wrote on from here: `events` is what comes before, and nothing may be added. */
  readonly newer?: Refused<'JOURNAL_LINE_NEWER'>;
};

export type JournalProblem =
  | Refused<'JOURNAL_EMPTY'>
  | Exclude<LineRefused, Refused<'JOURNAL_LINE_NEWER'>>
  | Refused<'JOURNAL_NOT_A_JOB' | 'JOURNAL_DAMAGED' | 'JOURNAL_ORDER' | 'JOURNAL_NEWER'>;

const LINE_END = 0x0a;

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

/**
 * A file system may fill the end of a file with zeros when the power goes; no journal line contains one. A single zero
 * inside a line is a wrong bit instead.
 */
const isZeroFilled = (bytes: Uint8Array): boolean => {
  const first = bytes.indexOf(0);
  return first >= 0 && (first === bytes.length - 1 || bytes.indexOf(0, first + 1) >= 0);
};

const dropZeroedLine = (lines: Line[], wholeBytes: number): number => {
  const last = lines.at(-1);
  if (last === undefined || !isZeroFilled(last.bytes)) return wholeBytes;
  lines.pop();
  return wholeBytes - last.bytes.length - 1;
};

/** A cut leaves the beginning of a line. A whole line with one wrong byte for its line end is damage, not a cut. */
const lineEndDamaged = (tail: Line, file: string): Refused<'JOURNAL_DAMAGED'> | undefined => {
  const last = tail.bytes.at(-1);
  if (last === undefined || last === 0) return undefined;
  const whole = readLine({ ...tail, bytes: tail.bytes.subarray(0, -1) }, file);
  return whole.kind === 'refused'
    ? undefined
    : refuse('JOURNAL_DAMAGED', {
        where: `${file}, line ${tail.number}`,
        why: 'its line end was changed',
      });
};

type Read = { readonly events: JobEvent[]; readonly wholeBytes: number };

const withTail = ({ events, wholeBytes }: Read, tail: Line, file: string): JournalText | JournalProblem => {
  const told = { kind: 'journal', events, wholeBytes, cutTail: undefined, lacksLineEnd: false } as const;
  if (tail.bytes.length > 0) {
    const last = readLine(tail, file);
    if (last.kind !== 'refused') return { ...told, events: [...events, last], lacksLineEnd: true };
    if (last.code === 'JOURNAL_NEWER') return { ...last, code: last.code };
    if (last.code === 'JOURNAL_LINE_NEWER' && events.length > 0)
      return { ...told, newer: { ...last, code: last.code } };
    const damaged = lineEndDamaged(tail, file);
    if (damaged !== undefined) return damaged;
  }
  if (events.length === 0) {
    return refuse('JOURNAL_EMPTY', { path: file });
  }
  return tail.bytes.length === 0 ? told : { ...told, cutTail: tail.bytes };
};

/** Line by line, so that whoever reads a long journal can do other things in between. */
export function* journalParser(
  bytes: Uint8Array,
  file: string,
): Generator<undefined, JournalText | JournalProblem> {
  const { lines, wholeBytes: split } = splitLines(bytes);
  const wholeBytes = dropZeroedLine(lines, split);
  const events: JobEvent[] = [];
  for (const line of lines) {
    const read = readLine(line, file);
    if (read.kind !== 'refused') events.push(read);
    else if (read.code !== 'JOURNAL_LINE_NEWER') return { ...read, code: read.code };
    else {
      const newer = { ...read, code: read.code };
      return { kind: 'journal', events, wholeBytes, cutTail: undefined, lacksLineEnd: false, newer };
    }
    yield undefined;
  }
  return withTail(
    { events, wholeBytes },
    { number: lines.length + 1, bytes: bytes.subarray(wholeBytes) },
    file,
  );
}

/**
 * Reads a journal. A tail cut mid-line is told apart from damage: it is handed back as `cutTail`, and everything before
 * it counts. A last line that is whole but for its line end counts too. What a newer program added ends the reading.
 * Refuses: an empty file (JOURNAL_EMPTY), a file that is not a job (JOURNAL_NOT_A_JOB), a damaged line
 * (JOURNAL_DAMAGED), a gap in the numbers (JOURNAL_ORDER), a journal of a newer program (JOURNAL_NEWER).
 */
export const parseJournal = (bytes: Uint8Array, file: string): JournalText | JournalProblem => {
  const parser = journalParser(bytes, file);
  for (;;) {
    const { done, value } = parser.next();
    if (done === true) return value;
  }
};
