import type { CircuitPlace } from './cluster/shared-circuit';
import type { Circuit } from './electrical';
import type { SimulatedGauge } from './gauges/catalogue';
import type { Source } from './gauges/laws';
import type { Draw, Feed } from './gauges/mechanism';
import { Needle } from './needle';
import type { Random } from './random';

/** What can be changed in the vehicle while the box is on it. */
export type VehicleSettings = {
  supplyVolt: number;
  isIgnitionOn: boolean;
  /** Lamps on: they lift the gauge's ground by their current through a shared wire. */
  areLightsOn: boolean;
  /** The box's clips are on the vehicle. */
  isConnected: boolean;
  /** The two clips are swapped. */
  isReversed: boolean;
  /** A resistor that a person holds in the sender's place, where no box is; Infinity: the wire hangs free. */
  handOhm: number | undefined;
};

/** Voltage and current at the SENDER clip, against the GROUND clip. */
export type Terminal = { readonly volt: number; readonly amp: number };

const LIGHTS_GROUND_VOLT = 0.3;
const LIGHTS_SUPPLY_DROP_VOLT = 0.2;
/** Sender wire of the vehicle and contact at the gauge's stud. */
const LEAD_OHM = 0.15;
/** The box's sense divider lies across the clips all the time. */
const SENSE_OHM = 11e6;
/** Longer than any contact of the box moves or bounces. */
const SWITCHING_MS = 30;
/** Far shorter than any pulse, far longer than the rounding of a day in milliseconds. */
const LEAST_STRETCH_MS = 1e-6;

/** A gauge in its circuit: supply, stabiliser, sender wire, grounds. The box takes the sender's place. */
export class Vehicle {
  readonly settings: VehicleSettings = {
    supplyVolt: 13.5,
    isIgnitionOn: true,
    areLightsOn: false,
    isConnected: true,
    isReversed: false,
    handOhm: undefined,
  };
  readonly needle: Needle;
  readonly gauge: SimulatedGauge;
  readonly #speed: number;
  /** Where the gauge shares its feed and ground with others; undefined: they are its own. */
  readonly #place: CircuitPlace | undefined;
  /** Time of the needle's own, and what it last saw of the box. */
  #needleMs = 0;
  #pathOhm = Infinity;
  #changedMs = -Infinity;

  constructor(gauge: SimulatedGauge, random: Random, speed: number, place?: CircuitPlace) {
    this.gauge = gauge;
    this.#place = place;
    this.#speed = speed;
    this.needle = new Needle(gauge, random);
  }

  /** Battery negative to the box's ground clip, volt. */
  get groundOffsetVolt(): number {
    return this.settings.areLightsOn ? 0.02 : 0.004;
  }

  get feed(): Feed {
    const { supplyVolt, isIgnitionOn, areLightsOn } = this.settings;
    const drop = areLightsOn ? LIGHTS_SUPPLY_DROP_VOLT : 0;
    return {
      supplyVolt: isIgnitionOn ? supplyVolt - drop : 0,
      groundVolt: areLightsOn ? LIGHTS_GROUND_VOLT : 0,
    };
  }

  /** What the clips see with a resistance between them (Infinity: output open). */
  terminal(pathOhm: number, atMs: number): Terminal {
    const { isConnected, isReversed, handOhm } = this.settings;
    if (!isConnected || handOhm !== undefined) return { volt: 0, amp: 0 };
    const { openVolt, sourceOhm } = this.#source(atMs);
    const loadOhm = Number.isFinite(pathOhm) ? (pathOhm * SENSE_OHM) / (pathOhm + SENSE_OHM) : SENSE_OHM;
    const amp = openVolt / (sourceOhm + LEAD_OHM + loadOhm);
    const volt = amp * loadOhm;
    const throughPath = Number.isFinite(pathOhm) ? volt / pathOhm : 0;
    const sign = isReversed ? -1 : 1;
    return { volt: sign * volt, amp: sign * throughPath };
  }

  /**
   * Moves the needle on by box time that ends at `atMs`; the needle itself, with pulses of its own, lives `speed` times
   * faster, so that only waiting is hurried; but for the
   * milliseconds in which relays move: those it sees as they are, or a fast needle would run off to where no setting is.
   * Between two switchings of a pulsing feed nothing changes, so it goes from one to the next. What it does is thus the
   * same at every speed.
   */
  step(pathOhm: number, atMs: number, elapsedMs: number): void {
    if (pathOhm !== this.#pathOhm) [this.#pathOhm, this.#changedMs] = [pathOhm, atMs];
    const isSwitching = atMs - this.#changedMs < SWITCHING_MS;
    let nowMs = this.#needleMs;
    const untilMs = nowMs + elapsedMs * (isSwitching ? Math.min(1, this.#speed) : this.#speed);
    this.#needleMs = untilMs;
    this.#place?.draws(this.#loadOhm(pathOhm) + LEAD_OHM, this.#ownSource(nowMs));
    while (nowMs < untilMs) {
      // An edge that falls on this very moment but for rounding is behind it.
      const edgeMs = this.gauge.mechanism.nextSwitchMs(this.feed, nowMs + LEAST_STRETCH_MS);
      const nextMs = Math.min(untilMs, edgeMs);
      this.#stretch(pathOhm, nowMs + LEAST_STRETCH_MS, nextMs - nowMs);
      nowMs = nextMs;
    }
  }

  #stretch(pathOhm: number, needleMs: number, elapsedMs: number): void {
    const { openVolt, sourceOhm } = this.#source(needleMs);
    const loadOhm = this.#loadOhm(pathOhm);
    const amp = Number.isFinite(loadOhm) ? openVolt / (sourceOhm + loadOhm + LEAD_OHM) : 0;
    const draw: Draw = { amp, volt: openVolt - amp * sourceOhm };
    this.#place?.warm(amp * amp * this.#ownSource(needleMs).sourceOhm, elapsedMs);
    this.needle.step(this.feed, draw, elapsedMs);
  }

  /** What stands in the sender's place. */
  #loadOhm(pathOhm: number): number {
    const { handOhm, isConnected } = this.settings;
    return handOhm ?? (isConnected ? pathOhm : Infinity);
  }

  /** The circuit as the clips meet it, in the box's own time: pulses last as long as they do in a vehicle. */
  circuit(atMs: number): Circuit {
    const { openVolt, sourceOhm } = this.#source(atMs);
    const liftVolt = this.#place?.lift(this.#ownSource(atMs).openVolt).liftVolt ?? 0;
    return {
      // What lifts the ground is in the source already: the clips see as much as they would without it.
      openVolt: openVolt + liftVolt,
      sourceOhm: sourceOhm + LEAD_OHM,
      feedVolt: this.feed.supplyVolt,
      groundOffsetVolt: this.groundOffsetVolt + liftVolt,
      isReversed: this.settings.isReversed,
    };
  }

  #ownSource(atMs: number): Source {
    return this.gauge.mechanism.source(this.feed, atMs);
  }

  #source(atMs: number): Source {
    const own = this.#ownSource(atMs);
    return this.#place?.seen(own) ?? own;
  }
}
