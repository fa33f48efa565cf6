/** So many at once, and so many a second in the long run. */
export type Rate = { readonly most: number; readonly perSecond: number };

/** Keys that have rested long enough to be full again are forgotten. */
const MOST_KEYS = 1_000;

/** Counts what each device asks; a flood of one is refused and costs the others nothing. */
export class TokenBuckets {
  readonly #rate: Rate;
  readonly #nowMs: () => number;
  readonly #buckets = new Map<string, { readonly left: number; readonly atMs: number }>();

  constructor(rate: Rate, nowMs: () => number = () => performance.now()) {
    this.#rate = rate;
    this.#nowMs = nowMs;
  }

  /** False: this one is too many. */
  take(key: string): boolean {
    const nowMs = this.#nowMs();
    const left = this.#leftOf(key, nowMs);
    this.#buckets.delete(key);
    this.#buckets.set(key, { left: left >= 1 ? left - 1 : left, atMs: nowMs });
    const [oldest] = this.#buckets.keys();
    if (this.#buckets.size > MOST_KEYS && oldest !== undefined) this.#buckets.delete(oldest);
    return left >= 1;
  }

  #leftOf(key: string, nowMs: number): number {
    const bucket = this.#buckets.get(key);
    if (bucket === undefined) return this.#rate.most;
    const { most, perSecond } = this.#rate;
    return Math.min(most, bucket.left + ((nowMs - bucket.atMs) / 1000) * perSecond);
  }
}
