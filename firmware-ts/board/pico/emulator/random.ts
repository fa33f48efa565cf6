/** Repeatable numbers: the same run twice is the same run. Source: xorshift32, G. Marsaglia, J. Stat. Softw. 8 (2003). */
export class Random {
  #state: number;

  constructor(seed: number) {
    this.#state = seed | 0 || 1;
  }

  #next(): number {
    let state = this.#state;
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    this.#state = state;
    return state >>> 0;
  }

  byte(): number {
    return this.#next() >>> 24;
  }

  between(low: number, high: number): number {
    return low + ((high - low) * this.#next()) / 2 ** 32;
  }

  /** Standard normal. Source: Irwin-Hall, twelve uniform numbers less six. */
  normal(): number {
    let sum = -6;
    for (let count = 0; count < 12; count += 1) sum += this.between(0, 1);
    return sum;
  }
}
