import type { Sector } from '../../device';

const SECTOR_BYTES = 4096;
const PAGE_BYTES = 256;
const ERASED = 0xff;

/** Two sectors of NOR flash: erased as a whole to ones, programmed page by page towards zeros; the power may go at any step. */
export class SimulatedFlash {
  /** Erasures of each sector so far: what wears it. */
  readonly eraseCounts: [number, number] = [0, 0];
  readonly sectors: readonly [Sector, Sector];
  /** Erasures and page programs so far. */
  operationCount = 0;
  readonly #bytes = [erasedBytes(), erasedBytes()] as const;
  #cutAt = Infinity;
  #isPowered = true;

  constructor() {
    this.sectors = [this.#sector(0), this.#sector(1)];
  }

  /** The power goes in the middle of the operation after so many more; 0: in the next one. */
  cutAfter(operations: number): void {
    this.#cutAt = this.operationCount + operations;
  }

  /** Power is back; what the cut left stays as it is. */
  powerOn(): void {
    this.#cutAt = Infinity;
    this.#isPowered = true;
  }

  /** Both sectors as they left the maker: all ones. */
  clear(): void {
    for (const bytes of this.#bytes) bytes.fill(ERASED);
  }

  /** Flips bits of one byte. */
  spoil(sector: 0 | 1, at: number, bits = 0x10): void {
    this.#bytes[sector][at] = this.#bytes[sector][at]! ^ bits;
  }

  #sector(which: 0 | 1): Sector {
    const bytes = this.#bytes[which];
    return {
      read: (byteLength) => bytes.slice(0, byteLength).buffer,
      write: (given) => {
        const value = new Uint8Array(given.slice(0));
        if (value.length > SECTOR_BYTES) throw new RangeError('flash: more than a sector');
        this.#erase(which);
        for (let from = 0; from < value.length; from += PAGE_BYTES)
          this.#program(bytes, value.subarray(from, from + PAGE_BYTES), from);
      },
    };
  }

  /** An erasure that is cut off leaves a sector of which the first half is ones and the rest what it was. */
  #erase(which: 0 | 1): void {
    const bytes = this.#bytes[which];
    this.#operation(() => bytes.fill(ERASED, 0, SECTOR_BYTES / 2));
    bytes.fill(ERASED);
    this.eraseCounts[which] += 1;
  }

  #program(bytes: Uint8Array, page: Uint8Array, at: number): void {
    const put = (value: number, index: number): void => {
      bytes[at + index] = bytes[at + index]! & value;
    };
    this.#operation(() => page.subarray(0, page.length / 2).forEach(put));
    page.forEach(put);
  }

  /** Counts one operation; where the power goes in it, only `half` of it happens and nothing after it. */
  #operation(half: () => void): void {
    if (!this.#isPowered) throw new Error('flash: no power');
    if (this.operationCount >= this.#cutAt) {
      this.#isPowered = false;
      half();
      throw new Error('flash: the power has gone');
    }
    this.operationCount += 1;
  }
}

const erasedBytes = (): Uint8Array<ArrayBuffer> => new Uint8Array(SECTOR_BYTES).fill(ERASED);
