import { open, readFile, writeFile, type FileHandle } from 'node:fs/promises';
import { join } from 'node:path';
import { refuse, type Refused } from '../core/result';
import type { EventBody, JobEvent } from '../job';
import {
  journalLine,
  lineTrouble,
  parseJournal,
  type JournalProblem,
  type JournalText,
} from './journal-text';
import { lockJob, type Lock, type LockRefused } from './lock';

export const JOURNAL_FILE = 'job.ndjson';

export type AppendRefused = Refused<'JOURNAL_WRITE_FAILED' | 'JOURNAL_CLOSED' | 'EVENT_UNREADABLE'>;
export type Appended = { readonly kind: 'appended'; readonly events: readonly JobEvent[] };

export type Journal = {
  readonly kind: 'open-journal';
  readonly folder: string;
  /** Every event on disk, oldest first. */
  readonly events: readonly JobEvent[];
  /** Numbers, dates, signs and writes the events, all of them or none; answers when they are on the disk. */
  append(bodies: readonly EventBody[], by: string): Promise<Appended | AppendRefused>;
  /** Resolves when everything given so far is on the disk. */
  written(): Promise<void>;
  close(): Promise<void>;
};

export type JournalRefused = JournalProblem | LockRefused | Refused<'JOURNAL_MISSING' | 'JOURNAL_UNREADABLE'>;

const whyOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** Makes a new or renamed file's name itself last. */
export const syncFolder = async (folder: string): Promise<void> => {
  // Some systems cannot sync a folder (Windows); the file itself is synced anyway.
  const handle = await open(folder, 'r').catch(() => undefined);
  await handle?.sync().catch(() => undefined);
  await handle?.close();
};

/** Reads a journal without locking or changing it. Refuses as `parseJournal`, and JOURNAL_MISSING, JOURNAL_UNREADABLE. */
export const readJournal = async (folder: string): Promise<JournalText | JournalRefused> => {
  const file = join(folder, JOURNAL_FILE);
  try {
    return parseJournal(await readFile(file), file);
  } catch (error) {
    const missing = error instanceof Error && 'code' in error && error.code === 'ENOENT';
    return missing
      ? refuse(
          'JOURNAL_MISSING',
          `${file}: there is no such file; a job is a folder with a ${JOURNAL_FILE} in it`,
        )
      : refuse('JOURNAL_UNREADABLE', `${file}: ${whyOf(error)}`);
  }
};

/** Puts a cut tail into a file of its own, on the disk, before the journal is shortened: nothing is ever lost. */
const keepTailAside = async (folder: string, file: FileHandle, text: JournalText): Promise<EventBody[]> => {
  if (text.lacksLineEnd) await file.appendFile('\n');
  if (text.cutTail === undefined) return [];
  const keptAside = `job.cut-after-${text.events.length}-at-${Date.now()}.txt`;
  await writeFile(join(folder, keptAside), text.cutTail, { flag: 'wx', flush: true });
  await syncFolder(folder);
  await file.truncate(text.wholeBytes);
  await file.sync();
  return [{ kind: 'journal-recovered', keptAside, bytes: text.cutTail.length }];
};

type Open = {
  readonly folder: string;
  readonly file: FileHandle;
  readonly lock: Lock;
  readonly nowIso: () => string;
};

const makeJournal = ({ folder, file, lock, nowIso }: Open, found: readonly JobEvent[]): Journal => {
  const events = [...found];
  let queue: Promise<unknown> = Promise.resolve();
  let isClosed = false;

  const write = async (bodies: readonly EventBody[], by: string): Promise<Appended | AppendRefused> => {
    if (isClosed) return refuse('JOURNAL_CLOSED', `${folder}: the journal is closed`);
    const at = nowIso();
    const added = bodies.map((body, index): JobEvent => ({ n: events.length + 1 + index, at, by, ...body }));
    const lines = added.map(journalLine);
    // A line that cannot be read would close the whole job for good.
    const trouble = lines.map(lineTrouble).find((each) => each !== undefined);
    if (trouble !== undefined) return refuse('EVENT_UNREADABLE', `this cannot be kept: ${trouble}`);
    const { size } = await file.stat();
    try {
      await file.appendFile(lines.join(''));
      await file.datasync();
    } catch (error) {
      await file.truncate(size).catch(() => undefined);
      const what = `${join(folder, JOURNAL_FILE)}: not written, ${whyOf(error)}`;
      return refuse('JOURNAL_WRITE_FAILED', `${what}; make room on the disk or reconnect it, then try again`);
    }
    events.push(...added);
    return { kind: 'appended', events: added };
  };

  return {
    kind: 'open-journal',
    folder,
    events,
    append: (bodies, by) => {
      const written = queue.then(() => write(bodies, by));
      queue = written.catch(() => undefined);
      return written;
    },
    written: async () => {
      await queue;
    },
    close: async () => {
      await queue;
      if (isClosed) return;
      isClosed = true;
      await file.close();
      await lock.release();
    },
  };
};

/**
 * Opens a job's journal for writing: locks it, reads it, puts a tail that was cut mid-line aside (and says so in a
 * `journal-recovered` event), and appends from then on. Every accepted event is on the disk before it is answered.
 * Refuses: JOB_IN_USE and everything `readJournal` refuses; then the lock is given back and no byte was changed.
 */
export const openJournal = async (
  folder: string,
  nowIso: () => string,
): Promise<Journal | JournalRefused> => {
  const first = await readJournal(folder);
  if (first.kind === 'refused') return first;
  const lock = await lockJob(folder);
  if (lock.kind === 'refused') return lock;
  // Read again under the lock: another program may have written in between.
  const text = await readJournal(folder);
  if (text.kind === 'refused') {
    await lock.release();
    return text;
  }
  try {
    const file = await open(join(folder, JOURNAL_FILE), 'a');
    const recovered = await keepTailAside(folder, file, text);
    const journal = makeJournal({ folder, file, lock, nowIso }, text.events);
    if (recovered.length > 0) await journal.append(recovered, 'journal');
    return journal;
  } catch (error) {
    await lock.release();
    return refuse('JOURNAL_UNREADABLE', `${join(folder, JOURNAL_FILE)}: ${whyOf(error)}`);
  }
};
