import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cobsBound, cobsDecode, cobsEncode } from '../../protocol';
import vectors from '../vectors/cobs-vectors.json';

const fromHex = (hex: string): Uint8Array =>
  Uint8Array.from({ length: hex.length / 2 }, (_, index) =>
    parseInt(hex.slice(2 * index, 2 * index + 2), 16),
  );
const hexOf = (bytes: Uint8Array): string =>
  [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');

function encode(bytes: Uint8Array): Uint8Array {
  const target = new Uint8Array(cobsBound(bytes.length));
  return target.slice(0, cobsEncode({ bytes, length: bytes.length }, target, 0));
}

function decode(bytes: Uint8Array): Uint8Array | undefined {
  const target = new Uint8Array(bytes.length);
  const length = cobsDecode({ bytes, length: bytes.length }, target);
  return length < 0 ? undefined : target.slice(0, length);
}

const published = [vectors.paper_figure_3, vectors.cobs_python_suite, vectors.wikipedia_examples].flatMap(
  (group) => group.vectors,
);
const pattern = (length: number): Uint8Array => Uint8Array.from({ length }, (_, index) => (index % 255) + 1);

describe('COBS', () => {
  it('has all twenty published vectors to check', () => {
    expect(published).toHaveLength(20);
  });

  it.each(published)('encodes and decodes $decoded_hex as published', ({ decoded_hex, encoded_hex }) => {
    expect(hexOf(encode(fromHex(decoded_hex)))).toBe(encoded_hex);
    expect(hexOf(decode(fromHex(encoded_hex))!)).toBe(decoded_hex);
  });

  it('refuses every block that must not decode', () => {
    expect(vectors.must_not_decode_hex.values).toHaveLength(4);
    for (const hex of vectors.must_not_decode_hex.values) expect(decode(fromHex(hex)), hex).toBeUndefined();
  });

  it('accepts the trailing empty run of the original C code', () => {
    const { decoded_hex, also_accept_encoded_hex } = vectors.end_of_frame_note.example;
    expect(hexOf(decode(fromHex(also_accept_encoded_hex))!)).toBe(decoded_hex);
  });

  it.each(vectors.long_runs.nonzero)('places its code bytes in a run of $run_length', (row) => {
    const length = Object.values(row).find((value): value is number => typeof value === 'number')!;
    const encoded = encode(pattern(length));
    expect(encoded).toHaveLength(row.encoded_length);
    for (let at = 0; at < row.code_bytes_position_and_value.length; at += 2) {
      expect(encoded[row.code_bytes_position_and_value[at]!]).toBe(row.code_bytes_position_and_value[at + 1]);
    }
  });

  it('gives back any block it encoded, without a zero in between and within its bound', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 700 }), (block) => {
        const encoded = encode(block);
        expect(encoded.includes(0)).toBe(false);
        expect(encoded.length).toBeLessThanOrEqual(cobsBound(block.length));
        expect(decode(encoded)).toEqual(block);
      }),
    );
  });

  it('decodes in place', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (block) => {
        const bytes = encode(block);
        const length = cobsDecode({ bytes, length: bytes.length }, bytes);
        expect(bytes.slice(0, length)).toEqual(block);
      }),
    );
  });
});
