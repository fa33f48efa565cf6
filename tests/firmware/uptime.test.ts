import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readdirSync, readFileSync } from 'node:fs';
import { Uptime, ticksBetween } from '../../firmware-ts/uptime';

const LONGEST_STEP_MS = 2 ** 31 - 1;
const anyTick = fc.integer({ min: -(2 ** 31), max: 2 ** 32 - 1 });
const anySteps = fc.array(fc.nat(LONGEST_STEP_MS), { maxLength: 30 });

/** The same instant as a runtime may count it: unsigned, or signed as on the first board. */
const counted = (ms: number, isSigned: boolean): number => (isSigned ? ms | 0 : ms % 2 ** 32);

describe('a difference of two counts', () => {
  it('is what lies between them, wherever they wrap and whichever of them is signed', () => {
    fc.assert(
      fc.property(
        fc.nat(2 ** 33),
        fc.nat(LONGEST_STEP_MS),
        fc.boolean(),
        fc.boolean(),
        (ms, step, one, other) => {
          expect(ticksBetween(counted(ms, one), counted(ms + step, other))).toBe(step);
        },
      ),
      { seed: 3, numRuns: 2000 },
    );
  });
});

describe('the uptime', () => {
  it('grows by exactly what passes, from any count on', () => {
    fc.assert(
      fc.property(anyTick, anySteps, fc.boolean(), (start, steps, isSigned) => {
        let ms = start >>> 0;
        const uptime = new Uptime({ now: () => counted(ms, isSigned), set: () => 0, clear: () => undefined });
        const first = uptime.now();
        let passed = 0;
        for (const step of steps) {
          ms += step;
          passed += step;
          expect(uptime.now() - first).toBe(passed);
        }
        // What the host is told is the count itself.
        expect(uptime.now() >>> 0).toBe(ms % 2 ** 32);
      }),
      { seed: 4, numRuns: 500 },
    );
  });

  it('goes on from where the count went back to, never back itself, and passes over what is no count', () => {
    fc.assert(
      fc.property(anyTick, anyTick, fc.nat(LONGEST_STEP_MS), (start, jumpedTo, step) => {
        let ticks = start;
        const uptime = new Uptime({ now: () => ticks, set: () => 0, clear: () => undefined });
        ticks = NaN;
        const first = uptime.now();
        ticks = jumpedTo;
        const second = uptime.now();
        expect(second).toBeGreaterThanOrEqual(first);
        ticks = jumpedTo + step;
        expect(uptime.now() - second).toBe(step);
      }),
      { seed: 5, numRuns: 1000 },
    );
  });

  it('is the only place in which the firmware reads the count', () => {
    const root = new URL('../../firmware-ts/', import.meta.url);
    const readers = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter(
      (file) =>
        file.endsWith('.ts') &&
        !file.startsWith('board') &&
        /system\.now\(/.test(readFileSync(new URL(file, root), 'utf8')),
    );
    expect(readers).toEqual(['uptime.ts']);
  });
});
