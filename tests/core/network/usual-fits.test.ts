import { describe, expect, it } from 'vitest';
import { usualFits } from '../../../host/core/network';
import type { GaugeResponse } from '../../../host/core/response';
import { usualSenderName, usualSenderSays } from '../../../host/words/usual-senders';
import { printed } from '../../../host/words/notation';

/** A gauge that is the exact inverse of a straight sender, 240 ohm at empty and 33 at full. Source: two points, a line. */
const straight = (
  lowOhm: number,
  highOhm: number,
  quantity: 'fuel' | 'pressure' = 'fuel',
): GaugeResponse => ({
  quantity,
  unit: '%',
  measuredFromOhm: 1,
  measuredToOhm: 300,
  lowestReading: -10,
  highestReading: 110,
  marks: [
    { label: 'E', reading: 0 },
    { label: 'F', reading: 100 },
  ],
  risesWithResistance: highOhm > lowOhm,
  plateaus: [],
  reading: (ohm) => Math.min(110, Math.max(-10, (100 * (ohm - lowOhm)) / (highOhm - lowOhm))),
  readingUncertainty: () => 1,
});
const said = (gauge: GaugeResponse): string[] =>
  usualFits(gauge).map(
    (fit) =>
      `${usualSenderName(fit, gauge.quantity, gauge.unit, printed)}: ${usualSenderSays(fit, 100, gauge.unit, printed)}`,
  );

describe('usual senders through a gauge', () => {
  it('have the kind the gauge was made for first, without error', () => {
    const [first] = usualFits(straight(240, 33));
    expect(first).toMatchObject({ low: { ohm: 240 }, high: { ohm: 33 } });
    expect(first!.worstError).toBeCloseTo(0, 9);
    expect(said(straight(240, 33))[0]).toBe('240 to 33 \u03a9: would read right');
  });

  it('tell a kind that runs the other way, and one that errs to one side', () => {
    const lines = said(straight(240, 33));
    expect(lines).toContain('0 to 90 \u03a9: runs the other way');
    // 73 ohm at empty: (73 - 240) / (33 - 240) = 80.7 % too high there; 10 ohm at full: the needle on its stop at 110.
    expect(lines).toContain('73 to 10 \u03a9: would read 10 to 81 % high');
  });

  it('are thermistors on a dial of degrees, named by the ohms of their hot end in its own unit', () => {
    // 300 ohm at 24 degC and 26 at 90: B = ln(300/26) / (1/297.15 - 1/363.15) = 3999 K, by hand.
    const gauge: GaugeResponse = {
      ...straight(0, 1),
      quantity: 'temperature',
      unit: 'degF',
      marks: [
        { label: 'C', reading: 104 },
        { label: 'H', reading: 248 },
      ],
      reading: (ohm) => 32 + 1.8 * (1 / (Math.log(ohm / 26) / 3999 + 1 / 363.15) - 273.15),
    };
    const [first] = usualFits(gauge);
    expect(first!.worstError).toBeLessThan(0.1);
    expect(usualSenderName(first!, 'temperature', 'degF', printed)).toBe('26 \u03a9 at 194 \u00b0F');
  });

  it('are none where the quantity has none in circulation', () => {
    expect(usualFits({ ...straight(0, 1), quantity: 'other' })).toEqual([]);
  });
});
