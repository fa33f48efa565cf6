/** Seeded random numbers, so that every simulated day can be lived again. Source: mulberry32, public domain, from memory. */
export class Random {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  /** Uniform in [0, 1). */
  unit(): number {
    this.#state = (this.#state + 0x6d2b_79f5) >>> 0;
    let mixed = Math.imul(this.#state ^ (this.#state >>> 15), this.#state | 1);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.unit();
  }

  /** Normal deviate by the polar form of two uniforms (Box and Muller 1958). */
  normal(): number {
    const radius = Math.sqrt(-2 * Math.log(1 - this.unit()));
    return radius * Math.cos(2 * Math.PI * this.unit());
  }
}
