import type { Refused } from '../../core/result';
import { PHOTOGRAPH_LIMITS } from '../../job/schema/photograph';
import { refuse } from '../../refusals';
import { spoilt, type PlainPicture } from './picture';
import { plainJpeg } from './plain-jpeg';
import { plainPng, PNG_SIGNATURE } from './plain-png';

export type PictureRefused = Refused<
  'PHOTOGRAPH_NO_PICTURE' | 'PHOTOGRAPH_TOO_LARGE' | 'PHOTOGRAPH_TOO_SMALL'
>;

const begins = (bytes: Uint8Array, with_: Uint8Array): boolean =>
  with_.every((byte, index) => bytes[index] === byte);
const JPEG_BEGINS = Uint8Array.of(0xff, 0xd8, 0xff);

/**
 * The picture in a file, without what a camera wrote beside it. What the file is called says nothing: its bytes do.
 * Refuses what is neither JPEG nor PNG, is not whole, or is larger or smaller than a job keeps.
 */
export async function plainPicture(given: Uint8Array): Promise<PlainPicture | PictureRefused> {
  const { mostBytes, mostSidePixel, leastSidePixel } = PHOTOGRAPH_LIMITS;
  if (given.length > mostBytes) return tooLarge;
  const bytes = Buffer.from(given.buffer, given.byteOffset, given.length);
  const found = begins(bytes, JPEG_BEGINS)
    ? plainJpeg(bytes)
    : begins(bytes, PNG_SIGNATURE)
      ? await plainPng(bytes, mostSidePixel ** 2)
      : spoilt('its bytes are neither those of a JPEG nor those of a PNG');
  if (found.kind === 'spoilt') return refuse('PHOTOGRAPH_NO_PICTURE', { why: found.why });
  const sides = [found.widthPixel, found.heightPixel];
  if (Math.max(...sides) > mostSidePixel) return tooLarge;
  if (Math.min(...sides) < leastSidePixel) return refuse('PHOTOGRAPH_TOO_SMALL', { leastSidePixel });
  return found;
}

const tooLarge = refuse('PHOTOGRAPH_TOO_LARGE', PHOTOGRAPH_LIMITS);
