/** Why a file could not be read, made or written, and what a person does about it. */
export type FileTrouble = { readonly code: string; readonly cause: string; readonly remedy: string };

const NOT_ALLOWED = {
  cause: 'this user may not write there',
  remedy: 'give this user the right to write in the folder, or copy the folder to one of your own',
};
const FULL = { cause: 'the disk is full', remedy: 'make room on the disk' };
const TOO_MANY = { cause: 'too many files are open', remedy: 'close other programs' };

/** Source of the codes: POSIX.1-2017, System Interfaces, 2.3 Error Numbers; ERR_FS_EISDIR: Node.js, Errors. */
const KNOWN: Readonly<Record<string, Omit<FileTrouble, 'code'>>> = {
  EACCES: NOT_ALLOWED,
  EPERM: NOT_ALLOWED,
  EROFS: {
    cause: 'the medium can only be read',
    remedy: 'copy the folder to a disk that can be written',
  },
  ENOSPC: FULL,
  EDQUOT: { cause: 'this user has no room left on the disk', remedy: 'make room, or ask for more' },
  EFBIG: { cause: 'the file may not grow any further', remedy: 'lift the limit on the size of files' },
  ENAMETOOLONG: {
    cause: 'the name is too long for this disk',
    remedy: 'give the folder a name of at most 255 bytes',
  },
  EIO: {
    cause: 'the disk does not answer as it should',
    remedy: 'look at its cable or card; copy the folder to another disk while it can be read',
  },
  ENOENT: { cause: 'it is no longer there', remedy: 'put the folder back where it was' },
  ENOTDIR: { cause: 'a part of its path is a file', remedy: 'look at the path' },
  ELOOP: { cause: 'its links lead round in a circle', remedy: 'replace the link by the folder itself' },
  EMFILE: TOO_MANY,
  ENFILE: TOO_MANY,
  ENXIO: { cause: 'it is no file', remedy: 'move it away and put the file back' },
  EISDIR: { cause: 'it is a folder, not a file', remedy: 'move it away and put the file back' },
  ERR_FS_EISDIR: { cause: 'a folder lies in its place', remedy: 'move that folder away' },
};

export const hasCode = (error: unknown, ...codes: readonly string[]): boolean =>
  error instanceof Error && 'code' in error && codes.some((code) => code === error.code);

/** Cause and remedy of what a file call threw; what is not known is told as the system told it. */
export const fileTrouble = (error: unknown): FileTrouble => {
  const code = error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';
  const known = KNOWN[code];
  if (known !== undefined) return { code, ...known };
  const told = error instanceof Error ? error.message : String(error);
  return { code, cause: told, remedy: 'mend that, then try again' };
};

/** "jobs/a/job.ndjson: not written, the disk is full (ENOSPC). Make room on the disk." */
export const troubleSentence = (path: string, what: string, error: unknown): string => {
  const { code, cause, remedy } = fileTrouble(error);
  const todo = `${remedy.charAt(0).toUpperCase()}${remedy.slice(1)}`;
  return `${path}: ${what}, ${cause}${code === '' ? '' : ` (${code})`}. ${todo}.`;
};
