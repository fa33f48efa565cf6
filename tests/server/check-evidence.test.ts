import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { twoTerminalOffsetOhm } from '../../host/core/circuit';
import { checkFinding, familyLaw, type DialLaw } from '../../host/server/findings/check-evidence';
import type { Gauge } from '../../host/job/schema/gauge';
import type { Measurement } from '../../host/job/state/state';
import { coolantGauge } from '../job/sample';

const gauge: Gauge = { ...coolantGauge, marks: [...coolantGauge.marks], terminals: 2 };
const measuredAs = (
  what: Measurement['what'],
  value: number,
  loads: Measurement['loads'] = 'off',
): Measurement => ({
  n: 1,
  at: '2026-01-01T00:00:00.000Z',
  by: 'x',
  what,
  value,
  loads,
  source: 'person',
});
type With = { readonly curve?: DialLaw; readonly on?: Gauge };
const found = (measurements: Measurement[], { curve, on = gauge }: With = {}) =>
  checkFinding({ gauge: on, measurements, asFound: [] }, curve);

/** Invented: 1 K to the ohm, so that ohms can be read as kelvin. */
const straight: DialLaw = { from: 'by a straight line', reading: (ohm) => ohm, ohm: (reading) => reading };

describe('what a ground offset is worth', () => {
  it('is the published extra resistance, read through the gauge\u2019s curve', () => {
    // 10 V, 58 ohm gauge: 0.1 V over a sender of 85 ohm (the middle of 50 to 120) is 0.1 * 143 / 9.9 = 1.44 ohm.
    const { groundWorth } = found(
      [measuredAs('ground-offset-volt', 0.1), measuredAs('gauge-ohm', 58), measuredAs('effective-volt', 10)],
      { curve: straight },
    );
    expect(groundWorth.off?.words).toBe('worth 1.4 \u00b0C at 85 \u00b0C (by a straight line)');
    const extra = twoTerminalOffsetOhm(0.1, { supplyVolt: 10, gaugeOhm: 58, senderOhm: 85 });
    expect(extra.kind === 'refused' ? NaN : extra.ohm).toBeCloseTo(1.444, 2);
  });

  it('grows with the offset, whichever ground is the higher one', () => {
    const size = (volt: number): number => {
      const { groundWorth } = found(
        [
          measuredAs('ground-offset-volt', volt, 'lights'),
          measuredAs('gauge-ohm', 58),
          measuredAs('supply-volt', 10),
        ],
        { curve: straight },
      );
      return Number(/worth ([\d.]+)/.exec(groundWorth.lights?.words ?? '')?.[1]);
    };
    fc.assert(
      fc.property(fc.double({ min: 0.02, max: 1, noNaN: true }), (volt) => {
        expect(size(-volt)).toBe(size(volt));
        expect(size(2 * volt)).toBeGreaterThan(size(volt));
      }),
    );
  });

  it('is told for coils that work by ratio, with what was assumed', () => {
    const twoCoil: Gauge = { ...gauge, mechanism: 'two-coil', terminals: 3 };
    const { groundWorth } = found(
      [measuredAs('ground-offset-volt', 0.5), measuredAs('gauge-ohm', 90), measuredAs('supply-volt', 12.6)],
      { curve: { ...straight, ohm: () => 75 }, on: twoCoil },
    );
    // Published effect: 0.5 V makes a 90/90 ohm gauge take 75 ohm for 65.8.
    expect(groundWorth.off?.words).toMatch(/^worth 9\.2 \u00b0C .*its coils taken as equal$/);
  });

  it('takes an unmeasured gauge for as large as its sender, says so, and says nothing of an electronic one', () => {
    const all = [measuredAs('ground-offset-volt', 0.5), measuredAs('supply-volt', 12)];
    // 85 ohm for both: 0.5 * 170 / 11.5 = 7.39 ohm more.
    const { words, partOfScale } = found(all, { curve: straight }).groundWorth.off ?? {};
    expect(words).toBe(
      'worth 7.4 \u00b0C at 85 \u00b0C (by a straight line), the gauge\u2019s ohms taken as its sender\u2019s',
    );
    expect(partOfScale).toBeCloseTo(7.39 / 70, 3);
    const electronic: Gauge = { ...gauge, mechanism: 'electronic' };
    expect(found([...all, measuredAs('gauge-ohm', 90)], { on: electronic }).groundWorth).toEqual({});
  });

  it('tells 50 mV apart by what they are worth: much to a gauge of 5 V and 12 ohm, little to one of 10 V and 58', () => {
    // Published effect: 0.1 V is 0.45 ohm on 10 (4.5 %) at 5 V and 12.2 ohm, 0.99 ohm on 40 (2.5 %) at 10 V and 58 ohm.
    const part = (feed: number, gaugeOhm: number, senderOhm: number): number =>
      found(
        [
          measuredAs('ground-offset-volt', 0.05),
          measuredAs('effective-volt', feed),
          measuredAs('gauge-ohm', gaugeOhm),
        ],
        { curve: { ...straight, ohm: () => senderOhm, reading: (ohm) => (70 * ohm) / senderOhm } },
      ).groundWorth.off?.partOfScale ?? NaN;
    expect(part(5, 12.2, 10)).toBeCloseTo(0.0224, 3);
    expect(part(10, 58, 40)).toBeCloseTo(0.0123, 3);
  });

  it('is the whole dial where no sender looks like that, and the same for positive ground', () => {
    const { off } = found([measuredAs('ground-offset-volt', 14), measuredAs('supply-volt', 12)], {
      curve: straight,
    }).groundWorth;
    expect(off?.partOfScale).toBe(1);
    const size = (supply: number): number | undefined =>
      found([measuredAs('ground-offset-volt', 0.3), measuredAs('supply-volt', supply)], { curve: straight })
        .groundWorth.off?.size;
    expect(size(-12)).toBe(size(12));
  });

  it('tells ohms in the sender\u2019s ground the same way', () => {
    const { bodyWorth } = found([measuredAs('sender-body-ohm', 6)], { curve: straight });
    expect(bodyWorth?.words).toBe('worth 6 \u00b0C at 85 \u00b0C (by a straight line)');
  });
});

describe('the heat of the feed', () => {
  it('is told apart from what a DC meter shows', () => {
    // 10 V of heat from 13.5 V: duty 0.549, average 7.4 V; stuck closed 1.8 times the heat.
    const { lines } = found([measuredAs('effective-volt', 10), measuredAs('supply-volt', 13.5)]);
    expect(lines[0]).toMatch(
      /heats the gauge like 10\.00 V\. A DC meter would show about 7\.4 V.*1\.8 times/,
    );
  });

  it('is weighed in dial units once the gauge\u2019s resistance is known', () => {
    const { lines } = found([measuredAs('effective-volt', 10), measuredAs('gauge-ohm', 58)], {
      curve: straight,
    });
    // 1 % more volts at 58 + 85 ohm looks like 143 / 1.01 - 58 = 83.58 ohm: 1.4 less.
    expect(lines.at(-1)).toBe('0.1 V at the gauge is worth 1.4 \u00b0C at 85 \u00b0C (by a straight line).');
  });
});

describe('the sender in circuit', () => {
  it('follows from the volts at the gauge\u2019s terminal on a steady feed', () => {
    const { lines } = found(
      [measuredAs('sender-stud-volt', 5), measuredAs('gauge-ohm', 60), measuredAs('supply-volt', 10)],
      { curve: straight },
    );
    expect(lines).toEqual([
      'The sender in circuit has 60 \u03a9; this gauge should then show 60 \u00b0C (by a straight line).',
    ]);
  });

  it('is not told on a chopped feed, nor on three terminals', () => {
    const all = [
      measuredAs('sender-stud-volt', 5),
      measuredAs('gauge-ohm', 60),
      measuredAs('supply-volt', 13),
      measuredAs('effective-volt', 10),
    ];
    expect(found(all).lines.join()).toMatch(/supply is chopped, and both volts/);
    expect(found(all.slice(0, 3), { on: { ...gauge, mechanism: 'cross-coil' } }).lines).toEqual([]);
  });
});

describe('the family as a stand-in for a curve', () => {
  it('meets both ends of the dial, and answers back what it was asked', () => {
    const law = familyLaw(gauge);
    expect(law?.reading(320)).toBeCloseTo(50, 9);
    expect(law?.reading(22)).toBeCloseTo(120, 9);
    fc.assert(
      fc.property(fc.double({ min: 22, max: 320, noNaN: true }), (ohm) => {
        expect(law?.ohm(law.reading(ohm))).toBeCloseTo(ohm, 6);
      }),
    );
  });

  it('is not made of ends that say nothing', () => {
    expect(familyLaw({ ...gauge, family: { lowEndOhm: 0, highEndOhm: 90 } })).toBeUndefined();
    expect(familyLaw({ ...gauge, family: { lowEndOhm: 50, highEndOhm: 50 } })).toBeUndefined();
  });
});
