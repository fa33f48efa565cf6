import { hasMeterFlag, type JobKind } from '../../../protocol';
import type { Measured } from '../../core/cluster';
import type { Refused } from '../../core/result';
import type { Box } from '../box/box';
import { Output } from '../box/output';
import { vitalOf } from '../box/vital';
import { Vitals } from '../box/vitals';
import { wait, type BenchClock } from '../clock';

export type HeldBoxParts = {
  readonly box: Box;
  readonly kind: JobKind;
  readonly originalLeastOhm?: number;
  readonly clock: BenchClock;
  readonly signal: AbortSignal;
};

/** Looks of the meter on a steady feed, and on one that pulses: at least twenty pulses of a second. */
const STEADY = { looks: 12, everyMs: 60 };
const PULSING = { looks: 24, everyMs: 900 };
/** What the meter cannot tell apart, as a part of the current. Source: its converter's noise, hardware-notes. */
const LEAST_PART = 2e-5;
/** Longer than the meter's ripple window. */
const RIPPLE_MS = 6_000;
const LOOK_EVERY_MS = 250;
const MICRO = 1e6;

/** What a box says of its circuit at one setting. */
export type HeldLook = {
  readonly ohm: number;
  /** Root mean square where the feed pulses. */
  readonly amp: Measured;
  readonly groundVolt: Measured;
};

const meanOf = (values: readonly number[]): Measured => {
  const value = values.reduce((sum, each) => sum + each, 0) / values.length;
  const variance =
    values.reduce((sum, each) => sum + (each - value) ** 2, 0) / Math.max(1, values.length - 1);
  return { value, u: Math.sqrt(variance / values.length) };
};

/** A box that holds a resistance while no sweep drives it: at rest, in the roll call, in the neighbour test. */
export class HeldBox {
  readonly #parts: HeldBoxParts;
  readonly #vitals = new Vitals();
  readonly #output: Output;
  readonly #unsubscribe: () => void;

  constructor(parts: HeldBoxParts) {
    this.#parts = parts;
    const { box, clock } = parts;
    this.#output = new Output({ box, clock, vitals: this.#vitals });
    this.#unsubscribe = box.link.subscribe((event) => {
      if (event.kind === 'heartbeat') this.#vitals.add(vitalOf(event.fields, clock.nowMs()));
      const isGone = event.kind === 'restarted' || event.kind === 'tripped';
      if (isGone || (event.kind === 'state' && event.state !== 'live')) this.#output.forget();
    });
    parts.signal.addEventListener('abort', () => void this.#output.open(), { once: true });
  }

  get isHolding(): boolean {
    return this.#output.made !== undefined;
  }

  /** What it holds now and what flows; on pulses nobody can tell the latter at one instant. */
  get now(): { readonly resistanceOhm: number; readonly milliamp?: number } | undefined {
    const { made } = this.#output;
    const { milliamp, isPulsing = false } = this.#vitals.latest ?? {};
    if (made === undefined) return undefined;
    return { resistanceOhm: made.madeOhm, ...(isPulsing || milliamp === undefined ? {} : { milliamp }) };
  }

  async hold(resistanceOhm: number): Promise<'made' | 'called-off' | Refused> {
    const { kind, originalLeastOhm, signal } = this.#parts;
    if (signal.aborted) return 'called-off';
    const armed = await this.#output.arm(kind, originalLeastOhm);
    if (armed === 'called-off' || signal.aborted) return 'called-off';
    if (armed.kind === 'refused') return armed;
    return this.#output.bring(Math.max(resistanceOhm, armed.floorOhm), signal);
  }

  /** What flows now, over as many looks as the feed needs. Refuses what the box refuses. */
  async look(): Promise<HeldLook | Refused | 'called-off'> {
    const { box, clock, signal } = this.#parts;
    const amps: number[] = [];
    const grounds: number[] = [];
    const ohm = this.#output.made?.madeOhm ?? Infinity;
    const isPulsing = await this.#isPulsing();
    if (typeof isPulsing !== 'boolean') return isPulsing;
    const plan = isPulsing ? PULSING : STEADY;
    for (let count = 0; count < plan.looks; count += 1) {
      if (!(await wait(clock, plan.everyMs, signal))) return 'called-off';
      const seen = await box.measure();
      if ('kind' in seen) return seen;
      amps.push(isPulsing ? seen.heatMicrovolt / MICRO / ohm : seen.currentMicroamp / MICRO);
      grounds.push(seen.groundOffsetMicrovolt / MICRO);
    }
    const amp = meanOf(amps);
    const u = Math.hypot(amp.u, LEAST_PART * Math.abs(amp.value));
    return { ohm, amp: { value: amp.value, u }, groundVolt: meanOf(grounds) };
  }

  /** A feed that still pulses when the move itself has left the meter's ripple window. */
  async #isPulsing(): Promise<boolean | Refused | 'called-off'> {
    const { box, clock, signal } = this.#parts;
    for (let leftMs = RIPPLE_MS; leftMs > 0; leftMs -= LOOK_EVERY_MS) {
      if (!(await wait(clock, LOOK_EVERY_MS, signal))) return 'called-off';
      const seen = await box.measure();
      if ('kind' in seen) return seen;
      if (!hasMeterFlag(seen.meterFlags, 'pulsing')) return false;
    }
    return true;
  }

  /** Opens it, and lets go. */
  async end(): Promise<void> {
    if (this.#output.isUsed) await this.#output.open();
    this.#unsubscribe();
  }
}
