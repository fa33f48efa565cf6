import { PROTOCOL_MAJOR, PROTOCOL_MINOR, capabilities } from '../../protocol';
import type { Answer, AnyRequest, EventFields, Fields } from '../../protocol';
import { limits as boxLimits } from '../board/reference-design';
import type { Device } from '../device';
import { elementCount } from '../ladder/table';
import { limits as protocolLimits } from '../../protocol';
import { Uptime } from '../uptime';
import { firmwareVersion } from '../version';
import { Channel } from './channel';
import { HostLink } from './link';
import { Parts } from './parts';
import { doRequest } from './requests';
import { wireState } from './state';
import { answered, refuse } from './wire';
import type { Refusing, Reply } from './wire';

/**
 * A conversion begins one millisecond into a turn and takes six, and the runtime's timer may be one early: a turn of seven
 * often came just before the end and the meter then ran at half its rate.
 */
const TICK_MS = 8;
const CHANNEL_COUNT = 1;

/** Places that an INTERNAL fault names. */
const places = { loop: 1, request: 2, clock: 3 } as const;

/** Turns are at least a timer's early millisecond short of TICK_MS apart: so many without one millisecond are no time at all. */
const STANDING_TURNS = 3;

const ownCapabilities =
  capabilities.ohmmeter |
  capabilities.selfCalibration |
  capabilities.ripple |
  capabilities.groundOffset |
  capabilities.limiter |
  capabilities.hardwareDeadMan;

/** The firmware: one box on one device. Constructing it opens the output and starts the main loop. */
export class Box {
  readonly #device: Device;
  readonly #uptime: Uptime;
  /** Hardware and table, for the simulated board's fault injection. */
  readonly parts: Parts;
  readonly #channel: Channel;
  readonly #link: HostLink;
  #hostNonce: number | undefined;
  #hostDay = 0;
  #isVersionShared = false;
  #turnMs = -1;
  #standingTurns = 0;

  constructor(device: Device) {
    this.#device = device;
    this.#uptime = new Uptime(device.system);
    this.parts = new Parts(device);
    const voice = {
      reply: (token: number, reply: Reply) => this.#link.reply(token, reply),
      announce: (fields: EventFields<'tripped'>) => this.#link.announce(fields),
    };
    this.#channel = new Channel(this.parts, voice, this.#uptime.now());
    this.#link = new HostLink(device, {
      do: (request, token) => this.#do(request, { nowMs: this.#uptime.now(), token }),
      repeated: () => this.#channel.open(this.#uptime.now()),
      failed: () => this.#failed(places.request),
    });
    this.#channel.announceFault();
    this.#loop();
  }

  /** One turn. The next one is set first, so that a turn that throws does not end the loop. The host comes last. */
  readonly #loop = (): void => {
    this.#device.system.set(this.#loop, TICK_MS);
    try {
      const nowMs = this.#uptime.now();
      this.#watchClock(nowMs);
      this.#channel.tick(nowMs);
      this.#link.tick(nowMs);
    } catch {
      this.#giveUp(places.loop);
    }
  };

  /** Every guard goes by time: a clock that stands still would keep the output closed with all of them asleep. */
  #watchClock(nowMs: number): void {
    this.#standingTurns = nowMs > this.#turnMs ? 0 : this.#standingTurns + 1;
    this.#turnMs = nowMs;
    if (this.#standingTurns >= STANDING_TURNS) this.#giveUp(places.clock);
  }

  /** Nothing is thrown out of a turn: what a runtime does then is its own matter. */
  #giveUp(place: number): void {
    try {
      this.#link.giveUp(this.#failed(place));
    } catch {
      // Not even that: the channel has tripped by now, and without its pulse the hardware opens.
    }
  }

  /** Something was thrown that never should be: whatever it was, the output opens. */
  #failed(place: number): Refusing {
    this.#channel.trip({ fault: 'INTERNAL', measured: place, limit: 0 }, this.#uptime.now());
    return refuse('TRIPPED', this.#channel.faultCode);
  }

  #do(request: AnyRequest, at: { readonly nowMs: number; readonly token: number }): Reply | undefined {
    if (request.name === 'hello') {
      return answered('hello', this.#hello(request.fields, at.nowMs));
    }
    if (!this.#isVersionShared) return refuse('PROTOCOL_VERSION', PROTOCOL_MAJOR);
    if (request.name === 'acknowledge') {
      this.#link.acknowledge(request.fields.eventSequence);
      return answered('acknowledge', request.fields);
    }
    const isOfChannel = 'channel' in request.fields;
    if (isOfChannel && request.fields.channel >= CHANNEL_COUNT) return refuse('CHANNEL', CHANNEL_COUNT);
    return doRequest(this.#channel, request, { ...at, hostDay: this.#hostDay });
  }

  #hello(fields: Fields<'hello'>, nowMs: number): Answer<'hello'> {
    const { protocolMajorMin, protocolMajorMax, hostNonce, hostDay } = fields;
    // A host that greets anew does not know what it had asked for: whatever was driven is not its wish any more.
    if (this.#hostNonce !== undefined && hostNonce !== this.#hostNonce) this.#channel.open(nowMs);
    this.#hostNonce = hostNonce;
    this.#hostDay = hostDay;
    this.#isVersionShared = protocolMajorMin <= PROTOCOL_MAJOR && PROTOCOL_MAJOR <= protocolMajorMax;
    const { calibration, device } = this.parts;
    return {
      protocolMajor: PROTOCOL_MAJOR,
      protocolMinor: PROTOCOL_MINOR,
      firmwareMajor: firmwareVersion.major,
      firmwareMinor: firmwareVersion.minor,
      firmwarePatch: firmwareVersion.patch,
      boxSerial: device.boxSerial,
      bootNonce: device.boot.nonce,
      hostNonce,
      capabilities: ownCapabilities | (device.isSimulated ? capabilities.simulated : 0),
      channelCount: CHANNEL_COUNT,
      elementCount,
      state: wireState(this.#channel.state.name),
      deadManMaxMs: protocolLimits.deadManMs.max,
      currentMaxMilliamp: boxLimits.currentMaxMilliamp,
      supplyMaxMillivolt: boxLimits.supplyMaxMillivolt,
      resistanceMaxOhm: boxLimits.resistanceMaxMilliohm / 1000,
      calibrationId: calibration?.calibrationId ?? 0,
      calibrationDay: calibration?.calibrationDay ?? 0,
      calibrationEndDay: calibration?.calibrationEndDay ?? 0,
      boxMs: nowMs >>> 0,
    };
  }
}
