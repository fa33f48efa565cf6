import { close, constants, fstat, open, readFile } from 'node:fs';
import { Socket } from 'node:net';
import { promisify } from 'node:util';

/**
 * A whole file as bytes. A pipe (`<(command)`, a named one) is read as it comes, without a call that nothing could end:
 * while nobody writes to it the program waits and can be told to end.
 * Rejects as the system does; a device (`EDEVICE`) is nothing to read a table from.
 */
export async function readWholeFile(path: string): Promise<Uint8Array> {
  // Without O_NONBLOCK the opening of a pipe that nobody writes to never comes back.
  const file = await promisify(open)(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
  let isOurs = true;
  try {
    const found = await promisify(fstat)(file);
    if (found.isCharacterDevice() || found.isBlockDevice())
      throw Object.assign(new Error('a device'), { code: 'EDEVICE' });
    if (found.isDirectory()) throw Object.assign(new Error('a folder'), { code: 'EISDIR' });
    if (!found.isFIFO()) return await promisify(readFile)(file);
    isOurs = false;
    return await readPipe(new Socket({ fd: file, readable: true, writable: false }));
  } finally {
    if (isOurs) await promisify(close)(file);
  }
}

/** The socket closes what it was given. */
async function readPipe(pipe: Socket): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of pipe) chunks.push(Buffer.from(chunk));
  return Buffer.concat(chunks);
}
