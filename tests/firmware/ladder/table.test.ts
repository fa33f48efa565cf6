import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { contactBits, elements, path } from '../../../firmware-ts/board/reference-design';
import {
  ElementTable,
  contactRepeatMilliohm,
  isInserted,
  isLimiterIn,
  isOutputClosed,
  limiterRow,
  residualRow,
  rowCount,
} from '../../../firmware-ts/ladder/table';

const anyMask = fc.nat(contactBits.allMask);

function tableOf(
  milliohm: (row: number) => number,
  uncertaintyMilliohm: (row: number) => number,
): ElementTable {
  const table = new ElementTable();
  for (let row = 0; row < rowCount; row += 1) {
    table.milliohm[row] = milliohm(row);
    table.uncertaintyMilliohm[row] = uncertaintyMilliohm(row);
  }
  return table;
}

const doubling = tableOf(
  (row) => (row === residualRow ? 500 : 1000 * 2 ** row),
  (row) => (row === residualRow ? 5 : row + 1),
);

describe('what contacts make', () => {
  it('is the residual and every row whose contact is not closed', () => {
    expect(doubling.madeMilliohm(0xffff)).toBe(500);
    expect(doubling.madeMilliohm(0xffff & ~0b101)).toBe(500 + 1000 + 4000);
    expect(doubling.madeMilliohm(0xffff & ~(1 << limiterRow))).toBe(500 + 1000 * 2 ** limiterRow);
    expect(doubling.madeMilliohm(0)).toBe(500 + 1000 * (2 ** (limiterRow + 1) - 1));
  });

  it('does not change with the output contact', () => {
    fc.assert(
      fc.property(anyMask, (mask) => {
        expect(doubling.madeMilliohm(mask)).toBe(doubling.madeMilliohm(mask ^ contactBits.outputMask));
      }),
    );
  });

  it('never falls when one more row is inserted, and neither does its uncertainty', () => {
    fc.assert(
      fc.property(anyMask, fc.nat(limiterRow), (mask, row) => {
        const more = mask & ~(1 << row);
        expect(doubling.madeMilliohm(more)).toBeGreaterThanOrEqual(doubling.madeMilliohm(mask));
        expect(doubling.madeUncertaintyMilliohm(more)).toBeGreaterThanOrEqual(
          doubling.madeUncertaintyMilliohm(mask),
        );
      }),
    );
  });
});

describe('how well that is known', () => {
  it('adds the rows straight, because they share one reference, and the contacts in squares', () => {
    // By hand: residual 5, rows 0 and 2 with 1 and 3: 9 in all; sixteen contacts of 10 milliohm: 40.
    expect(contactRepeatMilliohm).toBe(10);
    expect(rowCount).toBe(16);
    expect(doubling.madeUncertaintyMilliohm(0xffff & ~0b101)).toBeCloseTo(Math.hypot(9, 40), 12);
  });

  it('is never better than what sixteen contacts repeat to', () => {
    const perfect = tableOf(
      () => 1000,
      () => 0,
    );
    fc.assert(
      fc.property(anyMask, (mask) => {
        expect(perfect.madeUncertaintyMilliohm(mask)).toBeCloseTo(40, 12);
      }),
    );
  });
});

describe('a table without a calibration', () => {
  it('has the printed values, each with the limits of its part as a rectangle', () => {
    const table = new ElementTable();
    table.fillNominal();
    elements.forEach(({ nominalMilliohm, tolerancePercent }, row) => {
      expect(table.milliohm[row]).toBe(nominalMilliohm);
      expect(table.uncertaintyMilliohm[row]).toBeCloseTo(
        (nominalMilliohm * tolerancePercent) / 100 / Math.sqrt(3),
        9,
      );
    });
    expect(table.milliohm[limiterRow]).toBe(path.limiter.milliohm);
    // Sixteen contacts of 25, fuse 350, two leads of 30, shunt 500.
    expect(table.milliohm[residualRow]).toBe(16 * 25 + 350 + 2 * 30 + 500);
  });
});

describe('bits of a mask', () => {
  it('say inserted, limiter in and output open when clear', () => {
    expect([isInserted(0b0100, 2), isInserted(0b1011, 2)]).toEqual([false, true]);
    expect([isLimiterIn(0x4000), isLimiterIn(0xbfff)]).toEqual([false, true]);
    expect([isOutputClosed(0x8000), isOutputClosed(0x7fff)]).toEqual([true, false]);
  });
});
