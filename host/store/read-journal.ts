import { constants } from 'node:fs';
import { open, type FileHandle } from 'node:fs/promises';
import { join } from 'node:path';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import { fileTrouble, hasCode, troubleSentence } from './file-trouble';
import { inSlices } from './in-slices';
import { journalParser, type JournalProblem, type JournalText } from './journal-text';

export const JOURNAL_FILE = 'job.ndjson';

export type ReadRefused =
  | JournalProblem
  | Refused<'JOURNAL_MISSING' | 'JOURNAL_UNREADABLE' | 'JOURNAL_NOT_A_FILE'>;

/** Nobody waits for a pipe that has no other end. */
export const WITHOUT_WAITING = constants.O_NONBLOCK;

export const notReadable = (file: string, error: unknown): ReadRefused => {
  if (hasCode(error, 'ENOENT', 'ENOTDIR')) {
    return refuse('JOURNAL_MISSING', { path: file, name: JOURNAL_FILE });
  }
  if (hasCode(error, 'EISDIR', 'ENXIO', 'ENODEV'))
    return refuse('JOURNAL_NOT_A_FILE', { path: file, why: fileTrouble(error).cause });
  return refuse('JOURNAL_UNREADABLE', { why: troubleSentence(file, 'not read', error) });
};

/** Reads an open journal from its start. */
export const readFrom = async (handle: FileHandle, file: string): Promise<JournalText | ReadRefused> => {
  try {
    if (!(await handle.stat()).isFile())
      return refuse('JOURNAL_NOT_A_FILE', { path: file, why: 'it is no file' });
    return await inSlices(journalParser(await readWhole(handle), file));
  } catch (error) {
    return notReadable(file, error);
  }
};

/** From the start, wherever the handle stands. */
const readWhole = async (handle: FileHandle): Promise<Uint8Array> => {
  const { size } = await handle.stat();
  const bytes = Buffer.alloc(size);
  let length = 0;
  while (length < size) {
    const { bytesRead } = await handle.read(bytes, length, size - length, length);
    if (bytesRead === 0) break;
    length += bytesRead;
  }
  return bytes.subarray(0, length);
};

/**
 * Reads a journal without locking or changing it. Refuses as `parseJournal`, and JOURNAL_MISSING, JOURNAL_UNREADABLE,
 * JOURNAL_NOT_A_FILE.
 */
export const readJournal = async (folder: string): Promise<JournalText | ReadRefused> => {
  const file = join(folder, JOURNAL_FILE);
  try {
    const handle = await open(file, constants.O_RDONLY | WITHOUT_WAITING);
    try {
      return await readFrom(handle, file);
    } finally {
      await handle.close();
    }
  } catch (error) {
    return notReadable(file, error);
  }
};
