/** CRC-32/ISO-HDLC: reflected 0x04c11db7 with initial value and final inversion of all ones. */
const REFLECTED_POLYNOMIAL = 0xedb8_8320;

/** Built when the module loads, so that on a microcontroller it is computed at build time and lies in flash. */
const table: Readonly<Uint32Array> = Uint32Array.from({ length: 256 }, (_, index) => {
  let remainder = index;
  for (let bit = 0; bit < 8; bit += 1) {
    remainder = (remainder & 1) === 1 ? (remainder >>> 1) ^ REFLECTED_POLYNOMIAL : remainder >>> 1;
  }
  return remainder >>> 0;
});

/**
 * CRC-32/ISO-HDLC of `length` bytes from the start of `bytes`.
 * Source: Catalogue of parametrised CRC algorithms, entry CRC-32/ISO-HDLC (check 0xcbf43926).
 */
export function crc32(bytes: Uint8Array, length: number = bytes.length): number {
  let remainder = 0xffff_ffff;
  for (let index = 0; index < length; index += 1) {
    remainder = (remainder >>> 8) ^ table[(remainder ^ bytes[index]!) & 0xff]!;
  }
  return (remainder ^ 0xffff_ffff) >>> 0;
}
