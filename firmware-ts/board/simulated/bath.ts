import type { SimulatedGauge } from './gauges/catalogue';

/** Which of the vehicle's senders lies in the bath, or hangs in the tank. */
export type BathSender = 'original' | 'replacement';

/** The bath is let alone and cools (a tank: empties), or is held at a value. */
export type BathPlan = { readonly sender: BathSender; readonly holdAt?: number };

/** Orders of a kitchen: a litre in an open pan, a brass-bodied sender. Common practice, no source; measure yours. */
const COOLING_MS = 900_000;
const HOLDING_MS = 1_500;
const BODY_LAG_MS = 12_000;
const BEAD_LAG_MS = 4_000;
const WATT_PER_KELVIN = 0.02;
const ROOM_CELSIUS = 20;
const BOIL_CELSIUS = 98;

const follow = (value: number, target: number, share: number): number => value + (target - value) * share;
const shareOf = (elapsedMs: number, lagMs: number): number => 1 - Math.exp(-elapsedMs / lagMs);

/** A sender on the bench in a bath with a thermometer. The thermometer is for a person's eyes; the box has only the ohms. */
export class SenderBath {
  /** What the thermometer (the dipstick, the master gauge) shows. */
  thermometer: number;
  readonly #gauge: SimulatedGauge;
  readonly #restsAt: number;
  #plan: BathPlan;
  #body: number;
  #riseKelvin = 0;

  constructor(gauge: SimulatedGauge, plan: BathPlan) {
    const readings = gauge.marks.map((mark) => mark.reading);
    const isTemperature = gauge.quantity === 'temperature';
    const highest = Math.max(...readings);
    this.#gauge = gauge;
    this.#plan = plan;
    this.#restsAt = isTemperature ? ROOM_CELSIUS : Math.min(...readings);
    this.thermometer = plan.holdAt ?? (isTemperature ? Math.min(highest, BOIL_CELSIUS) : highest);
    this.#body = this.thermometer;
  }

  /** Another plan for the bath that is there. */
  change(plan: BathPlan): void {
    this.#plan = plan;
  }

  get ohm(): number {
    const { originalSender, replacementSender } = this.#gauge;
    const law = this.#plan.sender === 'original' ? originalSender : replacementSender;
    return law(this.#body + this.#riseKelvin);
  }

  /** Time passes; `watt` is what the box's current burns in the sender. */
  step(watt: number, elapsedMs: number): void {
    const { holdAt } = this.#plan;
    const lagMs = holdAt === undefined ? COOLING_MS : HOLDING_MS;
    this.thermometer = follow(this.thermometer, holdAt ?? this.#restsAt, shareOf(elapsedMs, lagMs));
    this.#body = follow(this.#body, this.thermometer, shareOf(elapsedMs, BODY_LAG_MS));
    const heated = this.#gauge.quantity === 'temperature' ? watt / WATT_PER_KELVIN : 0;
    this.#riseKelvin = follow(this.#riseKelvin, heated, shareOf(elapsedMs, BEAD_LAG_MS));
  }
}
