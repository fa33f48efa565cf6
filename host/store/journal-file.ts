import { constants } from 'node:fs';
import { open, writeFile, type FileHandle } from 'node:fs/promises';
import { join } from 'node:path';
import { refuse } from '../refusals';
import type { EventBody, JobEvent } from '../job';
import { hasCode, troubleSentence } from './file-trouble';
import type { JournalText } from './journal-text';
import type { JournalTrouble } from './journal-trouble';
import { lockJob, type Lock } from './lock';
import {
  JOURNAL_FILE,
  notReadable,
  readFrom,
  readJournal,
  WITHOUT_WAITING,
  type ReadRefused,
} from './read-journal';
import { syncFolder } from './sync-folder';

/** A journal that may be written: the file, the lock, and how long it was when it was left. */
export type WritableFile = { readonly file: FileHandle; readonly lock: Lock; readonly size: number };

export type OpenedFile = {
  readonly kind: 'opened-file';
  readonly events: readonly JobEvent[];
  /** What the journal is to be told first: that a tail was put aside. */
  readonly recovered: readonly EventBody[];
} & (
  | { readonly writable: WritableFile; readonly trouble?: undefined }
  | { readonly writable?: undefined; readonly trouble: JournalTrouble }
);

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

const onlyToRead = ({ events, newer }: JournalText, trouble: JournalTrouble): OpenedFile => ({
  kind: 'opened-file',
  events,
  recovered: [],
  trouble: newer ?? trouble,
});

const notWritable = (path: string, what: string, error: unknown): JournalTrouble =>
  refuse('JOURNAL_NOT_WRITABLE', { why: troubleSentence(path, what, error) });

/** Under the lock: reads, and mends what a cut left. Whatever is not writable in the end, the caller closes and unlocks. */
const openLocked = async (
  folder: string,
  file: FileHandle,
  lock: Lock,
): Promise<OpenedFile | ReadRefused> => {
  const path = join(folder, JOURNAL_FILE);
  const text = await readFrom(file, path);
  if (text.kind === 'refused') return text;
  if (text.newer !== undefined) return onlyToRead(text, text.newer);
  try {
    const recovered = await keepTailAside(folder, file, text);
    const { size } = await file.stat();
    return { kind: 'opened-file', events: text.events, recovered, writable: { file, lock, size } };
  } catch (error) {
    return onlyToRead(text, notWritable(path, 'what a cut left in it was not put aside', error));
  }
};

const readBeside = async (folder: string, trouble: JournalTrouble): Promise<OpenedFile | ReadRefused> => {
  const text = await readJournal(folder);
  return text.kind === 'refused' ? text : onlyToRead(text, trouble);
};

const openForWriting = async (folder: string, path: string): Promise<OpenedFile | ReadRefused> => {
  const file = await open(path, constants.O_RDWR | constants.O_APPEND | WITHOUT_WAITING);
  const lock = await lockJob(folder);
  if (lock.kind === 'refused') {
    await file.close();
    return readBeside(folder, lock);
  }
  const opened = await openLocked(folder, file, lock);
  if (opened.kind === 'opened-file' && opened.writable !== undefined) return opened;
  await file.close();
  await lock.release();
  return opened;
};

/** Locks, reads and mends a journal's file; where it cannot be written, reads it all the same. Never throws. */
export const openJournalFile = async (folder: string): Promise<OpenedFile | ReadRefused> => {
  const path = join(folder, JOURNAL_FILE);
  try {
    return await openForWriting(folder, path);
  } catch (error) {
    const isReadable = hasCode(error, 'EACCES', 'EPERM', 'EROFS', 'ETXTBSY');
    return isReadable
      ? readBeside(folder, notWritable(path, 'not opened for writing', error))
      : notReadable(path, error);
  }
};
