import { stat, type FileHandle } from 'node:fs/promises';
import { refuse } from '../core/result';
import { hasCode } from './file-trouble';
import { AGAIN, type JournalTrouble } from './journal-trouble';

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
  if (found === undefined)
    return refuse('JOURNAL_GONE', `${path}: it was moved or removed; put the folder back, ${AGAIN}`);
  if (found.ino !== held.ino || found.dev !== held.dev) {
    return refuse(
      'JOURNAL_REPLACED',
      `${path}: another file was put in its place; end the program that did it (an editor, a folder that syncs itself), ${AGAIN}`,
    );
  }
  if (held.size !== BigInt(size)) {
    const told = `${held.size} bytes where ${size} were left`;
    return refuse(
      'JOURNAL_CHANGED',
      `${path}: another program changed it (${told}); end that program, ${AGAIN}`,
    );
  }
  return undefined;
};
