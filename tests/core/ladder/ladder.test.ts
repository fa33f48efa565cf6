import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  contactsFor,
  ladderFromRows,
  ladderRangeOhm,
  largestStepOhm,
  madeMilliohm,
} from '../../../host/core/ladder';
import type { Ladder, LadderRow } from '../../../host/core/ladder';

// E96 values of the reference design, milliohm.
const nominal = [
  1_000, 1_870, 3_480, 6_340, 11_800, 21_500, 40_200, 73_200, 137_000, 255_000, 464_000, 866_000, 1_580_000,
  2_940_000,
];

const rowsOf = (milliohms: readonly number[], residualMilliohm = 1200): LadderRow[] => [
  ...milliohms.map((milliohm, contactBit) => ({ kind: 0, contactBit, milliohm, uncertaintyMilliohm: 5 })),
  { kind: 1, contactBit: 14, milliohm: 47_000, uncertaintyMilliohm: 30 },
  { kind: 2, contactBit: 255, milliohm: residualMilliohm, uncertaintyMilliohm: 20 },
];

function ladderOf(rows: readonly LadderRow[]): Ladder {
  const made = ladderFromRows(rows);
  if (made.kind === 'refused') throw new Error(made.code);
  return made.ladder;
}

const toleranced = fc
  .array(fc.integer({ min: -1000, max: 1000 }), { minLength: nominal.length, maxLength: nominal.length })
  .map((parts) => nominal.map((milliohm, index) => Math.round(milliohm * (1 + parts[index]! / 100_000))));

describe('contactsFor', () => {
  it('finds the nearest of all combinations, checked against every one of them', () => {
    const small = fc.array(fc.integer({ min: 1, max: 5000 }), { minLength: 1, maxLength: 9 });
    fc.assert(
      fc.property(small, fc.double({ min: 0, max: 1, noNaN: true }), (milliohms, part) => {
        const ladder = ladderOf(rowsOf(milliohms));
        const { fromOhm, toOhm } = ladderRangeOhm(ladder);
        const askedOhm = fromOhm + part * (toOhm - fromOhm);
        const setting = contactsFor(ladder, askedOhm);
        if (setting.kind === 'refused') throw new Error(setting.code);
        const gaps = Array.from({ length: 2 ** milliohms.length }, (_, code) =>
          Math.abs(madeMilliohm(ladder, code) / 1000 - askedOhm),
        );
        expect(Math.abs(setting.errorOhm)).toBeCloseTo(Math.min(...gaps), 9);
      }),
    );
  });

  it('states the sum its own mask makes, with complement, limiter bypassed and output closed', () => {
    const ladder = ladderOf(rowsOf(nominal));
    const setting = contactsFor(ladder, 90);
    expect(setting).toMatchObject({ kind: 'setting' });
    if (setting.kind === 'refused') return;
    expect(setting.contactMask >>> 14).toBe(0b11);
    expect(setting.contactMask ^ setting.complementMask).toBe(0xffff);
    expect(madeMilliohm(ladder, setting.contactMask)).toBe(setting.madeMilliohm);
    expect(Math.abs(setting.errorOhm)).toBeLessThan(0.5);
  });

  it('misses by at most half an ohm from 5 ohm to the top, with any parts inside 1 %', () => {
    fc.assert(
      fc.property(toleranced, (milliohms) => {
        const ladder = ladderOf(rowsOf(milliohms));
        expect(largestStepOhm(ladder, 5, ladderRangeOhm(ladder).toOhm)).toBeLessThanOrEqual(1.02);
      }),
      { numRuns: 20 },
    );
  });

  it('refuses what the chain cannot make and what is no number, and says what it can', () => {
    const ladder = ladderOf(rowsOf(nominal));
    for (const ohm of [0.1, 7000, NaN, Infinity, -5]) {
      expect(contactsFor(ladder, ohm)).toMatchObject({ kind: 'refused', code: 'LADDER_RANGE' });
    }
  });

  it('finds the only answer of a single element on both sides of the middle', () => {
    const ladder = ladderOf(rowsOf([100_000], 0));
    expect(contactsFor(ladder, 49)).toMatchObject({ madeMilliohm: 0 });
    expect(contactsFor(ladder, 51)).toMatchObject({ madeMilliohm: 100_000 });
  });
});

describe('ladderFromRows', () => {
  it('refuses a table without residual, without elements, with a bit used twice, or with a value that is no number', () => {
    const rows = rowsOf(nominal);
    expect(ladderFromRows(rows.slice(0, -1))).toMatchObject({ code: 'LADDER_TABLE' });
    expect(ladderFromRows([])).toMatchObject({ code: 'LADDER_TABLE' });
    expect(ladderFromRows([...rows, rows[0]!])).toMatchObject({ code: 'LADDER_TABLE' });
    expect(ladderFromRows([...rows, { ...rows[0]!, milliohm: NaN }])).toMatchObject({ code: 'LADDER_ROW' });
    expect(ladderFromRows([{ ...rows[0]!, contactBit: 15 }])).toMatchObject({ code: 'LADDER_ROW' });
  });
});
