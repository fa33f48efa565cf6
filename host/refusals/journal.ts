/** How a file ended: what the system said of it, and what to do about it. */
type FileTrouble = { readonly path: string; readonly why: string };

const AGAIN = 'Then open the job again.';

/** Refusals of a job's folder and its journal. */
export const journalRefusals = {
  JOB_ID: {
    status: 404,
    says: ({ jobId, isTooLong }: { readonly jobId: string; readonly isTooLong: boolean }) =>
      isTooLong
        ? `"${jobId}..." is longer than the name of a folder can be.`
        : `"${jobId}" is not the name of a job.`,
    remedy: 'A job is called by the name of its folder.',
  },
  JOBS_FOLDER: {
    status: 422,
    says: ({ why }: Pick<FileTrouble, 'why'>) => why,
    remedy: 'Or choose another folder with --jobs.',
  },
  JOB_IN_USE: {
    status: 422,
    says: ({ by, lock }: { readonly by: string; readonly lock: string }) =>
      `${by} is writing this job. If nothing runs there any more, delete ${lock}.`,
    remedy: 'Close the job there.',
  },
  JOB_AT_WORK: {
    status: 422,
    says: ({ title }: { readonly title: string }) => `Somebody has "${title}" open, or it drives the box.`,
    remedy: 'Leave its sheet on every screen first.',
  },
  JOB_NOT_MOVED: { status: 422, says: ({ why }: Pick<FileTrouble, 'why'>) => why, remedy: '' },
  DELETED_MISSING: {
    status: 404,
    says: ({ name }: { readonly name: string }) => `No deleted job is called "${name}".`,
    remedy: 'Look in the jobs folder: it may have been moved away.',
  },
  EXAMPLE_MISSING: {
    status: 404,
    says: ({ path }: Pick<FileTrouble, 'path'>) => `${path}: the example is not there.`,
    remedy: 'Install the program anew, with its demo sessions.',
  },
  JOB_NOT_WRITABLE: { status: 422, says: ({ why }: Pick<FileTrouble, 'why'>) => why, remedy: '' },
  JOB_NOT_OPENED: {
    status: 422,
    says: ({ path, why }: FileTrouble) => `${path}: ${why}.`,
    remedy: `Mend that (rights, room on the disk, the folder itself). ${AGAIN}`,
  },
  JOURNAL_MISSING: {
    status: 404,
    says: ({ path, name }: { readonly path: string; readonly name: string }) =>
      `${path}: there is no such file. A job is a folder with a ${name} in it.`,
    remedy: '',
  },
  JOURNAL_NOT_A_FILE: {
    status: 422,
    says: ({ path, why }: FileTrouble) => `${path}: ${why}.`,
    remedy: 'Move it away and put the file back.',
  },
  JOURNAL_UNREADABLE: { status: 422, says: ({ why }: Pick<FileTrouble, 'why'>) => why, remedy: '' },
  JOURNAL_NOT_WRITABLE: { status: 422, says: ({ why }: Pick<FileTrouble, 'why'>) => why, remedy: '' },
  JOURNAL_WRITE_FAILED: { status: 422, says: ({ why }: Pick<FileTrouble, 'why'>) => why, remedy: '' },
  JOURNAL_HALF_WRITTEN: {
    status: 422,
    says: ({ why }: Pick<FileTrouble, 'why'>) => `${why} What was half written could not be taken back.`,
    remedy: `Mend that. ${AGAIN}`,
  },
  JOURNAL_CLOSED: {
    status: 422,
    says: ({ path }: Pick<FileTrouble, 'path'>) => `${path}: the journal is closed.`,
    remedy: 'Open the job again.',
  },
  JOURNAL_OTHER: {
    status: 422,
    says: ({ path }: Pick<FileTrouble, 'path'>) => `${path}: it holds other events than before.`,
    remedy: 'Open the job again.',
  },
  JOURNAL_GONE: {
    status: 422,
    says: ({ path }: Pick<FileTrouble, 'path'>) => `${path}: it was moved or removed.`,
    remedy: `Put the folder back. ${AGAIN}`,
  },
  JOURNAL_REPLACED: {
    status: 422,
    says: ({ path }: Pick<FileTrouble, 'path'>) => `${path}: another file was put in its place.`,
    remedy: `End the program that did it (an editor, a folder that syncs itself). ${AGAIN}`,
  },
  JOURNAL_CHANGED: {
    status: 422,
    says: ({
      path,
      bytes,
      leftBytes,
    }: {
      readonly path: string;
      readonly bytes: bigint;
      readonly leftBytes: number;
    }) => `${path}: another program changed it (${bytes} bytes where ${leftBytes} were left).`,
    remedy: `End that program. ${AGAIN}`,
  },
  JOURNAL_EMPTY: {
    status: 422,
    says: ({ path }: Pick<FileTrouble, 'path'>) =>
      `${path}: no whole event is in it, so the job was never opened.`,
    remedy: 'The folder can be removed.',
  },
  JOURNAL_NOT_A_JOB: {
    status: 422,
    says: ({ where, begins }: { readonly where: string; readonly begins?: string }) =>
      begins === undefined
        ? `${where}: this is not the journal of a job.`
        : `${where}: a job starts with "job-opened", this file with "${begins}".`,
    remedy: 'Look whether it is the right file.',
  },
  JOURNAL_NEWER: {
    status: 422,
    says: ({
      where,
      schema,
      known,
    }: {
      readonly where: string;
      readonly schema: number;
      readonly known: number;
    }) => `${where}: the journal has schema ${schema}, and this program knows up to ${known}.`,
    remedy: 'Open it with a newer Needlewright.',
  },
  JOURNAL_LINE_NEWER: {
    status: 422,
    says: ({ where, kind }: { readonly where: string; readonly kind: string }) =>
      `${where}: "${kind}" was written by a newer Needlewright.`,
    remedy: 'Open the job with that one.',
  },
  JOURNAL_DAMAGED: {
    status: 422,
    says: ({ where, why }: { readonly where: string; readonly why: string }) => `${where}: ${why}.`,
    remedy: 'Restore the file from a copy, or repair that line.',
  },
  JOURNAL_ORDER: {
    status: 422,
    says: ({ where, found, due }: { readonly where: string; readonly found: number; readonly due: number }) =>
      `${where}: event number ${found} where ${due} is due. A line was removed, added or moved.`,
    remedy: 'Restore the file from a copy.',
  },
  EVENT_UNREADABLE: {
    status: 422,
    says: ({ why }: Pick<FileTrouble, 'why'>) => `This cannot be kept: ${why}.`,
    remedy: 'Type it again.',
  },
} as const;
