import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { contactBits } from '../../../firmware-ts/board/reference-design';
import { planMove } from '../../../firmware-ts/ladder/moves';
import { walkMany } from '../../engine/moves';

const maskOf = fc.nat(contactBits.allMask);

/** Tables, codes, relay times and early timers all come from the seed; the same walks run inside the XS engine. */
const never = (kind: 'single' | 'overtaken' | 'dropped', numRuns: number): void =>
  fc.assert(
    fc.property(fc.nat(), (seed) => walkMany(kind, { seed, count: 1 }).below === 0),
    { numRuns },
  );

describe('a move of the contacts', () => {
  it('never lets the resistance fall below the lower of its two ends, whatever the contacts do within their limits', () => {
    never('single', 1500);
  });

  it('never lets it fall below the lowest of the three ends when another overtakes it half way', () => {
    never('overtaken', 1000);
  });

  it('never lets it fall below the lower of the two ends when the output is dropped half way, and ends open', () => {
    never('dropped', 1000);
  });

  it('would be caught if it switched all contacts at once', () => {
    expect(walkMany('forced', { seed: 1, count: 200 }).below).toBeGreaterThan(50);
  });
});

describe('planMove', () => {
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
