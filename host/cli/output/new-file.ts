import { writeFile } from 'node:fs/promises';
import { InputError } from '../input-error';

/** A file that a person asked for by name; what is there already may be somebody's only copy. */
export async function writeNew(file: string, content: Uint8Array | string): Promise<void> {
  try {
    await writeFile(file, content, { flag: 'wx' });
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : undefined;
    const why =
      code === 'EEXIST'
        ? 'this file is there already; name another, or remove it first'
        : `it could not be written (${error instanceof Error ? error.message : String(error)})`;
    throw new InputError(why, { file }, { cause: error });
  }
}
