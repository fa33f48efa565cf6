import { promisify } from 'node:util';
import { crc32, inflate } from 'node:zlib';
import { spoilt, type PlainPicture, type Spoilt } from './picture';

/** Source: PNG (W3C, third edition), 5.2. */
export const PNG_SIGNATURE = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a);

/** What the picture is made of and how its colours are meant; every other chunk is left out. Source: PNG, 11.2 and 11.3. */
const KEPT = ['IHDR', 'PLTE', 'tRNS', 'gAMA', 'cHRM', 'sRGB', 'sBIT', 'IDAT', 'IEND'];

type Chunk = { readonly name: string; readonly whole: Buffer; readonly data: Buffer };

function chunkAt(bytes: Buffer, at: number): Chunk | undefined {
  if (at + 12 > bytes.length) return undefined;
  const end = at + 12 + bytes.readUInt32BE(at);
  if (end > bytes.length) return undefined;
  const data = bytes.subarray(at + 8, end - 4);
  if (crc32(bytes.subarray(at + 4, end - 4)) !== bytes.readUInt32BE(end - 4)) return undefined;
  return { name: bytes.toString('latin1', at + 4, at + 8), whole: bytes.subarray(at, end), data };
}

/** Samples a pixel, by the colour type. Source: PNG, 11.2.1. */
const SAMPLES: Readonly<Record<number, number>> = { 0: 1, 2: 3, 3: 1, 4: 2, 6: 4 };

type Head = { readonly widthPixel: number; readonly heightPixel: number; readonly rawBytes: number };

function headOf({ name, data }: Chunk): Head | Spoilt {
  if (name !== 'IHDR' || data.length !== 13) return spoilt('it does not say how large it is');
  const [widthPixel, heightPixel] = [data.readUInt32BE(0), data.readUInt32BE(4)];
  const samples = SAMPLES[data[9] ?? -1];
  if (data[8] !== 8 || samples === undefined || data[12] !== 0)
    return spoilt(
      'it is coded in a way that a record does not show (not eight bits a colour, or interlaced)',
    );
  // A byte before each row names its filter. Source: PNG, 9.2.
  return { widthPixel, heightPixel, rawBytes: heightPixel * (1 + widthPixel * samples) };
}

/**
 * A PNG of nothing but its picture, its compressed rows tried: they unpack to as many bytes as its head says, no more.
 * Refuses before it unpacks anything a picture of more than `mostPixels`.
 */
export async function plainPng(bytes: Buffer, mostPixels: number): Promise<PlainPicture | Spoilt> {
  const kept: Chunk[] = [];
  for (let at: number = PNG_SIGNATURE.length; kept.at(-1)?.name !== 'IEND';) {
    const chunk = chunkAt(bytes, at);
    if (chunk === undefined) return spoilt('it is cut off or damaged');
    if (KEPT.includes(chunk.name)) kept.push(chunk);
    at += chunk.whole.length;
  }
  const [first] = kept;
  const head = first === undefined ? spoilt('there is no picture in it') : headOf(first);
  if ('why' in head) return head;
  const { widthPixel, heightPixel, rawBytes } = head;
  const rows = Buffer.concat(kept.filter(({ name }) => name === 'IDAT').map(({ data }) => data));
  const isWhole =
    widthPixel * heightPixel <= mostPixels
      ? await unpacksTo(rows, rawBytes)
      : // Its size is refused by whoever asked.
        true;
  if (!isWhole) return spoilt('its rows are damaged');
  return {
    kind: 'png',
    bytes: Buffer.concat([PNG_SIGNATURE, ...kept.map(({ whole }) => whole)]),
    widthPixel,
    heightPixel,
  };
}

const unpacksTo = (packed: Buffer, length: number): Promise<boolean> =>
  promisify(inflate)(packed, { maxOutputLength: length }).then(
    (raw) => raw.length === length,
    () => false,
  );
