/** Alphabet of RFC 4648, section 6, in small letters. */
const ALPHABET = 'abcdefghijklmnopqrstuvwxyz234567';
const BITS = 5;
/** Fifty bits: among 100,000 documents two share them once in 200,000 catalogues. */
const SHORT_LETTERS = 10;

/** A hash of hex digits in base 32, without padding. Source: RFC 4648, section 6. */
function base32(hex: string): string {
  let [held, bits, text] = [0, 0, ''];
  for (const digit of hex) {
    held = (held << 4) | Number.parseInt(digit, 16);
    bits += 4;
    if (bits < BITS) continue;
    bits -= BITS;
    text += ALPHABET[(held >> bits) & 31];
    held &= (1 << bits) - 1;
  }
  return bits === 0 ? text : text + ALPHABET[(held << (BITS - bits)) & 31];
}

/** The name of a document as people read it: the first letters of its hash. */
export const shortName = (hash: string): string => base32(hash).slice(0, SHORT_LETTERS);

/** Documents that a typed name may mean: those whose hash begins so, in base 32 or in hex. Nothing is guessed. */
export function meantBy(typed: string, hashes: Iterable<string>): string[] {
  const name = typed.trim().toLowerCase();
  if (!/^[a-z0-9]+$/.test(name)) return [];
  const isHex = /^[0-9a-f]{16,64}$/.test(name);
  return [...hashes].filter((hash) => base32(hash).startsWith(name) || (isHex && hash.startsWith(name)));
}
