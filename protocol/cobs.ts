/**
 * Consistent overhead byte stuffing: removes zero bytes at the price of one byte in 254.
 * Source: Cheshire and Baker, IEEE/ACM Transactions on Networking 7(2), 1999.
 */
const LONGEST_RUN = 0xff;

/** Most bytes an encoded block of `length` bytes can take. */
export const cobsBound = (length: number): number => length + Math.floor(length / 254) + 1;

/**
 * Encodes `length` bytes of `source` into `target` from `offset` on and answers the offset after them.
 * `target` must have room for `cobsBound(length)` bytes. No delimiter is written.
 */
export function cobsEncode(
  source: { readonly bytes: Uint8Array; readonly length: number },
  target: Uint8Array,
  offset: number,
): number {
  let codeAt = offset;
  let write = offset + 1;
  let run = 1;
  for (let read = 0; read < source.length; read += 1) {
    const byte = source.bytes[read]!;
    if (byte !== 0) {
      target[write] = byte;
      write += 1;
      run += 1;
    }
    const isLast = read === source.length - 1;
    // A full run closes itself only when more follows: a block that ends on 254 non-zero bytes needs no empty run.
    if (byte === 0 || (run === LONGEST_RUN && !isLast)) {
      target[codeAt] = run;
      codeAt = write;
      write += 1;
      run = 1;
    }
  }
  target[codeAt] = run;
  return write;
}

/**
 * Decodes `length` bytes of `source` into `target`; answers the decoded length, or -1 when the block is not COBS:
 * a zero inside, or a run that points beyond the end. `target` may be `source`: decoding never overtakes reading.
 */
export function cobsDecode(
  source: { readonly bytes: Uint8Array; readonly length: number },
  target: Uint8Array,
): number {
  let read = 0;
  let write = 0;
  while (read < source.length) {
    const run = source.bytes[read]!;
    if (run === 0 || read + run > source.length) return -1;
    read += 1;
    for (let step = 1; step < run; step += 1) {
      const byte = source.bytes[read]!;
      if (byte === 0) return -1;
      target[write] = byte;
      write += 1;
      read += 1;
    }
    if (run < LONGEST_RUN && read < source.length) {
      target[write] = 0;
      write += 1;
    }
  }
  return source.length === 0 ? -1 : write;
}
