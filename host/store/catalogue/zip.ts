import { strToU8, unzipSync, zipSync } from 'fflate';

/** The one door to the zip library: no other file knows which it is. */
export type ZipFiles = Readonly<Record<string, string | Uint8Array>>;

/** The day that every file of an archive bears, so that the same content makes the same bytes: the first a zip can say. */
const NO_DAY = new Date(1980, 0, 1);
const LEVEL = 6;

export const zipOf = (files: ZipFiles): Uint8Array =>
  zipSync(
    Object.fromEntries(
      Object.entries(files).map(([name, content]) => [
        name,
        typeof content === 'string' ? strToU8(content) : content,
      ]),
    ),
    {
      level: LEVEL,
      mtime: NO_DAY,
    },
  );

/** A zip begins so. Source: PKWARE APPNOTE, 4.3.7. */
export const isZip = (bytes: Uint8Array): boolean =>
  bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 0x03 && bytes[3] === 0x04;

/** The names of all files of an archive, in its order, each as often as it is there; nothing is unpacked. */
export function namesIn(bytes: Uint8Array): readonly string[] | { readonly why: string } {
  const names: string[] = [];
  try {
    unzipSync(bytes, {
      filter: ({ name }) => {
        names.push(name);
        return false;
      },
    });
    return names;
  } catch (error) {
    return {
      why: `it is no zip, or a damaged one (${error instanceof Error ? error.message : String(error)})`,
    };
  }
}

export type Unzipped =
  | { readonly kind: 'unzipped'; readonly files: ReadonlyMap<string, Uint8Array> }
  | { readonly kind: 'too-large'; readonly name: string }
  | { readonly kind: 'damaged'; readonly why: string };

/**
 * The wanted files of an archive. What an archive says of a file's size is all the room the file gets: one that unpacks to
 * more than `mostBytes` is not unpacked, and one that lies is cut and then found out by its hashes.
 */
export function unzip(bytes: Uint8Array, wanted: readonly string[], mostBytes: number): Unzipped {
  let tooLarge: string | undefined;
  let left = mostBytes;
  try {
    const files = unzipSync(bytes, {
      filter: ({ name, originalSize }) => {
        if (!wanted.includes(name)) return false;
        left -= originalSize;
        if (left < 0) tooLarge = name;
        return tooLarge === undefined;
      },
    });
    if (tooLarge !== undefined) return { kind: 'too-large', name: tooLarge };
    return { kind: 'unzipped', files: new Map(Object.entries(files)) };
  } catch (error) {
    return { kind: 'damaged', why: error instanceof Error ? error.message : String(error) };
  }
}
