import { cobsDecode } from './cobs';
import { crc32 } from './crc32';
import { CRC_BYTES, HEAD_BYTES, MAX_STUFFED_BYTES } from './frame';
import type { Frame } from './frame';

/** Why a run of bytes between two delimiters was thrown away. */
export type Damage = 'TOO_LONG' | 'TOO_SHORT' | 'STUFFING' | 'CRC';

export type FrameSink = {
  readonly frame: (frame: Frame) => void;
  /** Called once for each run of bytes that was not a frame. */
  readonly damage?: (damage: Damage) => void;
};

/**
 * Bytes in any chunks to frames. Memory is fixed, nothing is allocated per byte, nothing is thrown whatever arrives,
 * and after any garbage reading resumes at the next zero byte.
 */
export class FrameReader {
  readonly #sink: FrameSink;
  readonly #stuffed = new Uint8Array(MAX_STUFFED_BYTES);
  readonly #plain = new Uint8Array(MAX_STUFFED_BYTES);
  readonly #view = new DataView(this.#plain.buffer);
  #length = 0;
  #isOverlong = false;

  constructor(sink: FrameSink) {
    this.#sink = sink;
  }

  /** Bytes of an unfinished frame held at present; never more than MAX_STUFFED_BYTES. */
  get pendingBytes(): number {
    return this.#length;
  }

  /** Forgets an unfinished frame, as after a port was opened anew. */
  reset(): void {
    this.#length = 0;
    this.#isOverlong = false;
  }

  /** Takes the first `length` bytes of a chunk. */
  push(bytes: Uint8Array, length: number = bytes.length): void {
    for (let index = 0; index < length; index += 1) this.#take(bytes[index]!);
  }

  #take(byte: number): void {
    if (byte === 0) {
      this.#finish();
    } else if (this.#length < MAX_STUFFED_BYTES) {
      this.#stuffed[this.#length] = byte;
      this.#length += 1;
    } else {
      this.#isOverlong = true;
    }
  }

  #finish(): void {
    const length = this.#length;
    const wasOverlong = this.#isOverlong;
    this.reset();
    // Empty runs are the extra delimiter in front of each frame.
    if (length === 0) return;
    if (wasOverlong) return this.#sink.damage?.('TOO_LONG');
    const size = cobsDecode({ bytes: this.#stuffed, length }, this.#plain);
    if (size < 0) return this.#sink.damage?.('STUFFING');
    if (size < HEAD_BYTES + CRC_BYTES) return this.#sink.damage?.('TOO_SHORT');
    const end = size - CRC_BYTES;
    if (crc32(this.#plain, end) !== this.#view.getUint32(end, true)) return this.#sink.damage?.('CRC');
    this.#sink.frame({
      type: this.#plain[0]!,
      sequence: this.#plain[1]!,
      view: this.#view,
      offset: HEAD_BYTES,
      length: end - HEAD_BYTES,
    });
  }
}
