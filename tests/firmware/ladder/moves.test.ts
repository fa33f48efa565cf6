import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { contactBits, elements, outputRelay, path, relay } from '../../../firmware-ts/board/reference-design';
import { SimulatedContact } from '../../../firmware-ts/board/simulated/contact';
import { Random } from '../../../firmware-ts/board/simulated/random';
import { planMove } from '../../../firmware-ts/ladder/moves';

const LIMITER = elements.length;
const OUTPUT = LIMITER + 1;
const INSTANT_MS = 0.25;
/** The runtime's timers may fire a millisecond early. */
const EARLY_MS = 1;

const maskOf = fc.nat(contactBits.allMask);
const tableOf = fc.array(fc.double({ min: 0.5, max: 5000, noNaN: true }), {
  minLength: LIMITER + 1,
  maxLength: LIMITER + 1,
});

/** Resistance of a set of contacts; infinite with the output open. */
function ohmOf(isClosed: (contact: number) => boolean, tableOhm: readonly number[]): number {
  if (!isClosed(OUTPUT)) return Infinity;
  return tableOhm.reduce((sum, ohm, row) => sum + (isClosed(row) ? 0 : ohm), path.shunt.milliohm / 1000);
}

const ohmOfMask = (mask: number, tableOhm: readonly number[]): number =>
  ohmOf((contact) => ((mask >> contact) & 1) === 1, tableOhm);

/** Every instant of a move with contacts that take any time within their limits, bounce, and timers that fire early. */
function lowestOhm(move: { from: number; to: number; seed: number }, tableOhm: readonly number[]): number {
  const random = new Random(move.seed);
  const contacts = Array.from({ length: OUTPUT + 1 }, (_, index) => {
    const contact = new SimulatedContact(index === OUTPUT ? outputRelay : relay, random);
    contact.energise(((move.from >> index) & 1) === 1, -1000);
    return contact;
  });
  let lowest = Infinity;
  let nowMs = 0;
  const watch = (forMs: number): void => {
    for (const untilMs = nowMs + forMs; nowMs < untilMs; nowMs += INSTANT_MS) {
      lowest = Math.min(
        lowest,
        ohmOf((contact) => contacts[contact]!.isClosed(nowMs), tableOhm),
      );
    }
  };
  for (const { contactMask, waitMs } of planMove(move.from, move.to)) {
    contacts.forEach((contact, index) => contact.energise(((contactMask >> index) & 1) === 1, nowMs));
    watch(waitMs - EARLY_MS);
  }
  watch(20);
  return lowest;
}

describe('planMove', () => {
  it('never lets the resistance fall below the lower of the two ends, whatever the contacts do within their limits', () => {
    fc.assert(
      fc.property(maskOf, maskOf, fc.nat(), tableOf, (from, to, seed, tableOhm) => {
        const floor = Math.min(ohmOfMask(from, tableOhm), ohmOfMask(to, tableOhm));
        expect(lowestOhm({ from, to, seed }, tableOhm)).toBeGreaterThanOrEqual(floor - 1e-9);
      }),
      { numRuns: 1500 },
    );
  });

  it('would be caught if it shorted before it inserted', () => {
    // The order this design forbids, walked by the same code: all contacts switched at once.
    const tableOhm = elements.map(({ nominalMilliohm }) => nominalMilliohm / 1000).concat(47);
    const random = new Random(5);
    const [from, to] = [contactBits.outputMask | 0x2000, contactBits.outputMask | 0x1fff];
    const floor = Math.min(ohmOfMask(from, tableOhm), ohmOfMask(to, tableOhm));
    const lows = Array.from({ length: 200 }, () => {
      const contacts = Array.from({ length: OUTPUT + 1 }, (_, index) => {
        const contact = new SimulatedContact(index === OUTPUT ? outputRelay : relay, random);
        contact.energise(((from >> index) & 1) === 1, -1000);
        contact.energise(((to >> index) & 1) === 1, 0);
        return contact;
      });
      return Math.min(
        ...Array.from({ length: 80 }, (_, step) =>
          ohmOf((contact) => contacts[contact]!.isClosed(step * INSTANT_MS), tableOhm),
        ),
      );
    });
    expect(Math.min(...lows)).toBeLessThan(floor);
  });

  it('ends at the mask it was asked for, in at most three steps, and does nothing when already there', () => {
    fc.assert(
      fc.property(maskOf, maskOf, (from, to) => {
        const steps = planMove(from, to);
        expect(steps.length).toBeLessThanOrEqual(3);
        if (from === to) expect(steps).toEqual([]);
        else expect(steps[steps.length - 1]?.contactMask).toBe(to);
      }),
    );
  });

  it('closes the output last and opens it first', () => {
    const closing = planMove(0, contactBits.outputMask | 0x55);
    expect(closing.map(({ contactMask }) => contactMask)).toEqual([0x55, contactBits.outputMask | 0x55]);
    const opening = planMove(contactBits.outputMask | 0x55, 0x33);
    expect(opening.map(({ contactMask }) => contactMask)).toEqual([0x11, 0x33]);
  });
});
