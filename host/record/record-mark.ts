import { z } from 'zod';
import type { Paper } from './files/pdf';

/** What leads from a record back to its job: as printed, `entries` and the beginning of `sum` alone. */
export type RecordMark = {
  readonly entries: number;
  readonly sum: string;
  readonly jobId?: string;
  readonly paper?: Paper;
  readonly program?: string;
};

type Whole = Required<RecordMark>;

/** Letters of ASCII alone, so that they stand in the file as they are. */
export const markText = ({ entries, sum, jobId, paper, program }: Whole): string =>
  `needlewright/record/1 entries=${entries} sum=${sum} paper=${paper} program=${encodeURIComponent(program)} job=${encodeURIComponent(jobId)}`;

const IN_FILE =
  /needlewright\/record\/1 entries=(\d{1,7}) sum=([0-9a-f]{64}) paper=(a4|letter) program=([\w.%-]{1,60}) job=([\w.!~*'%-]{1,2000})/;
const PRINTED = /^\s*(\d{1,7})\D+?((?:[0-9a-f]{4}\s*){4,16})\s*$/i;

const asData = z.looseObject({
  schema: z.literal('needlewright/record/1'),
  jobId: z.string(),
  program: z.string(),
  journal: z.object({ entries: z.number().int().min(0), sha256: z.string().regex(/^[0-9a-f]{64}$/) }),
});

/** The mark of a record as PDF, or as the data that `record --json` writes; undefined where there is none. */
export function readMark(bytes: Uint8Array): RecordMark | undefined {
  const text = new TextDecoder('latin1').decode(bytes);
  const found = IN_FILE.exec(text);
  if (found !== null) return markOf(found);
  try {
    const read = asData.safeParse(JSON.parse(new TextDecoder().decode(bytes)));
    if (!read.success) return undefined;
    const { jobId, program, journal } = read.data;
    return { entries: journal.entries, sum: journal.sha256, jobId, program };
  } catch {
    return undefined;
  }
}

function markOf([, entries = '', sum = '', paper, program = '', job = '']: RegExpExecArray):
  | RecordMark
  | undefined {
  try {
    return {
      entries: Number(entries),
      sum,
      paper: paper === 'letter' ? 'letter' : 'a4',
      program: decodeURIComponent(program),
      jobId: decodeURIComponent(job),
    };
  } catch {
    return undefined;
  }
}

/** What stands on the last sheet, as somebody typed it: "35 entries, sum 1ab8 5013 8918 44e8". */
export function typedMark(typed: string): RecordMark | undefined {
  const [, entries, sum] = PRINTED.exec(typed.replace(/entries|entry|sum|,/g, ' ')) ?? [];
  return entries === undefined || sum === undefined
    ? undefined
    : { entries: Number(entries), sum: sum.replace(/\s/g, '').toLowerCase() };
}
