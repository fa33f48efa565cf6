import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { errorAxis, ohmAxis, ohmRatioAxis, roundValues } from '../../host/scene/value-axis';

const anyOhms = () =>
  fc.array(fc.double({ min: 0.1, max: 20_000, noNaN: true }), { minLength: 1, maxLength: 30 });
const textsOf = (axis: { readonly ticks: readonly { readonly text: string }[] }): string[] =>
  axis.ticks.map(({ text }) => text);

describe('an axis of ohms', () => {
  it('holds everything drawn, tightly, with ticks of different texts inside', () => {
    fc.assert(
      fc.property(anyOhms(), fc.integer({ min: 4, max: 9 }), (ohms, most) => {
        for (const axis of [ohmAxis(ohms, most), ohmRatioAxis(ohms, most)]) {
          for (const ohm of ohms) {
            expect(axis.place(ohm)).toBeGreaterThanOrEqual(0);
            expect(axis.place(ohm)).toBeLessThanOrEqual(1);
          }
          for (const { value } of axis.ticks) {
            expect(value).toBeGreaterThanOrEqual(axis.from);
            expect(value).toBeLessThanOrEqual(axis.to);
          }
          expect(axis.ticks.length).toBeLessThanOrEqual(most);
          expect(new Set(textsOf(axis)).size).toBe(axis.ticks.length);
        }
      }),
    );
  });

  it('by ratio is tight: the lowest and highest ohms lie near its ends', () => {
    const axis = ohmRatioAxis([45, 455], 7);
    expect(axis.place(45)).toBeLessThan(0.05);
    expect(axis.place(455)).toBeGreaterThan(0.95);
    expect(textsOf(axis)).toEqual(['50', '70', '100', '150', '200', '300']);
    expect(textsOf(ohmRatioAxis([20, 1400], 7))).toEqual(['20', '50', '100', '200', '500', '1 k']);
  });

  it('keeps its kind and draws a short at its foot', () => {
    expect(ohmRatioAxis([0, 10, 180], 6).place(0)).toBe(0);
    expect(ohmAxis([0, 10, 180], 6).place(0)).toBe(0);
  });

  it('stands where nothing or one thing is to be drawn', () => {
    for (const ohms of [[], [100], [100, 100]]) {
      for (const axis of [ohmAxis(ohms, 6), ohmRatioAxis(ohms, 6)]) {
        expect(axis.to).toBeGreaterThan(axis.from);
        expect(axis.ticks.length).toBeGreaterThan(0);
      }
    }
  });
});

describe('an axis of errors', () => {
  it('shows zero and room beyond the limit on both sides', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -50, max: 50, noNaN: true }), { maxLength: 40 }),
        fc.double({ min: 0.5, max: 20, noNaN: true }),
        (errors, limit) => {
          const axis = errorAxis(errors, limit, 8);
          for (const each of [...errors, 0, limit, -limit]) {
            expect(axis.place(each)).toBeGreaterThan(0);
            expect(axis.place(each)).toBeLessThan(1);
          }
          expect(axis.ticks.some(({ value }) => value === 0)).toBe(true);
        },
      ),
    );
  });

  it('writes signs as print does', () => {
    expect(textsOf(errorAxis([12, -4], 6, 9))).toEqual(['\u22125', '0', '+5', '+10']);
  });
});

describe('round values', () => {
  it('are at most as many as asked for, evenly spaced', () => {
    expect(roundValues(0, 50, 6)).toEqual([0, 10, 20, 30, 40, 50]);
    expect(roundValues(-9, 15, 9)).toEqual([-5, 0, 5, 10, 15]);
    expect(roundValues(1, 1, 5)).toEqual([]);
  });
});
