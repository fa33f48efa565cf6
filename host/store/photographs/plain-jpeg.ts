import { spoilt, type PlainPicture, type Spoilt } from './picture';

/** Markers. Source: ITU-T T.81, table B.1. */
const START = 0xd8;
const END = 0xd9;
const HUFFMAN = 0xc4;
const QUANTISATION = 0xdb;
const RESTART_INTERVAL = 0xdd;
const SCAN = 0xda;
const FIRST_APPLICATION = 0xe0;
const ADOBE_APPLICATION = 0xee;
const LAST_APPLICATION = 0xef;
const COMMENT = 0xfe;
/** Baseline, extended sequential and progressive: what every reader of pictures and of PDF files knows. */
const FRAMES = [0xc0, 0xc1, 0xc2];
const TABLES = [HUFFMAN, QUANTISATION, RESTART_INTERVAL];

/** "JFIF", version 1.02, no density, no thumbnail. Source: ITU-T T.871, 10.1. */
const JFIF = Uint8Array.of(0xff, 0xe0, 0, 16, 0x4a, 0x46, 0x49, 0x46, 0, 1, 2, 0, 0, 1, 0, 1, 0, 0);

type Segment = { readonly marker: number; readonly from: number; readonly to: number };

const u16 = (bytes: Uint8Array, at: number): number => ((bytes[at] ?? 0) << 8) | (bytes[at + 1] ?? 0);
const begins = (bytes: Uint8Array, at: number, letters: string): boolean =>
  [...letters].every((letter, index) => bytes[at + index] === letter.charCodeAt(0));

/** The end of the coded data that follows a scan's head: the next marker that is no restart. Source: T.81, B.1.1.5. */
function endOfScan(bytes: Uint8Array, from: number): number {
  let at = bytes.indexOf(0xff, from);
  while (at >= 0 && at + 1 < bytes.length) {
    const next = bytes[at + 1] ?? 0;
    if (next !== 0 && !(next >= 0xd0 && next <= 0xd7)) return at;
    at = bytes.indexOf(0xff, at + 2);
  }
  return bytes.length;
}

/** The segment at a place, its marker's fill bytes passed over; undefined where the file ends or is none. */
function segmentAt(bytes: Uint8Array, at: number): Segment | undefined {
  if (bytes[at] !== 0xff) return undefined;
  let from = at;
  while (bytes[from + 1] === 0xff) from += 1;
  const marker = bytes[from + 1];
  if (marker === undefined) return undefined;
  if (marker === END) return { marker, from, to: from + 2 };
  const length = u16(bytes, from + 2);
  const to = from + 2 + length;
  return length < 2 || to > bytes.length ? undefined : { marker, from, to };
}

type Frame = { readonly widthPixel: number; readonly heightPixel: number };

/** Eight bits, one colour or three: a record shows no other. Source: T.81, B.2.2. */
function frameOf(bytes: Uint8Array, { from }: Segment): Frame | Spoilt {
  const [precision, components] = [bytes[from + 4], bytes[from + 9]];
  if (precision !== 8 || (components !== 1 && components !== 3))
    return spoilt('it has more than eight bits a colour, or colours for a printing press');
  const frame = { heightPixel: u16(bytes, from + 5), widthPixel: u16(bytes, from + 7) };
  return frame.heightPixel === 0 || frame.widthPixel === 0
    ? spoilt('it does not say how large it is')
    : frame;
}

/**
 * A JPEG of nothing but its picture: frame, tables, scans and how its colours are coded. Position, camera, comments,
 * thumbnails, profiles, and whatever follows the end of the picture are left out. Source: ITU-T T.81, annex B.
 */
export function plainJpeg(bytes: Uint8Array): PlainPicture | Spoilt {
  const kept: Uint8Array[] = [Uint8Array.of(0xff, START)];
  let frame: Frame | undefined;
  let scans = 0;
  let at = 2;
  for (;;) {
    const segment = segmentAt(bytes, at);
    if (segment === undefined) return spoilt('it is cut off or damaged');
    const { marker, from, to } = segment;
    at = to;
    if (marker === END) break;
    if (FRAMES.includes(marker)) {
      const found = frame === undefined ? frameOf(bytes, segment) : spoilt('it holds several pictures');
      if ('why' in found) return found;
      frame = found;
    }
    if (marker === SCAN) {
      at = endOfScan(bytes, to);
      scans += 1;
    }
    if (FRAMES.includes(marker) || TABLES.includes(marker) || marker === SCAN)
      kept.push(bytes.subarray(from, at));
    else if (marker === FIRST_APPLICATION && begins(bytes, from + 4, 'JFIF')) kept.splice(1, 0, JFIF);
    else if (marker === ADOBE_APPLICATION && begins(bytes, from + 4, 'Adobe') && to - from === 16)
      kept.push(bytes.subarray(from, to));
    else if ((marker < FIRST_APPLICATION || marker > LAST_APPLICATION) && marker !== COMMENT)
      return spoilt('it is coded in a way that most programs cannot show');
  }
  if (frame === undefined || scans === 0) return spoilt('there is no picture in it');
  kept.push(Uint8Array.of(0xff, END));
  return { kind: 'jpeg', bytes: Buffer.concat(kept), ...frame };
}
