import { crc32 } from 'node:zlib';
import { z } from 'zod';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import { explain, JOURNAL_SCHEMA, jobEvent, type JobEvent } from '../job';

export type LineRefused = Refused<
  'JOURNAL_NOT_A_JOB' | 'JOURNAL_DAMAGED' | 'JOURNAL_ORDER' | 'JOURNAL_NEWER' | 'JOURNAL_LINE_NEWER'
>;

export type Line = { readonly number: number; readonly bytes: Uint8Array };

/**
 * A line carries the CRC-32/ISO-HDLC of every byte before `,"crc":` as its last field: any single wrong bit is found.
 * Lines of older journals have none.
 */
const CHECKSUM_KEY = ',"crc":"';
const CHECKSUM_DIGITS = 8;
const HEXADECIMAL = 16;
const CHECKSUM_LENGTH = CHECKSUM_KEY.length + CHECKSUM_DIGITS + '"}'.length;

const checksumOf = (data: string | Uint8Array): string =>
  crc32(data).toString(HEXADECIMAL).padStart(CHECKSUM_DIGITS, '0');

/** One event as its line in the file. */
export const journalLine = (event: JobEvent): string => {
  const open = JSON.stringify(event).slice(0, -1);
  return `${open}${CHECKSUM_KEY}${checksumOf(open)}"}\n`;
};

const utf8 = new TextDecoder('utf-8', { fatal: true });

const textOf = (bytes: Uint8Array): string | undefined => {
  try {
    return utf8.decode(bytes);
  } catch {
    return undefined;
  }
};

const jsonOf = (text: string): { readonly value: unknown } | undefined => {
  try {
    const value: unknown = JSON.parse(text);
    return { value };
  } catch {
    return undefined;
  }
};

type Checked = { readonly json: string; readonly isSigned: boolean };

/** The event's JSON without the checksum; undefined: the checksum is not the line's. */
const checkedJson = ({ bytes }: Line): Checked | undefined => {
  const text = textOf(bytes);
  if (text === undefined) return undefined;
  // The checksum's field is plain ASCII, so its length in letters is its length in bytes.
  const at = text.length - CHECKSUM_LENGTH;
  if (at < 0 || !text.startsWith(CHECKSUM_KEY, at)) return { json: text, isSigned: false };
  const digits = text.slice(at + CHECKSUM_KEY.length, -2);
  const isRight =
    text.endsWith('"}') && digits === checksumOf(bytes.subarray(0, bytes.length - CHECKSUM_LENGTH));
  return isRight ? { json: `${text.slice(0, at)}}`, isSigned: true } : undefined;
};

/** As much of a line as every program's lines have in common. */
const outline = z
  .object({
    n: z.number().optional().catch(undefined),
    kind: z.string().optional().catch(undefined),
    schema: z.number().optional().catch(undefined),
  })
  .catch({});
type Outline = z.infer<typeof outline>;

/** Refuses a journal whose opening says that an older program could misread it. */
const newerOpening = ({ schema }: Outline, where: string): LineRefused | undefined => {
  if (schema === undefined || schema <= JOURNAL_SCHEMA) return undefined;
  return refuse('JOURNAL_NEWER', { where, schema, known: JOURNAL_SCHEMA });
};

/** A sound checksum: this is what its writer wrote. Without one, nobody knows. */
const notUnderstood = (where: string, kind: string | undefined, why: string): LineRefused =>
  kind === undefined
    ? refuse('JOURNAL_DAMAGED', { where, why })
    : refuse('JOURNAL_LINE_NEWER', { where, kind });

/**
 * Reads one line. Refuses: what is no JSON, no event, or not what was written (JOURNAL_DAMAGED), a number out of turn
 * (JOURNAL_ORDER), a first line that opens no job (JOURNAL_NOT_A_JOB), the opening of a newer program (JOURNAL_NEWER), a
 * sound line that this program does not understand (JOURNAL_LINE_NEWER).
 */
export const readLine = (line: Line, file: string): JobEvent | LineRefused => {
  const where = `${file}, line ${line.number}`;
  const checked = checkedJson(line);
  if (checked === undefined) {
    return refuse('JOURNAL_DAMAGED', {
      where,
      why: 'it was changed after it was written, its checksum does not fit',
    });
  }
  const json = jsonOf(checked.json);
  if (json === undefined) {
    return refuse('JOURNAL_DAMAGED', { where, why: 'not a line of JSON' });
  }
  const parsed = jobEvent.safeParse(json.value);
  const told = parsed.success ? parsed.data : outline.parse(json.value);
  const newer = line.number === 1 && !parsed.success ? newerOpening(told, where) : undefined;
  if (newer !== undefined) return newer;
  if (told.n !== undefined && told.n !== line.number) {
    return refuse('JOURNAL_ORDER', { where, found: told.n, due: line.number });
  }
  if (!parsed.success)
    return notUnderstood(where, checked.isSigned ? told.kind : undefined, explain(parsed.error));
  if (line.number === 1 && parsed.data.kind !== 'job-opened') {
    return refuse('JOURNAL_NOT_A_JOB', { where, begins: parsed.data.kind });
  }
  return parsed.data;
};

/**
 * The event as it would be read back from its line, or why it could not be: a number too large for JSON, for one, is
 * written as `null`.
 */
export const asReadBack = (event: JobEvent): JobEvent | Refused<'EVENT_UNREADABLE'> => {
  const parsed = jobEvent.safeParse(JSON.parse(JSON.stringify(event)));
  return parsed.success ? parsed.data : refuse('EVENT_UNREADABLE', { why: explain(parsed.error) });
};
