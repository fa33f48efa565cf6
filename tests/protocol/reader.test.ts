import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FrameReader, MAX_STUFFED_BYTES, cobsBound, cobsEncode, crc32, encodeFrame } from '../../protocol';
import type { Damage } from '../../protocol';
import { anyMessage } from './arbitraries';

type Got = { frames: string[]; damages: Damage[]; mostPending: number };

function readInPieces(bytes: Uint8Array, cuts: readonly number[]): Got {
  const got: Got = { frames: [], damages: [], mostPending: 0 };
  const reader = new FrameReader({
    frame: ({ type, sequence, view, offset, length }) => {
      got.frames.push([type, sequence, ...new Uint8Array(view.buffer, offset, length)].join(','));
    },
    damage: (damage) => got.damages.push(damage),
  });
  const edges = [...new Set(cuts.map((cut) => cut % (bytes.length + 1)))].sort((a, b) => a - b);
  let from = 0;
  for (const to of [...edges, bytes.length]) {
    reader.push(bytes.slice(from, to));
    got.mostPending = Math.max(got.mostPending, reader.pendingBytes);
    from = to;
  }
  return got;
}

const join = (pieces: readonly Uint8Array[]): Uint8Array =>
  Uint8Array.from(pieces.flatMap((piece) => [...piece]));

/** Any bytes as a frame body, right in everything but what the caller chose. */
function stuffed(plain: Uint8Array): Uint8Array {
  const target = new Uint8Array(cobsBound(plain.length) + 1);
  return target.slice(0, cobsEncode({ bytes: plain, length: plain.length }, target, 0) + 1);
}

const messagesOf = fc.array(
  anyMessage().map((message) => encodeFrame(message)),
  { minLength: 1, maxLength: 8 },
);
const cutsOf = fc.array(fc.nat(600));

describe('FrameReader', () => {
  it('delivers the same frames however the bytes are cut', () => {
    fc.assert(
      fc.property(messagesOf, cutsOf, (pieces, cuts) => {
        const whole = readInPieces(join(pieces), []);
        expect(whole.frames).toHaveLength(pieces.length);
        expect(readInPieces(join(pieces), cuts)).toMatchObject({ frames: whole.frames, damages: [] });
      }),
    );
  });

  it('never throws and never grows, and every frame it delivers has the right CRC, whatever arrives', () => {
    const noise = fc.oneof(fc.uint8Array({ maxLength: 400 }), messagesOf.map(join));
    fc.assert(
      fc.property(fc.array(noise, { maxLength: 6 }), cutsOf, (pieces, cuts) => {
        const bytes = join(pieces);
        const got = readInPieces(bytes, cuts);
        expect(got.mostPending).toBeLessThanOrEqual(MAX_STUFFED_BYTES);
        // A second, independent reading: split at zeros, unstuff, compare the CRC.
        expect(got.frames).toEqual(independentFrames(bytes));
      }),
    );
  });

  it('loses at most the damaged frame when one byte is changed', () => {
    fc.assert(
      fc.property(messagesOf, fc.nat(), fc.integer({ min: 1, max: 255 }), (pieces, where, flip) => {
        const bytes = join(pieces);
        const before = readInPieces(bytes, []).frames;
        const at = where % bytes.length;
        bytes[at] = bytes[at]! ^ flip;
        const after = readInPieces(bytes, []).frames;
        // A changed delimiter between two frames is followed by the extra delimiter of the next: still one frame lost.
        expect(before.filter((frame) => !after.includes(frame)).length).toBeLessThanOrEqual(1);
        expect(after.length).toBeGreaterThanOrEqual(before.length - 1);
      }),
    );
  });

  it('resumes at the next delimiter after rubbish of any length', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 500 }), anyMessage(), (rubbish, message) => {
        const wanted = readInPieces(encodeFrame(message), []).frames;
        expect(readInPieces(join([rubbish, encodeFrame(message)]), []).frames.slice(-1)).toEqual(wanted);
      }),
    );
  });

  it('names what was wrong with a run of bytes', () => {
    const good = Uint8Array.of(1, 2, 3, 0, 0, 0, 0);
    new DataView(good.buffer).setUint32(3, crc32(good, 3), true);
    const badCrc = good.slice();
    badCrc[6] = badCrc[6]! ^ 1;
    expect(readInPieces(stuffed(good), [])).toMatchObject({ damages: [] });
    expect(readInPieces(stuffed(badCrc), [])).toMatchObject({ frames: [], damages: ['CRC'] });
    expect(readInPieces(stuffed(Uint8Array.of(1, 2, 3)), []).damages).toEqual(['TOO_SHORT']);
    expect(readInPieces(Uint8Array.of(9, 1, 2, 0), []).damages).toEqual(['STUFFING']);
    expect(
      readInPieces(join([new Uint8Array(MAX_STUFFED_BYTES + 1).fill(1), Uint8Array.of(0)]), []).damages,
    ).toEqual(['TOO_LONG']);
  });

  it('forgets a half frame when it is reset', () => {
    const frame = encodeFrame({ kind: 'request', name: 'open', sequence: 1, fields: { channel: 0 } });
    let count = 0;
    const reader = new FrameReader({ frame: () => (count += 1) });
    reader.push(frame.slice(0, 5));
    reader.reset();
    reader.push(frame);
    expect(count).toBe(1);
  });
});

function independentFrames(bytes: Uint8Array): string[] {
  const frames: string[] = [];
  let run: number[] = [];
  for (const byte of bytes) {
    if (byte !== 0) {
      run.push(byte);
      continue;
    }
    const plain = run.length <= MAX_STUFFED_BYTES ? unstuff(run) : undefined;
    run = [];
    if (plain === undefined || plain.length < 6) continue;
    const body = plain.slice(0, -4);
    const wanted = plain.slice(-4).reduce((sum, value, index) => sum + value * 256 ** index, 0);
    if (crc32(Uint8Array.from(body)) === wanted) frames.push(body.join(','));
  }
  return frames;
}

function unstuff(run: readonly number[]): number[] | undefined {
  const plain: number[] = [];
  let rest = run;
  while (rest.length > 0) {
    const code = rest[0]!;
    if (rest.length < code) return undefined;
    plain.push(...rest.slice(1, code));
    rest = rest.slice(code);
    if (code < 255 && rest.length > 0) plain.push(0);
  }
  return plain;
}
