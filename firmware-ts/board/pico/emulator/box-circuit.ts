import { Bus } from './bus';
import type { Chip } from './chip';
import { circuit, ELEMENT_COUNT, pins, RAIL_CHANNEL, relayTimes } from './circuit';
import { ContactPart } from './contact-part';
import { ConverterPart } from './converter-part';
import { Random } from './random';
import type { Alarm } from './rp2040';
import { solve } from './world';
import type { Electric, Hookup, SourceRange } from './world';

/** A pin that is driven high reads so whatever its pulls (states of the emulator: 0 low, 1 high, others inputs). */
const DRIVEN_HIGH = 1;
const TRIP_LOOK_NANOS = 200_000;

/** One thing that happened, for the figures. */
export type Watch = {
  pulse: (atNanos: number) => void;
  /** The pin of K16's coil, its contact, its supply. */
  command: (isOn: boolean, atNanos: number) => void;
  output: (isClosed: boolean, atNanos: number) => void;
  rail: (isOn: boolean, atNanos: number) => void;
  meterRead: (atNanos: number) => void;
};

/** Everything round the controller: coils and contacts, one-shot and supplies, trip, path, amplifiers, converters. */
export class BoxCircuit {
  hookup: Hookup = { kind: 'air' };
  readonly bus: Bus;
  readonly watch: Watch = {
    pulse: () => undefined,
    command: () => undefined,
    output: () => undefined,
    rail: () => undefined,
    meterRead: () => undefined,
  };
  readonly #chip: Chip;
  readonly #random = new Random(41);
  readonly #elements: readonly ContactPart[];
  readonly #limiter: ContactPart;
  readonly #output: ContactPart;
  readonly #elementOhm: readonly number[];
  readonly #outputLapse: Alarm;
  readonly #chainLapse: Alarm;
  readonly #tripLook: Alarm;
  #isOutputSupplied = false;
  #isChainSupplied = false;
  #isTripped = false;
  /** What the slow comparators see. */
  #slowAmp = 0;
  #wasOutputClosed = false;

  constructor(chip: Chip) {
    this.#chip = chip;
    const { clock, rp2040 } = chip;
    const contact = (times: (typeof relayTimes)[keyof typeof relayTimes]): ContactPart =>
      new ContactPart(clock, times, this.#random, () => this.#contactMoved());
    this.#elements = circuit.elementOhm.map(() => contact(relayTimes.chain));
    this.#limiter = contact(relayTimes.chain);
    this.#output = contact(relayTimes.output);
    // Parts of 1 %: every one somewhere inside.
    this.#elementOhm = circuit.elementOhm.map((ohm) => ohm * (1 + this.#random.between(-0.01, 0.01)));
    this.#outputLapse = clock.createAlarm(() => this.#supplyLapsed());
    this.#chainLapse = clock.createAlarm(() => this.#setChainSupply(false));
    this.#tripLook = clock.createAlarm(() => this.#compare());
    this.bus = new Bus(rp2040.i2c[0]!, clock, this.#converters());
    for (let pin = pins.firstElement; pin <= pins.output; pin += 1) {
      rp2040.gpio[pin]!.addListener(() => this.#drive());
    }
    rp2040.gpio[pins.output]!.addListener((state) => this.watch.command(state === DRIVEN_HIGH, clock.nanos));
    rp2040.gpio[pins.pulse]!.addListener((state) => this.#pulsed(state === DRIVEN_HIGH));
    rp2040.gpio[pins.trip]!.setInputValue(true);
    rp2040.gpio[1]!.setInputValue(true);
    rp2040.adc.channelValues[RAIL_CHANNEL] = 0;
    this.#tripLook.schedule(TRIP_LOOK_NANOS);
  }

  /** Volts and amps at a time. */
  electric(atMs = this.#chip.nowMs): Electric {
    return solve(this.hookup, { pathOhm: this.#pathOhm(), source: this.#source() }, atMs);
  }

  get isOutputClosed(): boolean {
    return this.#output.isClosed;
  }

  #converters(): Map<number, ConverterPart> {
    const { clock, rp2040 } = this.#chip;
    const first = new ConverterPart(clock, {
      conversionMs: 5.8 * 1.015,
      volt: (input, atMs) => this.#first(input, this.electric(atMs)),
      ready: () => undefined,
      random: this.#random,
    });
    const second = new ConverterPart(clock, {
      conversionMs: 5.8 * 0.99,
      volt: (input, atMs) => this.#second(input, this.electric(atMs)),
      ready: (isWaiting) => rp2040.gpio[pins.ready]!.setInputValue(!isWaiting),
      random: this.#random,
    });
    rp2040.gpio[pins.ready]!.setInputValue(true);
    first.onRead = (input) => {
      if (input === 0) this.watch.meterRead(clock.nanos);
    };
    return new Map([
      [0x40, first],
      [0x45, second],
    ]);
  }

  /** Converter 0: terminal, feed, ground clip, all against bias. */
  #first(input: number, electric: Electric): number {
    const foot = circuit.dividerFootOhm;
    const ratio = foot / (circuit.senseOhm + foot);
    // Everything is read against box common, which the current lifts above the GROUND clip.
    const overCommon = (volt: number): number => volt + this.#clipVolt(electric) - circuit.biasVolt;
    if (input === 0) return overCommon(electric.terminalVolt) * ratio * (1 + circuit.terminalRatioError);
    if (input === 1) return electric.isFeedClipped ? overCommon(electric.feedVolt) * ratio : 0;
    return this.#ground(electric);
  }

  /** Converter 1: current, battery negative, drop of the ohmmeter's reference. */
  #second(input: number, electric: Electric): number {
    if (input === 0) return (electric.amp + circuit.currentZeroAmp) * circuit.currentVoltPerAmp;
    if (input === 1) return this.#ground(electric);
    const { lowOhm, highOhm } = circuit.source;
    return electric.sourceAmp * (this.#source() === 'high' ? highOhm : lowOhm);
  }

  #ground(electric: Electric): number {
    if (!electric.areGroundsClipped) return 0;
    const foot = circuit.dividerFootOhm;
    return ((this.#clipVolt(electric) - circuit.biasVolt) * foot) / (circuit.groundSenseOhm + foot);
  }

  /** GROUND clip against box common. */
  #clipVolt(electric: Electric): number {
    return this.hookup.kind === 'gauge' ? -electric.amp * (circuit.leadOhm + circuit.groundFuseOhm) : 0;
  }

  #pathOhm(): number {
    if (!this.#output.isClosed) return Infinity;
    let ohm = circuit.leadOhm + circuit.fuseOhm + circuit.shuntOhm + circuit.contactOhm;
    if (this.hookup.kind === 'gauge') ohm += circuit.leadOhm + circuit.groundFuseOhm;
    ohm += this.#limiter.isClosed ? circuit.contactOhm : circuit.limiterOhm;
    for (let index = 0; index < ELEMENT_COUNT; index += 1) {
      ohm += this.#elements[index]!.isClosed ? circuit.contactOhm / 2 : this.#elementOhm[index]!;
    }
    return ohm;
  }

  #source(): SourceRange {
    if (this.#isHigh(pins.sourceHigh)) return 'high';
    return this.#isHigh(pins.sourceLow) ? 'low' : 'off';
  }

  #isHigh(pin: number): boolean {
    return this.#chip.rp2040.gpio[pin]!.value === DRIVEN_HIGH;
  }

  #drive(): void {
    for (const [index, contact] of this.#elements.entries()) {
      contact.energise(this.#isChainSupplied && this.#isHigh(pins.firstElement + index));
    }
    this.#limiter.energise(this.#isChainSupplied && this.#isHigh(pins.limiter));
    this.#output.energise(this.#isOutputSupplied && this.#isHigh(pins.output));
    // The latch lets go only with K16's drive off.
    if (this.#isTripped && !this.#isHigh(pins.output)) this.#latch(false);
  }

  #pulsed(isRising: boolean): void {
    const { nanos } = this.#chip.clock;
    this.watch.pulse(nanos);
    if (!isRising || this.#isTripped) return;
    this.#outputLapse.schedule(circuit.oneShotMs * 1e6);
    this.#chainLapse.cancel();
    this.#setChainSupply(true);
    if (this.#isOutputSupplied) return;
    this.#isOutputSupplied = true;
    this.#supplyChanged();
  }

  #supplyLapsed(): void {
    this.#isOutputSupplied = false;
    if (circuit.chainHoldMs > 0) this.#chainLapse.schedule(circuit.chainHoldMs * 1e6);
    else this.#setChainSupply(false);
    this.#supplyChanged();
  }

  #setChainSupply(isOn: boolean): void {
    if (this.#isChainSupplied === isOn) return;
    this.#isChainSupplied = isOn;
    this.#supplyChanged();
  }

  #supplyChanged(): void {
    const share = (Number(this.#isOutputSupplied) + Number(this.#isChainSupplied)) / 2;
    this.#chip.rp2040.adc.channelValues[RAIL_CHANNEL] = Math.round(circuit.railCounts * share);
    this.watch.rail(this.#isOutputSupplied, this.#chip.clock.nanos);
    this.#drive();
  }

  #compare(): void {
    this.#tripLook.schedule(TRIP_LOOK_NANOS);
    const { atOnceAmp, slowAmp, slowMs } = circuit.trip;
    const { amp } = this.electric();
    this.#slowAmp += ((amp - this.#slowAmp) * TRIP_LOOK_NANOS) / (slowMs * 1e6);
    if (Math.abs(amp) > atOnceAmp || Math.abs(this.#slowAmp) > slowAmp) this.#latch(true);
  }

  #latch(isTripped: boolean): void {
    if (this.#isTripped === isTripped) return;
    this.#isTripped = isTripped;
    this.#chip.rp2040.gpio[pins.trip]!.setInputValue(!isTripped);
    if (!isTripped) return;
    this.#outputLapse.cancel();
    this.#supplyLapsed();
  }

  #contactMoved(): void {
    if (this.#output.isClosed === this.#wasOutputClosed) return;
    this.#wasOutputClosed = this.#output.isClosed;
    this.watch.output(this.#output.isClosed, this.#chip.clock.nanos);
  }
}
