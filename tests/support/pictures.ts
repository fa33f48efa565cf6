import { crc32, deflateSync } from 'node:zlib';

/** Real pictures, made byte by byte: what a camera, a program or somebody who means harm might send. */

const segment = (marker: number, payload: Uint8Array): Buffer =>
  Buffer.concat([Buffer.of(0xff, marker, (payload.length + 2) >> 8, (payload.length + 2) & 0xff), payload]);

/** Twelve sizes of steps from one block to the next, four bits each; no detail within a block. Source: T.81, annex K.2 for the form. */
const STEP_TABLE = Buffer.of(
  0x00,
  0,
  0,
  0,
  12,
  ...Array<number>(12).fill(0),
  ...Array.from({ length: 12 }, (_, i) => i),
);
const NO_DETAIL_TABLE = Buffer.of(0x10, 1, ...Array<number>(15).fill(0), 0x00);

/** Writes bits, high first; a byte of ones is followed by one of zeros. Source: T.81, F.1.2.3. */
class Bits {
  readonly bytes: number[] = [];
  #held = 0;
  #count = 0;
  put(value: number, length: number): void {
    for (let bit = length - 1; bit >= 0; bit -= 1) {
      this.#held = (this.#held << 1) | ((value >> bit) & 1);
      this.#count += 1;
      if (this.#count < 8) continue;
      this.bytes.push(this.#held);
      if (this.#held === 0xff) this.bytes.push(0);
      [this.#held, this.#count] = [0, 0];
    }
  }
  end(): number[] {
    while (this.#count > 0) this.put(1, 1);
    return this.bytes;
  }
}

/** Grey squares of 8 pixels, from black to white and back: baseline JPEG of one colour. */
function scanData(blocks: number): Buffer {
  const bits = new Bits();
  let last = 0;
  for (let block = 0; block < blocks; block += 1) {
    const level = Math.round(1000 * Math.sin(block / 3));
    const step = level - last;
    last = level;
    const size = step === 0 ? 0 : Math.floor(Math.log2(Math.abs(step))) + 1;
    bits.put(size, 4);
    if (size > 0) bits.put(step > 0 ? step : step + 2 ** size - 1, size);
    bits.put(0, 1);
  }
  return Buffer.from(bits.end());
}

const frame = (width: number, height: number, marker = 0xc0): Buffer =>
  segment(marker, Buffer.of(8, height >> 8, height & 255, width >> 8, width & 255, 1, 1, 0x11, 0));

type JpegWish = {
  readonly widthPixel?: number;
  readonly heightPixel?: number;
  /** After the start, as a camera puts them. */
  readonly notes?: readonly Buffer[];
  /** After the end: a film, another picture. */
  readonly after?: Buffer;
  readonly frameMarker?: number;
};

export function jpeg({
  widthPixel = 160,
  heightPixel = 128,
  notes = [],
  after,
  frameMarker,
}: JpegWish = {}): Buffer {
  const blocks = Math.ceil(widthPixel / 8) * Math.ceil(heightPixel / 8);
  return Buffer.concat([
    Buffer.of(0xff, 0xd8),
    ...notes,
    segment(0xdb, Buffer.of(0, ...Array<number>(64).fill(1))),
    frame(widthPixel, heightPixel, frameMarker),
    segment(0xc4, STEP_TABLE),
    segment(0xc4, NO_DETAIL_TABLE),
    segment(0xda, Buffer.of(1, 1, 0, 0, 63, 0)),
    scanData(blocks),
    Buffer.of(0xff, 0xd9),
    ...(after === undefined ? [] : [after]),
  ]);
}

/** What only the notes hold; none of it may be found in what is kept. */
export const SECRETS = [
  'TERN CAMERA 9',
  'Exif',
  'secret caption',
  'http://ns.adobe.com',
  'GPSLatitude',
  'ftypisom',
];

type Entry = readonly [tag: number, type: number, count: number, value: Buffer];

/** A directory of a TIFF file, big end first; what is longer than four bytes lies behind it. Source: TIFF 6.0, section 2. */
function directory(entries: readonly Entry[], at: number): Buffer {
  const head = 2 + 12 * entries.length + 4;
  const tail: Buffer[] = [];
  let free = at + head;
  const rows = entries.map(([tag, type, count, value]) => {
    const row = Buffer.alloc(12);
    row.writeUInt16BE(tag, 0);
    row.writeUInt16BE(type, 2);
    row.writeUInt32BE(count, 4);
    if (value.length <= 4) value.copy(row, 8);
    else {
      row.writeUInt32BE(free, 8);
      tail.push(value);
      free += value.length;
    }
    return row;
  });
  return Buffer.concat([Buffer.of(0, entries.length), ...rows, Buffer.alloc(4), ...tail]);
}

const long = (value: number): Buffer => {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32BE(value);
  return bytes;
};
/** 51 degrees 28 minutes 40.12 seconds, as three fractions. */
export const LATITUDE = Buffer.concat([51, 1, 28, 1, 4012, 100].map(long));

/** Camera, position and a thumbnail of its own. Source: Exif 2.3 (CIPA DC-008), 4.5.4 and 4.6.6 for the tags. */
export function exif(): Buffer {
  const first: Entry[] = [
    [0x0110, 2, 14, Buffer.from('TERN CAMERA 9\0')],
    [0x0112, 3, 1, Buffer.of(0, 6, 0, 0)],
  ];
  const camera = 8 + 2 + 12 * 3 + 4 + 14;
  const gps: Entry[] = [
    [0x0001, 2, 2, Buffer.from('N\0')],
    [0x0002, 5, 3, LATITUDE],
  ];
  return segment(
    0xe1,
    Buffer.concat([
      Buffer.from('Exif\0\0MM\0*'),
      long(8),
      directory([...first, [0x8825, 4, 1, long(camera)]], 8),
      directory(gps, camera),
      jpeg({ widthPixel: 16, heightPixel: 16 }),
    ]),
  );
}

export const jfif = (): Buffer =>
  segment(
    0xe0,
    Buffer.concat([Buffer.from('JFIF\0'), Buffer.of(1, 1, 1, 0, 72, 0, 72, 1, 1), Buffer.of(9, 9, 9)]),
  );
export const xmp = (): Buffer =>
  segment(0xe1, Buffer.from('http://ns.adobe.com/xap/1.0/\0<x:xmpmeta GPSLatitude="51,28.668N"/>'));
export const comment = (): Buffer => segment(0xfe, Buffer.from('secret caption'));

/** As a telephone writes it: everything above, and a film behind the picture. */
export const telephoneJpeg = (): Buffer =>
  jpeg({
    notes: [jfif(), exif(), xmp(), comment()],
    after: Buffer.concat([Buffer.from('....ftypisom'), LATITUDE]),
  });

const chunk = (name: string, data: Uint8Array): Buffer => {
  const named = Buffer.concat([Buffer.from(name), data]);
  return Buffer.concat([long(data.length), named, long(crc32(named))]);
};

const grey = (widthPixel: number, heightPixel: number): Buffer => {
  const rows = Buffer.alloc(heightPixel * (1 + 3 * widthPixel), 0x5a);
  for (let row = 0; row < heightPixel; row += 1) rows[row * (1 + 3 * widthPixel)] = 0;
  return deflateSync(rows);
};

/** A PNG of eight bits a colour, with words and a position in it. Source: PNG (W3C, third edition), 11.2 and 11.3. */
export function png(widthPixel = 160, heightPixel = 128, rows?: Buffer): Buffer {
  return Buffer.concat([
    Buffer.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a),
    chunk('IHDR', Buffer.concat([long(widthPixel), long(heightPixel), Buffer.of(8, 2, 0, 0, 0)])),
    chunk('tEXt', Buffer.from('Comment\0secret caption')),
    chunk('eXIf', Buffer.concat([Buffer.from('MM\0*TERN CAMERA 9'), LATITUDE])),
    chunk('IDAT', rows ?? grey(widthPixel, heightPixel)),
    chunk('IEND', Buffer.alloc(0)),
    Buffer.from('ftypisom'),
  ]);
}
