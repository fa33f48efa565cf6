import { stat, type FileHandle } from 'node:fs/promises';
import { refuse } from '../refusals';
import { hasCode } from './file-trouble';
import type { JournalTrouble } from './journal-trouble';

/** What a person reads is what lies under the journal's name: is that still the file that is written, as it was left? */
export const placeTrouble = async (
  { path, file }: { readonly path: string; readonly file: FileHandle },
  size: number,
): Promise<JournalTrouble | undefined> => {
  const held = await file.stat({ bigint: true });
  const found = await stat(path, { bigint: true }).catch((error: unknown) => {
    if (hasCode(error, 'ENOENT', 'ENOTDIR')) return undefined;
    throw error;
  });
  if (found === undefined) return refuse('JOURNAL_GONE', { path });
  if (found.ino !== held.ino || found.dev !== held.dev) {
    return refuse('JOURNAL_REPLACED', { path });
  }
  if (held.size !== BigInt(size)) {
    return refuse('JOURNAL_CHANGED', { path, bytes: held.size, leftBytes: size });
  }
  return undefined;
};
