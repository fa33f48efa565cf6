import type { JobKind } from '../../../protocol';
import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import { rampDown } from './ramp-down';
import type { Armed, Box, Made } from './box';
import { wait, type BenchClock } from '../clock';
import { PROVING_MS } from '../rules';
import type { Vitals } from './vitals';

const POLL_MS = 50;

export type OutputParts = { readonly box: Box; readonly clock: BenchClock; readonly vitals: Vitals };

/** What is known of the output after it was told to open. */
export type Opened = 'box-confirmed-open' | 'box-silent' | 'no-box';

/** The box's output as this host has asked for it. Knows nothing of steps, needles or persons. */
export class Output {
  readonly #parts: OutputParts;
  #armed: Armed | undefined;
  #made: Made | undefined;
  #isArming = false;
  #madeAtMs = 0;
  #cameFromOhm: number | undefined;
  /** Counts the openings: an answer to something asked before the last one tells nothing of the output now. */
  #openings = 0;

  constructor(parts: OutputParts) {
    this.#parts = parts;
  }

  get armed(): Armed | undefined {
    return this.#armed;
  }

  /** What the output makes; undefined = open, as far as this host has asked. */
  get made(): Made | undefined {
    return this.#made;
  }

  /** Armed or made, or being armed: the box may hold something of ours. */
  get isUsed(): boolean {
    return this.#isArming || this.#armed !== undefined || this.#made !== undefined;
  }

  get madeAtMs(): number {
    return this.#madeAtMs;
  }

  /** Resistance before the present one; undefined = the output was open. */
  get cameFromOhm(): number | undefined {
    return this.#cameFromOhm;
  }

  async arm(kind: JobKind, originalLeastOhm?: number): Promise<Armed | 'called-off' | Refused> {
    if (this.#armed !== undefined) return this.#armed;
    const openings = this.#openings;
    this.#isArming = true;
    const armed = await this.#parts.box.arm(kind, originalLeastOhm).finally(() => (this.#isArming = false));
    if (this.#openings !== openings) return 'called-off';
    if (armed.kind === 'armed') this.#armed = armed;
    return armed;
  }

  /** Goes to a resistance, in steps where the box demands a ramp, and waits until the box vouches for it. */
  async bring(resistanceOhm: number, signal: AbortSignal): Promise<'made' | 'called-off' | Refused> {
    const start = this.#made?.madeOhm;
    const openings = this.#openings;
    for (const ohm of rampDown(start, resistanceOhm, this.#armed?.rampFraction ?? 0)) {
      if (signal.aborted) return 'called-off';
      const made = await this.#parts.box.set(ohm);
      if (this.#openings !== openings) return 'called-off';
      if (made.kind === 'refused') return made;
      this.#made = made;
      this.#madeAtMs = this.#parts.clock.nowMs();
      const proven = await this.#untilProven(signal);
      if (proven !== 'made') return proven;
      if (!made.isLimited) continue;
      // The limiter has come out since. Asked for what is there, the box moves nothing and answers without it.
      const again = await this.#parts.box.set(ohm);
      if (this.#openings !== openings) return 'called-off';
      if (again.kind === 'made' && !again.isLimited) this.#made = again;
    }
    this.#cameFromOhm = start;
    return 'made';
  }

  /** Opens the output and forgets the arming: nothing is driven again before everything was asked anew. */
  async open(): Promise<Opened> {
    this.forget();
    if (!this.#parts.box.isLive) return 'no-box';
    const answer = await this.#parts.box.open();
    return answer === 'open' ? 'box-confirmed-open' : 'box-silent';
  }

  /** The output is open without our asking: a trip, a restart, a lost box. */
  forget(): void {
    this.#openings += 1;
    this.#armed = undefined;
    this.#made = undefined;
    this.#cameFromOhm = undefined;
  }

  async #untilProven(signal: AbortSignal): Promise<'made' | 'called-off' | Refused> {
    const { clock, vitals } = this.#parts;
    const sinceMs = clock.nowMs();
    while (!signal.aborted) {
      const vital = vitals.latest;
      if (vital !== undefined && vital.atMs > sinceMs && vital.isOutputMade) {
        if (this.#made?.isLimited === true)
          this.#made = { ...this.#made, madeOhm: vital.madeOhm, isLimited: false };
        return 'made';
      }
      if (clock.nowMs() - sinceMs > PROVING_MS) {
        return refuse('NO_CURRENT');
      }
      await wait(clock, POLL_MS, signal);
    }
    return 'called-off';
  }
}
