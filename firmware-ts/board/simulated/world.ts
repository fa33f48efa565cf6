import { contactBits, groundLead, relayGpioMask, pins } from '../reference-design';
import type { MeterChannelName } from '../reference-design';
import { SenderBath } from './bath';
import type { BathPlan } from './bath';
import { SimulatedChain } from './chain';
import { VirtualClock } from './clock';
import type { CircuitPlace } from './cluster/shared-circuit';
import { Comparators } from './comparators';
import { CoilRail } from './coil-rail';
import { SimulatedConverter } from './converter';
import { ElectricalWorld } from './electrical';
import type { HookUp, SourceState, Volts } from './electrical';
import { BIAS_VOLT, SimulatedFrontEnd } from './front-end';
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
  /** Where the board's clock begins, milliseconds, and whether it is the signed 32-bit count of the first board. */
  readonly startMs?: number;
  readonly signedTicks?: boolean;
  /** The gauge sits in a cluster, whose other gauges share its feed and ground. */
  readonly place?: CircuitPlace;
};

const PHYSICS_MS = 5;
/** The comparators act within this. */
const COMPARATOR_MS = 1;
const MICRO = 1e6;
const GROUND_LEAD_OHM = groundLead.milliohm / 1000;

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
  /** The bus hangs: every transfer takes this long, or the time-out it was given if that is shorter, and then fails. */
  busHangMs = 0;
  readonly #comparators = new Comparators();
  readonly #speed: number;
  readonly #electrical: ElectricalWorld;
  #bank = 0;
  #source: SourceState = 'off';

  constructor({ gauge, seed, speed = 1, startMs = 0, signedTicks = false, place }: WorldOptions) {
    this.random = new Random(seed);
    this.#speed = speed;
    this.clock = new VirtualClock(this.random, { startMs, isSigned: signedTicks });
    this.chain = new SimulatedChain(this.random);
    this.rail = new CoilRail(this.clock, () => this.#coilsChanged());
    this.vehicle = new Vehicle(gauge, this.random, speed, place);
    this.frontEnd = new SimulatedFrontEnd(seed);
    this.#electrical = new ElectricalWorld(this.frontEnd);
    const truth = (name: MeterChannelName): number => this.#converterMicrovolt(name);
    this.converters = [new SimulatedConverter(0, truth, this), new SimulatedConverter(1, truth, this)];
    this.clock.at(PHYSICS_MS, this.#physics);
    this.clock.at(COMPARATOR_MS, this.#watchCurrent);
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
    this.#source = range;
  }

  sourceOff(): void {
    this.#source = 'off';
  }

  /** Clips off the vehicle and onto a sender in a bath; the bath that is there goes on when only its plan changes. */
  putInBath(plan: BathPlan): void {
    if (this.calPost.kind === 'bath') this.calPost.bath.change(plan);
    else this.calPost = { kind: 'bath', bath: new SenderBath(this.vehicle.gauge, plan) };
  }

  readonly #physics = (): void => {
    this.clock.at(this.clock.nowMs + PHYSICS_MS, this.#physics);
    const nowMs = this.clock.nowMs;
    this.vehicle.step(this.pathOhm, nowMs, PHYSICS_MS);
    if (this.calPost.kind === 'bath') {
      const { senderVolt, groundVolt, postAmp } = this.volts;
      this.calPost.bath.step((senderVolt - groundVolt) * postAmp, PHYSICS_MS * this.#speed);
    }
  };

  readonly #watchCurrent = (): void => {
    this.clock.at(this.clock.nowMs + COMPARATOR_MS, this.#watchCurrent);
    if (this.#comparators.look(this.volts.pathAmp, COMPARATOR_MS)) this.rail.trip();
  };

  #coilsChanged(): void {
    const { outputMask } = contactBits;
    const fed = (this.rail.isOn ? outputMask : 0) | (this.rail.isChainOn ? ~outputMask : 0);
    this.chain.energise(this.commandedMask & fed, this.clock.nowMs);
    this.vehicle.needle.disturb();
  }

  /** Voltages and currents of the whole network at this instant. */
  get volts(): Volts {
    return this.#electrical.solve({
      pathOhm: this.chain.pathOhm(this.clock.nowMs),
      source: this.#source,
      hookUp: this.#hookUp(),
    });
  }

  #hookUp(): HookUp {
    const { calPost, vehicle } = this;
    switch (calPost.kind) {
      case 'sender':
        return { kind: 'sender', ohm: calPost.ohm };
      case 'bath':
        return { kind: 'sender', ohm: calPost.bath.ohm };
      case 'chain':
        return { kind: 'posts', isBatteryClipOn: this.isBatteryClipOnPost };
      case 'open':
        return vehicle.settings.isConnected
          ? { kind: 'vehicle', circuit: vehicle.circuit(this.clock.nowMs) }
          : { kind: 'free' };
    }
  }

  /** What a converter sees of a channel against bias: from the network and the amplifiers, not from any law. */
  #converterMicrovolt(name: MeterChannelName): number {
    const { middle, pathAmp, referenceEnds } = this.volts;
    switch (name) {
      case 'current':
        return this.frontEnd.currentVolt(pathAmp * this.chain.shuntOhm) * MICRO;
      case 'reference':
        return this.frontEnd.referenceVolt(referenceEnds) * MICRO;
      case 'terminal':
      case 'supply':
      case 'groundSense':
      case 'groundOffset':
        return (middle[name] - BIAS_VOLT) * MICRO;
    }
  }
}
