import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { removeOthers, writePhotograph } from '../../host/store/photographs/photograph-files';
import type { PlainPicture } from '../../host/store/photographs/picture';
import { plainPicture } from '../../host/store/photographs/plain-picture';
import { exif, jpeg, LATITUDE, png, SECRETS, telephoneJpeg } from '../support/pictures';

async function plain(bytes: Uint8Array): Promise<PlainPicture> {
  const found = await plainPicture(bytes);
  if (found.kind === 'refused') throw new Error(found.message);
  return found;
}

const codeOf = async (bytes: Uint8Array): Promise<string> => {
  const found = await plainPicture(bytes);
  return found.kind === 'refused' ? found.code : found.kind;
};

describe('a photograph as a job keeps it', () => {
  it.each([
    ['JPEG of a telephone', telephoneJpeg(), 'jpeg'],
    ['PNG', png(), 'png'],
  ] as const)('is the picture of a %s and nothing that was written beside it', async (_, given, kind) => {
    for (const secret of SECRETS.slice(0, 3)) if (kind === 'jpeg') expect(given.includes(secret)).toBe(true);
    expect(given.includes(LATITUDE)).toBe(true);
    const { bytes, ...said } = await plain(given);
    expect(said).toEqual({ kind, widthPixel: 160, heightPixel: 128 });
    for (const secret of [...SECRETS, LATITUDE]) expect(bytes.includes(secret)).toBe(false);
  });

  it('has the same rows of pixels, bit for bit: only what stands beside them is gone', async () => {
    // The bare picture has no notes; what is left of one with all of them is that, and a JFIF head without a thumbnail.
    const { bytes } = await plain(telephoneJpeg());
    const bare = jpeg();
    expect(bytes.subarray(2 + 18).equals(bare.subarray(2))).toBe(true);
    expect((await plain(bare)).bytes.equals(bare)).toBe(true);
  });

  it('is made plain once: a second time nothing changes', async () => {
    for (const given of [telephoneJpeg(), png()]) {
      const { bytes } = await plain(given);
      expect((await plain(bytes)).bytes.equals(bytes)).toBe(true);
    }
  });
});

it('says what a person does about a photograph that cannot be written, or not be deleted', async () => {
  const place = join(tmpdir(), 'no-such-folder', 'job');
  expect(await writePhotograph(place, 'photograph-f2.jpg', jpeg())).toMatchObject({
    code: 'PHOTOGRAPH_FILE',
  });
  const refused = await removeOthers(place, []);
  expect(refused?.code).toBe('PHOTOGRAPH_FILE');
  expect(refused?.message).toContain('Put the folder back');
});

describe('what is no photograph', () => {
  const cut = telephoneJpeg();
  it.each([
    ['a text that is called a picture', Buffer.from('hello, I am dial.jpg')],
    ['nothing', Buffer.alloc(0)],
    [
      'a page with a script',
      Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'),
    ],
    ['a JPEG that begins and does not go on', Buffer.of(0xff, 0xd8, 0xff)],
    ['a JPEG that is cut off in its notes', cut.subarray(0, 60)],
    ['a JPEG of notes alone', Buffer.concat([Buffer.of(0xff, 0xd8), exif(), Buffer.of(0xff, 0xd9)])],
    ['a JPEG without losses, which few programs show', jpeg({ frameMarker: 0xc3 })],
    ['a PNG cut off', png().subarray(0, 200)],
    ['a PNG with a wrong byte in it', Buffer.from(png()).fill(7, 150, 151)],
    ['a PNG whose rows unpack to more than it says', png(160, 128, deflateSync(Buffer.alloc(50_000_000)))],
    ['a PNG whose rows are too few', png(160, 128, deflateSync(Buffer.alloc(100)))],
  ])('is refused: %s', async (_, bytes) => {
    expect(await codeOf(bytes)).toBe('PHOTOGRAPH_NO_PICTURE');
  });

  it.each([
    [
      'more bytes than a job keeps',
      Buffer.concat([jpeg(), Buffer.alloc(3 * 2 ** 20)]),
      'PHOTOGRAPH_TOO_LARGE',
    ],
    ['more pixels', jpeg({ widthPixel: 4008, heightPixel: 128 }), 'PHOTOGRAPH_TOO_LARGE'],
    [
      'a PNG of more pixels, before it is unpacked',
      png(60_000, 60_000, deflateSync(Buffer.alloc(10))),
      'PHOTOGRAPH_TOO_LARGE',
    ],
    ['a thumbnail', jpeg({ widthPixel: 16, heightPixel: 16 }), 'PHOTOGRAPH_TOO_SMALL'],
  ])('is refused for its size: %s', async (_, bytes, code) => {
    expect(await codeOf(bytes)).toBe(code);
  });
});
