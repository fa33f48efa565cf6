/** RP2040 data sheet 2.6.3: 16 KB, two ways, lines of 8 bytes. */
const LINE_BITS = 3;
const SET_BITS = 10;
const SETS = 1 << SET_BITS;
const CACHED_WINDOW = 0x10;

/**
 * The cache between core and flash. Which of the two ways is given up is not in the data sheet; the one used less
 * recently is assumed. It counts misses; the caller turns them into time.
 */
export class FlashCache {
  misses = 0;
  readonly #tags = new Int32Array(2 * SETS).fill(-1);
  #lastLine = -1;
  /** The way used last, per set. */
  readonly #recent = new Uint8Array(SETS);

  /** A read of the core at any address. */
  read(address: number): void {
    if (address >>> 24 !== CACHED_WINDOW) return;
    const line = address >>> LINE_BITS;
    if (line === this.#lastLine) return;
    this.#lastLine = line;
    const set = line & (SETS - 1);
    const tag = line >>> SET_BITS;
    const first = 2 * set;
    if (this.#tags[first] === tag) this.#recent[set] = 0;
    else if (this.#tags[first + 1] === tag) this.#recent[set] = 1;
    else this.#fill(set, tag);
  }

  #fill(set: number, tag: number): void {
    const way = this.#recent[set] === 0 ? 1 : 0;
    this.#tags[2 * set + way] = tag;
    this.#recent[set] = way;
    this.misses += 1;
  }
}
