import { cobsBound, cobsEncode } from './cobs';
import { crc32 } from './crc32';
import { MAX_FIELD_BYTES } from './limits';

/** Type and sequence before the fields, CRC after them. */
export const HEAD_BYTES = 2;
export const CRC_BYTES = 4;
/** Longest frame before stuffing, and the longest run between two delimiters. */
const MAX_FRAME_BYTES = HEAD_BYTES + MAX_FIELD_BYTES + CRC_BYTES;
export const MAX_STUFFED_BYTES = cobsBound(MAX_FRAME_BYTES);

/**
 * A received frame whose CRC is right. The bytes belong to the reader and are overwritten by the next frame:
 * use them inside the call, keep nothing.
 */
export type Frame = {
  readonly type: number;
  readonly sequence: number;
  readonly view: DataView;
  readonly offset: number;
  readonly length: number;
};

/** Builds frames in one buffer of its own; `begin`, write the fields through `view` from `HEAD_BYTES` on, `finish`. */
export class FrameWriter {
  readonly #bytes = new Uint8Array(MAX_FRAME_BYTES);
  readonly #stuffed = new Uint8Array(MAX_STUFFED_BYTES + 2);
  readonly view = new DataView(this.#bytes.buffer);

  begin(type: number, sequence: number): void {
    this.#bytes[0] = type;
    this.#bytes[1] = sequence;
  }

  /** Closes the frame after `fieldsEnd` bytes and answers a fresh buffer: delimiter, stuffed frame, delimiter. */
  finish(fieldsEnd: number): Uint8Array<ArrayBuffer> {
    this.view.setUint32(fieldsEnd, crc32(this.#bytes, fieldsEnd), true);
    const block = { bytes: this.#bytes, length: fieldsEnd + CRC_BYTES };
    this.#stuffed[0] = 0;
    const end = cobsEncode(block, this.#stuffed, 1);
    this.#stuffed[end] = 0;
    return this.#stuffed.slice(0, end + 1);
  }
}
