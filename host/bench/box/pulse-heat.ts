import { hasMeterFlag } from '../../../protocol';
import type { Box } from './box';
import type { Vital } from './vital';
import type { BenchClock } from '../clock';
import type { Output } from './output';

const MICRO = 1_000_000;
const MILLI = 1_000;

/** The box looks at four and a half seconds of pulses; asked more often it has little new to say. */
const ASK_EVERY_MS = 2_000;
/** Older than this the heat is not of now. */
const OLDEST_MS = 3 * ASK_EVERY_MS;
/** Between two pulses of a slow stabiliser a feed looks steady. Common practice, no source: one to two seconds. */
const PULSING_FOR_MS = 5_000;
/** Longer than any stabiliser stays off between two pulses, and a heartbeat more. */
const LOST_AFTER_MS = 2_500;

export type PulseHeatParts = {
  readonly box: Box;
  readonly clock: BenchClock;
  readonly output: Pick<Output, 'made' | 'madeAtMs'>;
  readonly changed: () => void;
};

/**
 * What a pulsing feed heats like: the root mean square of the volts across the box over whole pulses, which the box
 * measures and is asked for while it drives on such a feed. A volt caught at one instant says nothing there.
 */
export class PulseHeat {
  readonly #parts: PulseHeatParts;
  #pulsedAtMs: number | undefined;
  #askedAtMs = -Infinity;
  #flowedAtMs = -Infinity;
  #heat: { readonly volt: number; readonly atMs: number } | undefined;

  constructor(parts: PulseHeatParts) {
    this.#parts = parts;
  }

  /** Whether the feed pulses, as the box said lately. */
  get isPulsing(): boolean {
    const { clock, output } = this.#parts;
    if (this.#pulsedAtMs === undefined || output.made === undefined) return false;
    return clock.nowMs() - this.#pulsedAtMs <= PULSING_FOR_MS;
  }

  /** A feed that pulsed and gives nothing any more: whoever reads now reads a needle that falls. */
  get isLost(): boolean {
    const { clock, output } = this.#parts;
    return clock.nowMs() - Math.max(this.#flowedAtMs, output.madeAtMs) > LOST_AFTER_MS;
  }

  /** Heat volts across the resistance that is there now, V; undefined until the box has seen whole pulses on it. */
  get heatVolt(): number | undefined {
    if (!this.isPulsing || this.#heat === undefined) return undefined;
    const { clock, output } = this.#parts;
    const { volt, atMs } = this.#heat;
    const isOfNow = atMs > output.madeAtMs && clock.nowMs() - atMs <= OLDEST_MS;
    return isOfNow ? volt : undefined;
  }

  /** A heartbeat; asks the box when the feed pulses and the last answer is old. */
  heard(vital: Vital): void {
    if (vital.isPulsing) this.#pulsedAtMs = vital.atMs;
    if (flows(vital)) this.#flowedAtMs = vital.atMs;
    if (!this.isPulsing || vital.atMs - this.#askedAtMs < ASK_EVERY_MS) return;
    this.#askedAtMs = vital.atMs;
    void this.#ask();
  }

  async #ask(): Promise<void> {
    const askedAtMs = this.#parts.clock.nowMs();
    const meter = await this.#parts.box.measure();
    if ('kind' in meter) return;
    if (!hasMeterFlag(meter.meterFlags, 'heatKnown')) return;
    this.#heat = { volt: meter.heatMicrovolt / MICRO, atMs: askedAtMs };
    this.#parts.changed();
  }
}

/** Less than the meter tells from nothing, with room. */
const NO_MILLIAMP = 0.05;

/** Whether a current flows in this moment; a meter that does not vouch for any says nothing against it. */
export const flows = ({ milliamp = Infinity }: Pick<Vital, 'milliamp'>): boolean =>
  Math.abs(milliamp) >= NO_MILLIAMP;

/**
 * The current that heats gauge and sender, mA: on a pulsing feed its root mean square, or nothing while that is not
 * known. Source: the box is a resistance, so I = V / R for root mean squares as well.
 */
export const milliampOf = (
  heat: Pick<PulseHeat, 'isPulsing' | 'heatVolt'>,
  madeOhm: number,
  vital: Vital | undefined,
): number | undefined => {
  if (!heat.isPulsing) return vital?.milliamp;
  return heat.heatVolt === undefined || !(madeOhm > 0) ? undefined : (MILLI * heat.heatVolt) / madeOhm;
};
