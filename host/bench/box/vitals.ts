import type { Vital } from './vital';
import { STEADY_WINDOW_MS } from '../rules';

/** Current may wander this much and still count as standing still: noise of the meter, drift of a warm battery. */
const STEADY_FRACTION = 0.01;
const STEADY_MILLIAMP = 0.05;
const FEWEST_LOOKS = 3;

/** The last few seconds of heartbeats. */
export class Vitals {
  #recent: Vital[] = [];

  get latest(): Vital | undefined {
    return this.#recent.at(-1);
  }

  add(vital: Vital): void {
    this.#recent = [...this.#recent.filter((each) => vital.atMs - each.atMs <= STEADY_WINDOW_MS), vital];
  }

  clear(): void {
    this.#recent = [];
  }

  /**
   * Whether the current stands still, counted from `sinceMs` on. A pulsing feed never stands still; its needle feels the
   * heat, not the pulses, so only time can tell there.
   */
  isSteady(sinceMs: number): boolean {
    const looks = this.#recent.filter((each) => each.atMs >= sinceMs);
    if (looks.some((each) => each.isPulsing)) return true;
    const currents = looks.flatMap((each) => each.milliamp ?? []);
    if (currents.length < FEWEST_LOOKS) return false;
    const [least, most] = [Math.min(...currents), Math.max(...currents)];
    return most - least <= Math.max(STEADY_MILLIAMP, STEADY_FRACTION * Math.abs(most));
  }
}
