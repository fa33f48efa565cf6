import {
  breakStepMs,
  contactBits,
  elements,
  gpioFromContacts,
  outputBreakMs,
  outputRelay,
  path,
  relay,
  relayGpioMask,
} from '../../firmware-ts/board/reference-design';
import { SimulatedContact } from '../../firmware-ts/board/simulated/contact';
import type { ContactTimes } from '../../firmware-ts/board/simulated/contact';
import { Random } from '../../firmware-ts/board/simulated/random';
import type { DigitalBankOptions } from '../../firmware-ts/ecma419';
import { Contacts } from '../../firmware-ts/ladder/contacts';

// Moves of the contacts, walked instant by instant, on random tables, codes and relay times: the same walk in Node and
// inside the XS engine, from a seed and exact arithmetic only, so that both must come to the same sum.

const LIMITER = elements.length;
const OUTPUT = LIMITER + 1;
const SHUNT_OHM = path.shunt.milliohm / 1000;
const INSTANT_MS = 0.25;
/** Turns of a main loop: the firmware's own takes the longest; a faster one must not hide behind it. */
const TURNS_MS = [1, 2, 7] as const;
/** How much early the runtime's timer may fire. */
const EARLY_MS = 1;
/** A turn takes some time whatever the timer does. */
const LEAST_TURN_MS = INSTANT_MS;
const OPEN_SETTLE_MS = Math.max(breakStepMs, outputBreakMs);

/** A chain of any parts; index: element, limiter, then nothing for the output. */
type Table = readonly number[];

/** Resistance of a set of contacts; infinite with the output open. */
function ohmOf(isClosed: (contact: number) => boolean, tableOhm: Table): number {
  if (!isClosed(OUTPUT)) return Infinity;
  return tableOhm.reduce((sum, ohm, row) => sum + (isClosed(row) ? 0 : ohm), SHUNT_OHM);
}

const ohmOfMask = (mask: number, tableOhm: Table): number =>
  ohmOf((contact) => ((mask >> contact) & 1) === 1, tableOhm);

/** Times anywhere inside the limits, or every contact at one of the two ends: the worst meet in no average walk. */
function timesOf(random: Random, given: typeof relay | typeof outputRelay): ContactTimes {
  const { operateMinMs, operateMaxMs, releaseMinMs, releaseMaxMs, bounceMaxMs } = given;
  const kind = random.unit();
  if (kind < 0.5) return given;
  const operateMs = random.unit() < 0.5 ? operateMinMs : operateMaxMs;
  const releaseMs = random.unit() < 0.5 ? releaseMinMs : releaseMaxMs;
  return {
    operateMinMs: operateMs,
    operateMaxMs: operateMs,
    releaseMinMs: releaseMs,
    releaseMaxMs: releaseMs,
    bounceMaxMs,
  };
}

/** The firmware's own contacts on a bank of relays that can be watched at every instant. */
class Rig {
  readonly contacts: Contacts;
  readonly #relays: readonly SimulatedContact[];
  readonly #random: Random;
  readonly #table: Table;
  readonly #turnMs: number;
  nowMs = 0;

  constructor(random: Random, table: Table) {
    this.#random = random;
    this.#table = table;
    this.#turnMs = TURNS_MS[Math.floor(random.unit() * TURNS_MS.length)] ?? 1;
    this.#relays = Array.from(
      { length: OUTPUT + 1 },
      (_, index) => new SimulatedContact(timesOf(random, index === OUTPUT ? outputRelay : relay), random),
    );
    const drive = (bits: number): void => this.#drive(bits);
    const DigitalBank = class {
      static readonly Input = 0;
      static readonly InputPullUp = 1;
      static readonly Output = 2;
      readonly #pins: number;
      constructor({ pins }: DigitalBankOptions) {
        this.#pins = pins;
      }
      write(bits: number): void {
        drive(bits & this.#pins);
      }
      close(): void {
        drive(0);
      }
    };
    this.contacts = new Contacts({ io: { DigitalBank } });
  }

  /** Lives on in turns of the main loop and answers the lowest resistance that was there at any instant. */
  walk(forMs: number): number {
    let lowest = Infinity;
    for (const untilMs = this.nowMs + forMs; this.nowMs < untilMs;) {
      this.contacts.tick(Math.floor(this.nowMs));
      const turnMs = Math.max(LEAST_TURN_MS, this.#turnMs - this.#random.between(0, EARLY_MS));
      const turnEndMs = this.nowMs + turnMs;
      for (; this.nowMs < turnEndMs; this.nowMs += INSTANT_MS)
        lowest = Math.min(
          lowest,
          ohmOf((contact) => this.#relays[contact]!.isClosed(this.nowMs), this.#table),
        );
    }
    return lowest;
  }

  moveTo(mask: number): void {
    this.contacts.moveTo(mask, Math.floor(this.nowMs));
  }

  /** Coils straight to a mask, past the firmware: the order that this design forbids. */
  force(mask: number): void {
    this.#drive(gpioFromContacts(mask));
  }

  #drive(bits: number): void {
    const mask = (bits & relayGpioMask) / gpioFromContacts(1);
    this.#relays.forEach((one, index) => one.energise(((mask >> index) & 1) === 1, this.nowMs));
  }
}

const maskOf = (random: Random): number => Math.floor(random.unit() * (contactBits.allMask + 1));
/** A closed output in three of four: an open one is never below anything. */
const likelyClosed = (random: Random): number =>
  maskOf(random) | (random.unit() < 0.75 ? contactBits.outputMask : 0);
const tableOf = (random: Random): Table =>
  Array.from({ length: LIMITER + 1 }, () =>
    random.unit() < 0.1 ? 0 : 0.5 * 2 ** Math.floor(random.between(0, 13)) * random.between(1, 2),
  );

const REST_MS = 60;

/** How one walk went: the lowest resistance above (or, negative, below) what was allowed. */
type Walk = { readonly marginOhm: number; readonly lowestOhm: number };

const against = (lowestOhm: number, floorOhm: number): Walk => ({
  lowestOhm,
  marginOhm: lowestOhm === Infinity ? 0 : lowestOhm - floorOhm,
});

/** One move from rest to rest; with `second`, another that overtakes it before it has come to rest. */
function walkMove(random: Random, isOvertaken: boolean): Walk {
  const table = tableOf(random);
  const rig = new Rig(random, table);
  const from = likelyClosed(random);
  const targets = [likelyClosed(random), ...(isOvertaken ? [likelyClosed(random)] : [])];
  rig.moveTo(from);
  rig.walk(REST_MS);
  const floorOhm = Math.min(...[from, ...targets].map((mask) => ohmOfMask(mask, table)));
  let lowestOhm = Infinity;
  targets.forEach((mask, index) => {
    rig.moveTo(mask);
    const isLast = index === targets.length - 1;
    lowestOhm = Math.min(lowestOhm, rig.walk(isLast ? REST_MS : random.between(0, 20)));
  });
  return against(lowestOhm, floorOhm);
}

/** The output is dropped in the middle of a move: it must open, and on the way out pass nothing lower than both ends. */
function walkDrop(random: Random): Walk {
  const table = tableOf(random);
  const rig = new Rig(random, table);
  const [from, to] = [likelyClosed(random), likelyClosed(random)];
  rig.moveTo(from);
  rig.walk(REST_MS);
  rig.moveTo(to);
  const onTheWayOhm = rig.walk(random.between(0, 25));
  rig.contacts.dropAll(Math.floor(rig.nowMs), OPEN_SETTLE_MS);
  const lowestOhm = Math.min(onTheWayOhm, rig.walk(OPEN_SETTLE_MS));
  const isOpen = rig.walk(REST_MS) === Infinity;
  const floorOhm = Math.min(ohmOfMask(from, table), ohmOfMask(to, table));
  return isOpen ? against(lowestOhm, floorOhm) : { marginOhm: -Infinity, lowestOhm };
}

/** All contacts switched at once: what the firmware must never do. */
function walkForced(random: Random): Walk {
  const table = tableOf(random);
  const rig = new Rig(random, table);
  const [from, to] = [
    maskOf(random) | contactBits.outputMask,
    maskOf(random) | contactBits.outputMask,
  ] as const;
  rig.force(from);
  rig.walk(REST_MS);
  rig.force(to);
  return against(rig.walk(REST_MS), Math.min(ohmOfMask(from, table), ohmOfMask(to, table)));
}

const walks = {
  single: (random: Random) => walkMove(random, false),
  overtaken: (random: Random) => walkMove(random, true),
  dropped: walkDrop,
  forced: walkForced,
} as const;

export type WalkKind = keyof typeof walks;

/** Kinds of walk; the last is the one that must be found out. */
export const walkKinds: readonly WalkKind[] = ['single', 'overtaken', 'dropped', 'forced'];

export type Walked = {
  readonly tried: number;
  /** Walks that passed below the lower of their ends. */
  readonly below: number;
  /** Sum of all lowest resistances: two engines that walk alike come to the same. */
  readonly sumOhm: number;
};

/** A sum of finite resistances only differs from the exact one by its last digits. */
const SLACK_OHM = 1e-9;

/** So many walks of a kind, from one seed. */
export function walkMany(kind: WalkKind, { seed, count }: { seed: number; count: number }): Walked {
  const random = new Random(seed);
  let below = 0;
  let sumOhm = 0;
  for (let done = 0; done < count; done += 1) {
    const { marginOhm, lowestOhm } = walks[kind](random);
    if (!(marginOhm >= -SLACK_OHM)) below += 1;
    if (Number.isFinite(lowestOhm)) sumOhm += lowestOhm;
  }
  return { tried: count, below, sumOhm };
}
