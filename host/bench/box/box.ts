import {
  hasCapability,
  jobKinds,
  limits,
  stateName,
  type Answer,
  type Fields,
  type JobKind,
  type RequestName,
} from '../../../protocol';
import { contactsFor, ladderFromRows, ladderRangeOhm, type Ladder, type LadderRow } from '../../core/ladder';
import type { Refused } from '../../core/result';
import { passedOn, refuse } from '../../refusals';
import { absentLink, type BoxLink, type LinkEvent } from '../../link';
import type { TripTold } from './trips';
import { printed } from '../../words/notation';
import { withSentence } from '../../words/refusal';

const CHANNEL = 0;
const MILLI = 1_000;
const MICRO = 1_000_000;

export type Armed = {
  readonly kind: 'armed';
  /** Below this the gauge may stay for `floorTimeMs` only. */
  readonly floorOhm: number;
  readonly floorTimeMs: number;
  /** A setting may go down to this part of the present one; 0 = at once. */
  readonly rampFraction: number;
  readonly highestOhm: number;
  readonly openCircuitVolt: number;
  /** The box opens by itself after this much silence of the host. */
  readonly leaseMs: number;
};

export type Made = {
  readonly kind: 'made';
  readonly askedOhm: number;
  readonly madeOhm: number;
  readonly uncertaintyOhm: number;
  /** The limiter was still in the path when the box answered, and counts in `madeOhm`: between two pulses nothing proves a setting. */
  readonly isLimited: boolean;
};

/** Element tables by box, start and calibration: what one job has read another need not read again. */
export type Ladders = Map<string, Ladder>;

export type Heartbeat = Extract<LinkEvent, { kind: 'heartbeat' }>;

/** The box in the words of the bench: ohms instead of contacts, one sentence instead of a refusal code. */
export class Box {
  readonly #ladders: Ladders;
  #link: BoxLink;
  #tripTold: TripTold | undefined;
  #lastHeartbeat: Heartbeat | undefined;
  #whyNone: Refused | undefined;

  constructor(link: BoxLink, ladders: Ladders = new Map()) {
    this.#link = link;
    this.#ladders = ladders;
  }

  /** Another box from now on, or none, and why. Only while nothing is driven through this one. */
  moveTo(to: Box | Refused): void {
    this.#whyNone = to instanceof Box ? undefined : to;
    this.#link = to instanceof Box ? to.link : absentLink({ code: 'LINK_WHICH_BOX', message: to.message });
    this.#tripTold = to instanceof Box ? to.tripTold : undefined;
    this.#lastHeartbeat = to instanceof Box ? to.lastHeartbeat : undefined;
  }

  /** Why it is nobody's; undefined while it is a box. */
  get whyNone(): Refused | undefined {
    return this.#whyNone;
  }

  get isLive(): boolean {
    return this.#link.state === 'live';
  }

  /** As its greeting says; undefined while it is not live. */
  get serial(): number | undefined {
    return this.#link.greeting?.boxSerial;
  }

  get isSimulated(): boolean {
    return hasCapability(this.#link.greeting?.capabilities ?? 0, 'simulated');
  }

  /** The longest silence the box will bear, as far as its greeting says; undefined before a greeting. */
  get leaseMs(): number | undefined {
    const longest = this.#link.greeting?.deadManMaxMs;
    return longest === undefined ? undefined : Math.min(limits.deadManMs.initial, longest);
  }

  /** What the box said of the trip it is in; undefined when this program was not there to hear it. */
  get tripTold(): TripTold | undefined {
    return this.#tripTold;
  }

  /** The last since it is live; a job that comes to the box later knows it from here. */
  get lastHeartbeat(): Heartbeat | undefined {
    return this.isLive ? this.#lastHeartbeat : undefined;
  }

  /** It greeted in this state; what it did before this program was there, nobody else can tell. */
  get greetedTripped(): boolean {
    return stateName(this.#link.greeting?.state ?? 0) === 'tripped';
  }

  heard(event: LinkEvent): void {
    if (event.kind === 'heartbeat') this.#lastHeartbeat = event;
    if (event.kind === 'restarted' || event.kind === 'state') this.#lastHeartbeat = undefined;
    if (event.kind === 'tripped') this.#tripTold = event.fields;
    const isOver = event.kind === 'heartbeat' && stateName(event.fields.state) !== 'tripped';
    if (isOver || event.kind === 'restarted') this.#tripTold = undefined;
  }

  get link(): BoxLink {
    return this.#link;
  }

  /**
   * Takes on a kind of gauge with the box's own limits, never looser. `originalLeastOhm`: how low the vehicle's own
   * sender goes; left out when nobody has said. Refuses what the box or the link refuses.
   */
  async arm(kind: JobKind, originalLeastOhm?: number): Promise<Armed | Refused> {
    const ladder = await this.#readLadder();
    if ('kind' in ladder) return ladder;
    const jobKind = jobKinds[kind];
    const own = await this.#ask('jobLimits', { channel: CHANNEL, jobKind });
    if ('kind' in own) return own;
    const leaseMs = Math.min(limits.deadManMs.initial, own.deadManMaxMs);
    const armed = await this.#ask('arm', {
      channel: CHANNEL,
      jobKind,
      currentLimitMilliamp: own.currentLimitMilliamp,
      elementPowerLimitMilliwatt: own.elementPowerLimitMilliwatt,
      totalPowerLimitMilliwatt: own.totalPowerLimitMilliwatt,
      supplyLimitMillivolt: own.supplyLimitMillivolt,
      floorMilliohm: own.floorMilliohm,
      floorTimeMs: own.floorTimeMs,
      leaseMs,
      // Below its floor the box holds nothing anyway.
      originalLeastMilliohm:
        originalLeastOhm === undefined
          ? 0
          : Math.max(own.floorMilliohm, Math.round(originalLeastOhm * MILLI)),
    });
    if ('kind' in armed) return armed;
    return {
      kind: 'armed',
      floorOhm: own.floorMilliohm / MILLI,
      floorTimeMs: own.floorTimeMs,
      rampFraction: own.rampPermille / MILLI,
      highestOhm: ladderRangeOhm(ladder).toOhm,
      openCircuitVolt: armed.openCircuitMicrovolt / MICRO,
      leaseMs,
    };
  }

  /** What the box would make for a wanted resistance, by its own element table. */
  async nearestOhm(resistanceOhm: number): Promise<number | Refused> {
    const ladder = await this.#readLadder();
    if ('kind' in ladder) return ladder;
    const setting = contactsFor(ladder, resistanceOhm);
    return setting.kind === 'refused' ? withSentence(setting, printed) : setting.madeOhm;
  }

  /** Makes the nearest resistance the box can. Refuses outside the chain's range and what the box refuses. */
  async set(resistanceOhm: number): Promise<Made | Refused> {
    const ladder = await this.#readLadder();
    if ('kind' in ladder) return ladder;
    const setting = contactsFor(ladder, resistanceOhm);
    if (setting.kind === 'refused') return withSentence(setting, printed);
    const made = await this.#ask('set', {
      channel: CHANNEL,
      contactMask: setting.contactMask,
      complementMask: setting.complementMask,
      resistanceMilliohm: Math.round(setting.madeMilliohm),
      leaseMs: limits.deadManMs.initial,
    });
    if ('kind' in made) return made;
    return {
      kind: 'made',
      askedOhm: resistanceOhm,
      madeOhm: made.madeMilliohm / MILLI,
      uncertaintyOhm: made.uncertaintyMilliohm / MILLI,
      isLimited: made.contactMask !== setting.contactMask,
    };
  }

  /** Opens the output. `silent`: nobody answered; the box opens by itself when its lease runs out. */
  async open(): Promise<'open' | 'silent'> {
    const opened = await this.#ask('open', { channel: CHANNEL });
    return 'kind' in opened ? 'silent' : 'open';
  }

  clear(faultCode: number): Promise<Answer<'clear'> | Refused> {
    return this.#ask('clear', { channel: CHANNEL, faultCode });
  }

  measure(): Promise<Answer<'measure'> | Refused> {
    return this.#ask('measure', { channel: CHANNEL });
  }

  ohmmeter(kind: JobKind, currentMicroamp: number): Promise<Answer<'ohmmeter'> | Refused> {
    return this.#ask('ohmmeter', { channel: CHANNEL, jobKind: jobKinds[kind], currentMicroamp });
  }

  async #ask<Name extends RequestName>(name: Name, fields: Fields<Name>): Promise<Answer<Name> | Refused> {
    const result = await this.#link.request(name, fields);
    return result.kind === 'answer' ? result.fields : passedOn(result);
  }

  /** Read once for each start of the box and each calibration. */
  async #readLadder(): Promise<Ladder | Refused> {
    const greeting = this.#link.greeting;
    if (greeting === undefined) return refuse('BOX_NOT_LIVE', {});
    const key = `${greeting.boxSerial} ${greeting.bootNonce} ${greeting.calibrationId}`;
    const known = this.#ladders.get(key);
    if (known !== undefined) return known;
    const rows: LadderRow[] = [];
    // Elements first, then the limiter, then the residual.
    const rowCount = greeting.elementCount + 2;
    for (let index = 0; index < rowCount; index += 1) {
      const row = await this.#ask('element', { index });
      if (isRefusal(row)) return row;
      rows.push(row);
    }
    const built = ladderFromRows(rows);
    if (built.kind === 'refused') return withSentence(built, printed);
    this.#ladders.set(key, built.ladder);
    return built.ladder;
  }
}

/** An element's answer has a field `kind` of its own (a number), so the check is for the word. */
const isRefusal = (answer: Answer<'element'> | Refused): answer is Refused => answer.kind === 'refused';
