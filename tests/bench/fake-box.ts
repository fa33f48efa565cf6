import {
  capabilities,
  faults,
  jobKinds,
  meterFlags,
  states,
  type Answer,
  type Fields,
  type RequestName,
} from '../../protocol';
import type { BoxLink, LinkEvent, LinkListener, LinkProblem, LinkResult, LinkState } from '../../host/link';
import type { VirtualClock } from './virtual-clock';

/** What a needle does: where it comes to rest, how fast, and how much friction holds it. */
export type FakeGauge = {
  readonly restAt: (resistanceOhm: number | undefined) => number;
  readonly tauMs: number;
  /** Half of the play between the legs, in dial units. */
  readonly friction: number;
};

type Refusal = { readonly refused: string };
type Handlers = { [Name in RequestName]: (fields: Fields<Name>) => Answer<Name> | Refusal };

const ELEMENTS = Array.from({ length: 14 }, (_, index) => Math.round(500 * 1.9 ** index));
const RESIDUAL_MILLIOHM = 300;
const LIMITER_BIT = 14;
const LIMITER_MILLIOHM = 1_000_000;
const LEASE_MS = 1_500;
const BEAT_MS = 100;
/** Three tries of 250 ms. */
const GIVEN_UP_MS = 750;
const SUPPLY_VOLT = 10;
const GAUGE_OHM = 60;

/** A box without a wire: the rules of the real one that the bench depends on, in virtual time. */
export class FakeBox implements BoxLink {
  readonly requests: { readonly name: RequestName; readonly fields: Readonly<Record<string, number>> }[] = [];
  readonly driven: number[] = [];
  state: LinkState = 'live';
  problem: LinkProblem | undefined;
  rampPermille = 0;
  floorMilliohm = 8_000;
  /** Set to make the ignition off: no current, nothing proven. */
  isFed = true;
  /** The cable carries nothing: what is asked is never answered, and the link gives the box up after its three tries. */
  isMute = false;
  calibrationId = 1;
  #elements = ELEMENTS;
  /** How long ago it last read volts and amps. */
  meterAgeMs = 20;
  /** What the offset probe sees; left out: it hangs in the air. */
  groundOffsetMicrovolt: number | undefined;
  /** Set to make the stabiliser chop: the period of its pulses and the part of it that is on. */
  pulses: { readonly periodMs: number; readonly onPart: number } | undefined;
  #boxState: number = states.safe;
  #faultCode = 0;
  #madeMilliohm: number | undefined;
  /** Between two pulses nothing proves a setting: the limiter stays in the path until the next one. */
  #isLimited = false;
  #bootNonce = 7;
  #lagged: number;
  #needle: number;
  #movedAtMs: number;
  /** What it calls itself from the next greeting on. */
  serial: number;
  readonly #clock: VirtualClock;
  readonly #gauge: FakeGauge;
  readonly #listeners = new Set<LinkListener>();

  constructor(clock: VirtualClock, gauge: FakeGauge, serial = 42) {
    this.serial = serial;
    this.#clock = clock;
    this.#gauge = gauge;
    this.#lagged = gauge.restAt(undefined);
    this.#needle = this.#lagged;
    this.#movedAtMs = clock.nowMs();
    this.#beatLater();
  }

  get greeting(): Answer<'hello'> | undefined {
    if (this.state !== 'live') return undefined;
    return {
      protocolMajor: 1,
      protocolMinor: 0,
      firmwareMajor: 0,
      firmwareMinor: 1,
      firmwarePatch: 0,
      boxSerial: this.serial,
      bootNonce: this.#bootNonce,
      hostNonce: 1,
      capabilities: capabilities.simulated | capabilities.ohmmeter,
      channelCount: 1,
      elementCount: ELEMENTS.length,
      state: this.#boxState,
      deadManMaxMs: 2_000,
      currentMaxMilliamp: 300,
      supplyMaxMillivolt: 16_000,
      resistanceMaxOhm: 5_000,
      calibrationId: this.calibrationId,
      calibrationDay: 20_500,
      calibrationEndDay: 20_900,
      boxMs: this.#clock.nowMs(),
    };
  }

  /** Where a person sees the needle now. */
  look(): number {
    this.#move();
    return this.#needle;
  }

  get isOpen(): boolean {
    return this.#madeMilliohm === undefined;
  }

  request<Name extends RequestName>(name: Name, fields: Fields<Name>): Promise<LinkResult<Name>> {
    if (this.state !== 'live') {
      return Promise.resolve({ kind: 'link-failed', code: 'LINK_NOT_LIVE', message: 'not live' });
    }
    this.requests.push({ name, fields });
    if (this.isMute) return this.#givenUp();
    const answer = this.#handlers[name](fields);
    if ('refused' in answer) {
      return Promise.resolve({
        kind: 'refused',
        code: answer.refused,
        message: `the box refused: ${answer.refused}`,
      });
    }
    return Promise.resolve({ kind: 'answer', fields: answer });
  }

  #givenUp<Name extends RequestName>(): Promise<LinkResult<Name>> {
    return new Promise((resolve) => {
      this.#clock.after(GIVEN_UP_MS, () =>
        resolve({ kind: 'link-failed', code: 'LINK_SILENT', message: 'it stopped answering' }),
      );
    });
  }

  subscribe(listener: LinkListener): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  close(): Promise<void> {
    return Promise.resolve();
  }

  /** A guard opens the output. */
  trip(fault: keyof typeof faults, measured: number, limit: number): void {
    this.tripUnheard(fault);
    const fields = { channel: 0, faultCode: this.#faultCode, measured, limit, boxMs: this.#clock.nowMs() };
    this.#tell({ kind: 'tripped', fields });
  }

  /** The same, while nobody hears what it says of it. */
  tripUnheard(fault: keyof typeof faults): void {
    this.#make(undefined);
    this.#boxState = states.tripped;
    this.#faultCode = faults[fault].number;
  }

  /** Its parts were measured anew: each is a little more than before. */
  calibrate(): void {
    this.calibrationId += 1;
    this.#elements = this.#elements.map((milliohm) => Math.round(milliohm * 1.01));
  }

  /** The cable comes out; the real box opens by itself within its lease. */
  unplug(): void {
    this.state = 'failed';
    this.problem = { code: 'LINK_UNPLUGGED', message: 'the box was unplugged; plug it in again' };
    this.#make(undefined);
    this.#boxState = states.safe;
    this.#tell({ kind: 'state', state: 'failed', reason: this.problem });
  }

  /** The line breaks for a moment: the box has heard nothing of it yet and still holds what it was told. */
  loseLine(): void {
    this.state = 'failed';
    this.problem = { code: 'LINK_UNPLUGGED', message: 'the line broke' };
    this.#tell({ kind: 'state', state: 'failed', reason: this.problem });
  }

  replug(isRestarted = false): void {
    this.state = 'live';
    this.problem = undefined;
    if (isRestarted) this.#bootNonce += 1;
    const { greeting } = this;
    if (isRestarted && greeting !== undefined) this.#tell({ kind: 'restarted', greeting, isOtherBox: false });
    this.#tell({ kind: 'state', state: 'live' });
  }

  #beatLater(): void {
    this.#clock.after(BEAT_MS, () => {
      if (this.state === 'live')
        this.#tell({ kind: 'heartbeat', fields: this.#vital(), atMs: this.#clock.nowMs() });
      this.#beatLater();
    });
  }

  #vital(): Answer<'heartbeat'> {
    const made = this.#madeMilliohm;
    const isOff = this.#isBetweenPulses();
    this.#isLimited = this.#isLimited && isOff;
    const amp = made === undefined || !this.isFed || isOff ? 0 : SUPPLY_VOLT / (GAUGE_OHM + made / 1000);
    const isMade = made !== undefined && this.isFed;
    return {
      state: this.#boxState,
      faultCode: this.#faultCode,
      contactMask: 0,
      meterFlags: isMade
        ? meterFlags.outputMade |
          meterFlags.settled |
          meterFlags.resistanceKnown |
          (this.#isLimited ? meterFlags.limiterInPath : 0) |
          (this.pulses === undefined ? 0 : meterFlags.pulsing)
        : made === undefined
          ? 0
          : meterFlags.settled,
      leaseLeftMs: LEASE_MS,
      boxMs: this.#clock.nowMs(),
      terminalMicrovolt: Math.round(amp * (made ?? 0) * 1000),
      currentMicroamp: Math.round(amp * 1e6),
      measuredMilliohm: made ?? 0,
      madeMilliohm: (made ?? 0) + (this.#isLimited ? LIMITER_MILLIOHM : 0),
      meterAgeMs: this.meterAgeMs,
    };
  }

  #isBetweenPulses(): boolean {
    const { pulses } = this;
    return pulses !== undefined && this.#clock.nowMs() % pulses.periodMs >= pulses.onPart * pulses.periodMs;
  }

  /** Mean, root mean square and extremes of whole pulses: a square wave between 0 and the full volts. */
  #measured(): Answer<'measure'> {
    const vital = this.#vital();
    const full = this.#fullMicrovolt();
    const on = this.pulses?.onPart ?? 1;
    const offset = this.groundOffsetMicrovolt;
    return {
      meterFlags:
        vital.meterFlags |
        meterFlags.heatKnown |
        meterFlags.openCircuitKnown |
        (offset === undefined ? 0 : meterFlags.groundOffsetKnown),
      terminalMicrovolt: Math.round(on * full),
      currentMicroamp: Math.round((on * SUPPLY_VOLT * 1e6 - on * full) / GAUGE_OHM),
      measuredMilliohm: this.#madeMilliohm ?? 0,
      measuredUncertaintyMilliohm: 50,
      openCircuitMicrovolt: SUPPLY_VOLT * 1e6,
      openCircuitAgeMs: 0,
      heatMicrovolt: Math.round(Math.sqrt(on) * full),
      highMicrovolt: full,
      lowMicrovolt: this.pulses === undefined ? full : 0,
      dutyPermille: Math.round(1000 * on),
      pulsePeriodMs: this.pulses?.periodMs ?? 0,
      groundOffsetMicrovolt: offset ?? 0,
      meterAgeMs: 20,
      boxMs: this.#clock.nowMs(),
    };
  }

  #fullMicrovolt(): number {
    const made = this.#madeMilliohm;
    if (!this.isFed) return 0;
    return made === undefined
      ? SUPPLY_VOLT * 1e6
      : Math.round((SUPPLY_VOLT * made * 1000) / (GAUGE_OHM + made / 1000));
  }

  #tell(event: LinkEvent): void {
    for (const listener of [...this.#listeners]) listener(event);
  }

  #make(milliohm: number | undefined): void {
    this.#move();
    this.#madeMilliohm = milliohm;
  }

  /** First-order lag, then friction as play: the needle follows only when pushed. Exact between two changes. */
  #move(): void {
    const passedMs = this.#clock.nowMs() - this.#movedAtMs;
    this.#movedAtMs = this.#clock.nowMs();
    const made = this.#madeMilliohm;
    const rest = this.#gauge.restAt(made === undefined ? undefined : made / 1000);
    this.#lagged = rest + (this.#lagged - rest) * Math.exp(-passedMs / this.#gauge.tauMs);
    const { friction } = this.#gauge;
    this.#needle = Math.min(this.#lagged + friction, Math.max(this.#lagged - friction, this.#needle));
  }

  readonly #now = (): { state: number; boxMs: number } => ({
    state: this.#boxState,
    boxMs: this.#clock.nowMs(),
  });

  #set({ contactMask, resistanceMilliohm }: Fields<'set'>): Answer<'set'> | Refusal {
    if (this.#boxState !== states.armed && this.#boxState !== states.driving) return { refused: 'STATE' };
    const sum = this.#elements.reduce(
      (all, each, bit) => all + ((contactMask >> bit) & 1 ? 0 : each),
      RESIDUAL_MILLIOHM,
    );
    if (sum !== resistanceMilliohm) return { refused: 'SUM_DISAGREES' };
    const lowest = ((this.#madeMilliohm ?? 4_000_000) * this.rampPermille) / 1000;
    if (sum < lowest) return { refused: 'RAMP' };
    // What is there already was proved when it was made.
    this.#isLimited = this.#isBetweenPulses() && (this.#isLimited || sum !== this.#madeMilliohm);
    this.#make(sum);
    this.driven.push(sum / 1000);
    this.#boxState = states.driving;
    return {
      contactMask: this.#isLimited ? contactMask & ~(1 << LIMITER_BIT) : contactMask,
      madeMilliohm: this.#isLimited ? sum + LIMITER_MILLIOHM : sum,
      uncertaintyMilliohm: this.#isLimited ? 550 : 50,
      settleMs: 20,
      boxMs: this.#clock.nowMs(),
    };
  }

  #element({ index }: Fields<'element'>): Answer<'element'> | Refusal {
    const row = { index, uncertaintyMilliohm: 5, powerLimitMilliwatt: 500 };
    const milliohm = this.#elements[index];
    if (milliohm !== undefined) return { ...row, kind: 0, contactBit: index, milliohm };
    if (index === ELEMENTS.length)
      return { ...row, kind: 1, contactBit: LIMITER_BIT, milliohm: LIMITER_MILLIOHM };
    if (index === ELEMENTS.length + 1)
      return { ...row, kind: 2, contactBit: 255, milliohm: RESIDUAL_MILLIOHM };
    return { refused: 'INDEX' };
  }

  readonly #handlers: Handlers = {
    hello: () => ({ refused: 'STATE' }),
    heartbeat: () => this.#vital(),
    arm: () => {
      if (this.#boxState === states.tripped) return { refused: 'TRIPPED' };
      this.#boxState = states.armed;
      return { ...this.#now(), openCircuitMicrovolt: SUPPLY_VOLT * 1e6 };
    },
    set: (fields) => this.#set(fields),
    open: () => {
      this.#make(undefined);
      if (this.#boxState !== states.tripped) this.#boxState = states.safe;
      return this.#now();
    },
    measure: () => this.#measured(),
    clear: ({ faultCode }) => {
      if (faultCode !== this.#faultCode) return { refused: 'WRONG_FAULT' };
      this.#faultCode = 0;
      this.#boxState = states.safe;
      return this.#now();
    },
    element: (fields) => this.#element(fields),
    ohmmeter: ({ currentMicroamp }) => ({
      terminalMicrovolt: 110_000,
      currentMicroamp,
      milliohm: 110_000,
      uncertaintyMilliohm: 60,
      boxMs: this.#clock.nowMs(),
    }),
    calibrateElement: () => ({ refused: 'STATE' }),
    calibrateStore: () => ({ refused: 'STATE' }),
    jobLimits: ({ jobKind }) => ({
      currentLimitMilliamp: 250,
      elementPowerLimitMilliwatt: 500,
      totalPowerLimitMilliwatt: 2_000,
      supplyLimitMillivolt: 16_000,
      floorMilliohm: this.floorMilliohm,
      floorTimeMs: 5_000,
      deadManMinMs: 300,
      deadManMaxMs: 2_000,
      rampPermille: jobKind === jobKinds.unknown ? 500 : this.rampPermille,
    }),
    acknowledge: ({ eventSequence }) => ({ eventSequence }),
  };
}
