import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meantBy, shortName } from '../../host/catalogue';

const hex = (text: string): string => Buffer.from(text).toString('hex');
const anyHash = fc
  .uint8Array({ minLength: 32, maxLength: 32 })
  .map((bytes) => Buffer.from(bytes).toString('hex'));

describe('the short name of a document', () => {
  // Source: RFC 4648, section 10, without padding and in small letters.
  it.each([
    ['f', 'my'],
    ['fo', 'mzxq'],
    ['foo', 'mzxw6'],
    ['foob', 'mzxw6yq'],
    ['fooba', 'mzxw6ytb'],
    ['foobar', 'mzxw6ytboi'],
  ])('writes "%s" in base 32 as the standard does', (text, expected) => {
    expect(shortName(hex(text))).toBe(expected);
  });

  it('means the one document whose hash begins so, and both where two do', () => {
    fc.assert(
      fc.property(fc.uniqueArray(anyHash, { minLength: 2, maxLength: 20 }), (hashes) => {
        for (const hash of hashes) {
          expect(meantBy(shortName(hash), hashes)).toContain(hash);
          expect(meantBy(hash, hashes)).toEqual([hash]);
        }
        const letter = shortName(hashes[0] ?? '').charAt(0);
        const same = hashes.filter((hash) => shortName(hash).startsWith(letter));
        expect(meantBy(letter.toUpperCase(), hashes)).toEqual(same);
      }),
    );
  });

  it.each(['', '   ', '%', 'a b', '../x'])('means nothing by "%s"', (typed) => {
    expect(meantBy(typed, ['ab'.repeat(32)])).toEqual([]);
  });
});
