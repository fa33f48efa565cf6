import { readFileSync } from 'node:fs';

/** A piece of the image and where in the flash it goes, bytes from the start of the flash. */
export type Segment = { readonly offset: number; readonly bytes: Uint8Array };

const FLASH_START = 0x1000_0000;
const BLOCK_BYTES = 512;
/** UF2 file format: two words at the start of each block and one at its end. */
const MAGIC = { first: 0x0a32_4655, second: 0x9e5d_5157, last: 0x0ab1_6f30 } as const;
/** Family of the RP2040 in the list that comes with the format; other families are for other chips. */
const FAMILY_RP2040 = 0xe48b_ff56;

/** The blocks of a UF2 file that belong to the RP2040. Throws when the file is none. */
export function readImage(path: string): Segment[] {
  const file = readFileSync(path);
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  const segments: Segment[] = [];
  for (let at = 0; at + BLOCK_BYTES <= file.length; at += BLOCK_BYTES) {
    const word = (offset: number): number => view.getUint32(at + offset, true);
    if (word(0) !== MAGIC.first || word(4) !== MAGIC.second || word(508) !== MAGIC.last) {
      throw new Error(`${path} is not a UF2 file: the block at byte ${at} does not begin and end like one.`);
    }
    if (word(28) !== FAMILY_RP2040) continue;
    const bytes = file.subarray(at + 32, at + 32 + word(16));
    segments.push({ offset: word(12) - FLASH_START, bytes });
  }
  if (segments.length === 0) throw new Error(`${path} holds nothing for the RP2040.`);
  return segments;
}

/**
 * Where the interpreter of the runtime begins, from the map file that the SDK leaves beside the image; its name there is
 * the runtime's own. From entry to return is the time of one callback. Throws when the map does not have it.
 */
export function readInterpreterEntry(path: string): number {
  const found = /\.(?:text|time_critical)\.fxRunID\s+0x([0-9a-f]+)/.exec(readFileSync(path, 'utf8'));
  if (found?.[1] === undefined) throw new Error(`${path} does not say where the interpreter (fxRunID) lies.`);
  return Number.parseInt(found[1], 16);
}

const BOOT_ROM_BYTES = 16 * 1024;

/** The boot ROM of the RP2040 as the chip reads it: 16 KB, little-endian words. Throws on another size. */
export function readBootRom(path: string): Uint32Array {
  const file = readFileSync(path);
  if (file.length > BOOT_ROM_BYTES || file.length % 4 !== 0) {
    throw new Error(`${path} is no boot ROM: it has ${file.length} bytes, at most ${BOOT_ROM_BYTES} fit.`);
  }
  const words = new Uint32Array(file.length / 4);
  for (let index = 0; index < words.length; index += 1) words[index] = file.readUInt32LE(4 * index);
  return words;
}
