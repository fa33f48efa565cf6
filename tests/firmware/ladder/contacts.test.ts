import { describe, expect, it } from 'vitest';
import { chainHold, contactBits, outputRelay, pins } from '../../../firmware-ts/board/reference-design';
import { Contacts } from '../../../firmware-ts/ladder/contacts';

/** Contacts on a bank that writes down what it is told and when. */
function bank(): {
  readonly contacts: Contacts;
  readonly told: [atMs: number, mask: number][];
  turn: (nowMs: number) => void;
} {
  const told: [number, number][] = [];
  let nowMs = 0;
  const DigitalBank = class {
    static readonly Input = 0;
    static readonly InputPullUp = 1;
    static readonly Output = 2;
    write(bits: number): void {
      told.push([nowMs, bits >>> pins.elements[0]]);
    }
    close(): void {
      told.push([nowMs, 0]);
    }
  };
  const contacts = new Contacts({ io: { DigitalBank } });
  const turn = (atMs: number): void => {
    nowMs = atMs;
    contacts.tick(atMs);
  };
  return { contacts, told, turn };
}

const SETTLE_MS = 8;

describe('dropping every contact', () => {
  it('drops the output first, the others when its contact has had its longest time, and no later than the hardware', () => {
    const { contacts, told, turn } = bank();
    contacts.moveTo(contactBits.allMask, 0);
    for (let atMs = 0; atMs <= 100; atMs += 1) turn(atMs);
    expect(contacts.commandedMask).toBe(contactBits.allMask);
    told.length = 0;
    contacts.dropAll(100, SETTLE_MS);
    for (let atMs = 100; atMs <= 200; atMs += 8) turn(atMs);
    const [first, second, ...rest] = told;
    expect([first, rest]).toEqual([[100, contactBits.allMask & ~contactBits.outputMask], []]);
    expect(second?.[1]).toBe(0);
    const laterMs = (second?.[0] ?? NaN) - 100;
    expect(laterMs).toBeGreaterThanOrEqual(Math.max(outputRelay.releaseMaxMs, chainHold.minMs));
    expect(laterMs).toBeLessThanOrEqual(chainHold.latestMs);
    expect(contacts.isMoving(200)).toBe(false);
  });
});
