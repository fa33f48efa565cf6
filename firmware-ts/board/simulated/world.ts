import { contactBits, meterChannels, ohmmeter, relayGpioMask, pins } from '../reference-design';
import type { MeterChannelName } from '../reference-design';
import { SenderBath } from './bath';
import type { BathPlan } from './bath';
import { SimulatedChain } from './chain';
import { VirtualClock } from './clock';
import { Comparators } from './comparators';
import { CoilRail } from './coil-rail';
import { SimulatedConverter } from './converter';
import { SimulatedFrontEnd } from './front-end';
import type { SimulatedGauge } from './gauges/catalogue';
import { Random } from './random';
import { Vehicle } from './vehicle';

/** Where the ohmmeter's current goes: nowhere, through a sender on the bench, or through the box's own chain. */
export type CalPost =
  | { readonly kind: 'open' }
  | { readonly kind: 'sender'; readonly ohm: number }
  | { readonly kind: 'bath'; readonly bath: SenderBath }
  | { readonly kind: 'chain' };

export type WorldOptions = {
  readonly gauge: SimulatedGauge;
  readonly seed: number;
  /** How many times faster than the box the needle lives. */
  readonly speed?: number;
};

const PHYSICS_MS = 5;
const MICRO = 1e6;
/** Gain of the amplifier across the ohmmeter's reference, half width: four resistors of one network. */
const GAIN_FRACTION = 0.0005;
/** Leakage into the terminal divider, as volts at the clip, half width. */
const LEAK_MICROVOLT = 500;
const BIAS_MICROVOLT = meterChannels.terminal.offset;
const GROUND_LEAD_OHM = 0.035;

/** Everything outside the firmware: board, chain, vehicle, time. One seed makes one box and one day. */
export class World {
  readonly clock: VirtualClock;
  readonly random: Random;
  readonly chain: SimulatedChain;
  readonly rail: CoilRail;
  readonly vehicle: Vehicle;
  readonly converters: readonly [SimulatedConverter, SimulatedConverter];
  readonly frontEnd: SimulatedFrontEnd;
  /** With the SENDER clip on the CAL + post: the BATTERY - clip lies on the other post. */
  isBatteryClipOnPost = true;
  calPost: CalPost = { kind: 'open' };
  readonly #comparators = new Comparators();
  readonly #speed: number;
  readonly #currentGain: number;
  readonly #referenceGain: number;
  #bank = 0;
  #sourceAmp = 0;
  #referenceOhm = 0;

  constructor({ gauge, seed, speed = 1 }: WorldOptions) {
    this.random = new Random(seed);
    this.#speed = speed;
    this.clock = new VirtualClock(this.random);
    this.chain = new SimulatedChain(this.random);
    this.rail = new CoilRail(this.clock, () => this.#coilsChanged());
    this.vehicle = new Vehicle(gauge, this.random, speed);
    const amplifierGain = 1 + this.random.between(-GAIN_FRACTION, GAIN_FRACTION);
    this.#referenceGain =
      amplifierGain * (1 + this.random.between(-1, 1) * (ohmmeter.referenceTolerancePercent / 100));
    this.#currentGain = this.chain.shuntOhm / 0.5;
    this.frontEnd = new SimulatedFrontEnd(seed, this.random.between(-LEAK_MICROVOLT, LEAK_MICROVOLT));
    const truth = (name: MeterChannelName): number => this.#truth(name);
    this.converters = [new SimulatedConverter(0, truth, this), new SimulatedConverter(1, truth, this)];
    this.clock.at(PHYSICS_MS, this.#physics);
  }

  /** Resistance between the clips at this instant, infinite while the output is open. */
  get pathOhm(): number {
    return this.chain.pathOhm(this.clock.nowMs) + GROUND_LEAD_OHM;
  }

  /** Resistance between the clips once everything is at rest, for a mask. */
  settledOhm(contactMask: number): number {
    return this.chain.settledOhm(contactMask) + GROUND_LEAD_OHM;
  }

  /** Contact mask as commanded. */
  get commandedMask(): number {
    return (this.#bank >>> pins.elements[0]) & contactBits.allMask;
  }

  driveBank(bits: number): void {
    this.#bank = bits & relayGpioMask;
    if ((this.commandedMask & contactBits.outputMask) === 0) this.rail.release();
    this.#coilsChanged();
  }

  /** Reset of the chip: every output floats, the pull-downs win. */
  releaseOutputs(): void {
    this.driveBank(0);
    this.sourceOff();
  }

  sourceOn(range: 'low' | 'high'): void {
    this.#sourceAmp = ohmmeter[range].microamp / MICRO;
    this.#referenceOhm = (ohmmeter[range].referenceMilliohm / 1000) * this.#referenceGain;
  }

  sourceOff(): void {
    this.#sourceAmp = 0;
    this.#referenceOhm = 0;
  }

  /** Clips off the vehicle and onto a sender in a bath; the bath that is there goes on when only its plan changes. */
  putInBath(plan: BathPlan): void {
    if (this.calPost.kind === 'bath') this.calPost.bath.change(plan);
    else this.calPost = { kind: 'bath', bath: new SenderBath(this.vehicle.gauge, plan) };
  }

  readonly #physics = (): void => {
    this.clock.at(this.clock.nowMs + PHYSICS_MS, this.#physics);
    const nowMs = this.clock.nowMs;
    if (this.#comparators.look(this.#terminal().amp, PHYSICS_MS)) this.rail.trip();
    this.vehicle.step(this.pathOhm, nowMs, PHYSICS_MS);
    if (this.calPost.kind === 'bath') {
      const { volt, amp } = this.#terminal();
      this.calPost.bath.step(volt * amp, PHYSICS_MS * this.#speed);
    }
  };

  #coilsChanged(): void {
    const { outputMask } = contactBits;
    const fed = (this.rail.isOn ? outputMask : 0) | (this.rail.isChainOn ? ~outputMask : 0);
    this.chain.energise(this.commandedMask & fed, this.clock.nowMs);
    this.vehicle.needle.disturb();
  }

  #terminal(): { readonly volt: number; readonly amp: number } {
    const { calPost } = this;
    if (calPost.kind === 'open') return this.vehicle.terminal(this.pathOhm, this.clock.nowMs);
    const ohm = this.#postOhm(calPost);
    const limitVolt = ohmmeter.complianceMillivolt / 1000;
    const volt = Number.isFinite(ohm)
      ? Math.min(this.#sourceAmp * ohm, limitVolt)
      : this.#sourceAmp > 0
        ? limitVolt
        : 0;
    const amp = Number.isFinite(ohm) ? volt / ohm : 0;
    return { volt, amp };
  }

  #postOhm(calPost: Exclude<CalPost, { kind: 'open' }>): number {
    switch (calPost.kind) {
      case 'sender':
        return calPost.ohm;
      case 'bath':
        return calPost.bath.ohm;
      case 'chain':
        return this.chain.pathOhm(this.clock.nowMs);
    }
  }

  #truth(name: MeterChannelName): number {
    const { volt, amp } = this.#terminal();
    // The current comes back to box common through the ground lead, so the clip lies below common.
    const groundSense = this.calPost.kind === 'open' ? -amp * GROUND_LEAD_OHM : 0;
    const shown = (microvolt: number): number =>
      name === 'current' || name === 'reference' ? microvolt : this.frontEnd.shownMicrovolt(name, microvolt);
    switch (name) {
      case 'terminal':
        return shown((volt + groundSense) * MICRO);
      case 'supply':
        return shown(
          this.vehicle.settings.isConnected ? this.vehicle.feed.supplyVolt * MICRO : BIAS_MICROVOLT,
        );
      case 'groundSense':
        return shown(groundSense * MICRO);
      case 'current':
        return (
          (this.calPost.kind === 'sender' || this.calPost.kind === 'bath' ? 0 : amp) *
            MICRO *
            this.#currentGain +
          this.frontEnd.currentZeroMicroamp
        );
      case 'groundOffset':
        return shown(this.#batteryClipMicrovolt(groundSense));
      case 'reference':
        return this.calPost.kind === 'open' ? 0 : amp * this.#referenceOhm * MICRO;
    }
  }

  #batteryClipMicrovolt(groundSenseVolt: number): number {
    if (this.calPost.kind === 'open') return (groundSenseVolt - this.vehicle.groundOffsetVolt) * MICRO;
    return this.isBatteryClipOnPost ? 0 : BIAS_MICROVOLT;
  }
}
