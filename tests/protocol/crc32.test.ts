import { describe, expect, it } from 'vitest';
import { crc32 } from '../../protocol';
import catalogue from '../vectors/crc-catalogue.json';

const bytesOfAscii = (text: string): Uint8Array => Uint8Array.from(text, (letter) => letter.charCodeAt(0));

const inputs: Record<string, Uint8Array> = {
  empty: new Uint8Array(0),
  '61': Uint8Array.of(0x61),
  '00': Uint8Array.of(0),
  '00000000': new Uint8Array(4),
  ffffffff: new Uint8Array(4).fill(0xff),
  '000102..ff': Uint8Array.from({ length: 256 }, (_, index) => index),
  'ascii The quick brown fox jumps over the lazy dog': bytesOfAscii(
    'The quick brown fox jumps over the lazy dog',
  ),
};

describe('crc32', () => {
  const entry = catalogue.algorithms.find(({ name }) => name === 'CRC-32/ISO-HDLC');

  it('gives the check value of the catalogue of parametrised CRC algorithms', () => {
    expect(crc32(bytesOfAscii(catalogue.check_input_ascii))).toBe(Number(entry?.check));
  });

  it('gives the computed value of every further input', () => {
    const more = catalogue.more_values;
    const values = more.results.find(({ name }) => name === 'CRC-32/ISO-HDLC')?.values ?? [];
    expect(values).toHaveLength(7);
    more.inputs.forEach((input, index) => {
      expect(crc32(inputs[input]!), input).toBe(Number(values[index]));
    });
  });

  it('leaves the residue of the catalogue over a message followed by its own CRC', () => {
    const message = bytesOfAscii('123456789');
    const framed = new Uint8Array(message.length + 4);
    framed.set(message);
    new DataView(framed.buffer).setUint32(message.length, crc32(message), true);
    // The catalogue's residue is taken before the final inversion and, for this reflected CRC, bit-reversed.
    const reversed = (value: number) =>
      parseInt(value.toString(2).padStart(32, '0').split('').reverse().join(''), 2);
    const residue = Number(entry?.residue);
    expect([residue, reversed(residue)]).toContain((crc32(framed) ^ 0xffff_ffff) >>> 0);
  });

  it('counts only the bytes it is told to', () => {
    expect(crc32(Uint8Array.of(0x61, 9, 9), 1)).toBe(crc32(Uint8Array.of(0x61)));
  });
});
