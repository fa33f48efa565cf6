import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type * as Design from '../../../firmware-ts/board/reference-design';

const ELEMENTS = 8;
const LIMITER_MILLIOHM = 47_000;

/** The design with the first eight elements only: limiter and output keep their bits, those between have no contact. */
beforeEach(() => {
  vi.resetModules();
  vi.doMock('../../../firmware-ts/board/reference-design', async (original) => {
    const design = await original<typeof Design>();
    const elementsMask = 2 ** ELEMENTS - 1;
    const { limiterBypassMask, outputMask } = design.contactBits;
    return {
      ...design,
      elements: design.elements.slice(0, ELEMENTS),
      contactBits: {
        elementsMask,
        limiterBypassMask,
        outputMask,
        allMask: elementsMask | limiterBypassMask | outputMask,
      },
    };
  });
});
afterEach(() => vi.doUnmock('../../../firmware-ts/board/reference-design'));

describe('a chain of eight elements', () => {
  it('makes with every contact dead the sum of its parts, the limiter among them', async () => {
    const { ElementTable, bitOfRow, limiterRow, residualRow } =
      await import('../../../firmware-ts/ladder/table');
    const table = new ElementTable();
    table.fillNominal();
    const all = table.milliohm.reduce((sum, milliohm) => sum + milliohm, 0);
    expect(table.milliohm).toHaveLength(ELEMENTS + 2);
    expect(table.madeMilliohm(0)).toBeCloseTo(all, 6);
    expect(bitOfRow(limiterRow)).toBe(14);
    // Bypassed, and only then, the limiter is out.
    expect(table.madeMilliohm(0x4000)).toBeCloseTo(all - LIMITER_MILLIOHM, 6);
    expect(table.madeMilliohm(0x40ff)).toBeCloseTo(table.milliohm[residualRow]!, 6);
    // A bit without a contact changes nothing.
    expect(table.madeMilliohm(0x3f00)).toBeCloseTo(all, 6);
    expect(table.madeUncertaintyMilliohm(0x4000)).toBeLessThan(table.madeUncertaintyMilliohm(0));
  });

  it('is refused contacts that it lacks', async () => {
    const { settingTrouble } = await import('../../../firmware-ts/box/request-checks');
    const { ElementTable } = await import('../../../firmware-ts/ladder/table');
    const table = new ElementTable();
    table.fillNominal();
    const fields = {
      channel: 0,
      contactMask: 0xc1ff,
      complementMask: 0x3e00,
      resistanceMilliohm: 0,
      leaseMs: 1,
    };
    const context = { parts: { table } };
    // Only the mask is looked at before this refusal.
    const trouble: unknown = Reflect.apply(settingTrouble, undefined, [fields, context]);
    expect(trouble).toMatchObject({ refusal: 'CONTACTS', detail: 0xc0ff });
  });

  it('heats its limiter by the limiter’s own contact', async () => {
    const { elementPowerGuard } = await import('../../../firmware-ts/guard/power');
    const { ElementTable } = await import('../../../firmware-ts/ladder/table');
    const { jobLimits } = await import('../../../firmware-ts/guard/job-limits');
    const { emptyView } = await import('../../../firmware-ts/box/watch');
    const table = new ElementTable();
    table.fillNominal();
    const context = { limits: jobLimits.thermal, table };
    // 20 W in 47 ohm; everything else is shorted.
    const view = {
      ...emptyView(),
      isArmed: true,
      isOutputClosed: true,
      elapsedMs: 500,
      currentMicroamp: 652_000,
    };
    const tripsWith = (contactMask: number): boolean => {
      const guard = elementPowerGuard();
      for (let look = 0; look < 2000; look += 1)
        if (guard.check({ ...view, contactMask }, context) !== undefined) return true;
      return false;
    };
    expect([tripsWith(0x80ff), tripsWith(0xc0ff)]).toEqual([true, false]);
  });
});
