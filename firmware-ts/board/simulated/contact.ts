import type { Random } from './random';

export type ContactTimes = {
  readonly operateMinMs: number;
  readonly operateMaxMs: number;
  readonly releaseMinMs: number;
  readonly releaseMaxMs: number;
  readonly bounceMaxMs: number;
};

export type Weld = 'closed' | 'open' | undefined;

/** Chatter of a closing contact: it opens again this many times at most while it bounces. */
const BOUNCES = 3;

/** One relay contact: it follows its coil some milliseconds late, bounces when it closes, and may weld or fail open. */
export class SimulatedContact {
  weld: Weld = undefined;
  readonly #times: ContactTimes;
  readonly #random: Random;
  readonly #flips: number[] = [];
  #isEnergised = false;
  /** Where the contact is before the first flip. */
  #wasClosed = false;

  constructor(times: ContactTimes, random: Random) {
    this.#times = times;
    this.#random = random;
  }

  /** Coil on or off at an instant. Flips still to come from before are kept up to then. */
  energise(isOn: boolean, atMs: number): void {
    if (isOn === this.#isEnergised) return;
    this.#isEnergised = isOn;
    const isClosed = this.#followed(atMs);
    this.#flips.length = 0;
    this.#wasClosed = isClosed;
    if (isOn) this.#planClosing(atMs, isClosed);
    else if (isClosed)
      this.#flips.push(atMs + this.#random.between(this.#times.releaseMinMs, this.#times.releaseMaxMs));
  }

  /** Where the contact is, welds included. */
  isClosed(atMs: number): boolean {
    return this.weld === undefined ? this.#followed(atMs) : this.weld === 'closed';
  }

  #followed(atMs: number): boolean {
    let isClosed = this.#wasClosed;
    for (const flip of this.#flips) if (flip <= atMs) isClosed = !isClosed;
    return isClosed;
  }

  #planClosing(atMs: number, isClosed: boolean): void {
    if (isClosed) return;
    const { operateMinMs, operateMaxMs, bounceMaxMs } = this.#times;
    const touchMs = atMs + this.#random.between(operateMinMs, operateMaxMs);
    this.#flips.push(touchMs);
    const bounceMs = this.#random.between(0, bounceMaxMs);
    // Open and closed again, in pairs, so that the contact ends closed.
    const instants = Array.from({ length: 2 * BOUNCES }, () => touchMs + this.#random.between(0, bounceMs));
    this.#flips.push(...instants.sort((a, b) => a - b));
  }
}
