import { describe, expect, it } from 'vitest';
import { arcOf } from '../../../host/core/catalogue/arc-scale';
import { columnAt, gaugeColumns, ohmAxis, type Columns } from '../../../host/core/catalogue/columns';
import { onOneScale } from '../../../host/core/catalogue/one-scale';
import { answered } from '../../support/answer';

/** A moving coil on a rheostat, 40 to 120 degC; `gain`: how far its hairspring lets it go. */
const degrees = (ohm: number, gain: number): number => 40 + (80 * gain * 52) / (ohm + 52);
const OHMS = [10, 20, 40, 60, 90, 120, 180, 260];

const curve = (gain: number, unit: 'degC' | 'degF', marks: readonly number[] = []): Columns => {
  const told = (celsius: number): number => (unit === 'degC' ? celsius : 32 + 1.8 * celsius);
  return answered(
    gaugeColumns({
      ...{ quantity: 'temperature', unit },
      marks: marks.map((reading) => ({ label: `${reading}`, reading, angleFraction: (reading - 40) / 80 })),
      readings: OHMS.map((ohm) => ({ resistanceOhm: ohm, reading: told(degrees(ohm, gain)) })),
    }),
  );
};
const readingAt = (columns: Columns, ohm: number): number =>
  arcOf(columns.scale).reading(columnAt(columns.value, ohmAxis.index(ohm)));

describe('curves on one dial', () => {
  it.each([
    ['nobody described', curve(1, 'degC'), curve(1.1, 'degC')],
    ['one is described', curve(1, 'degC'), curve(1.1, 'degC', [40, 80, 120])],
    ['one is in degF', curve(1, 'degC'), curve(1.1, 'degF')],
  ])('read apart by what they are, where %s', (_, one, other) => {
    const both = onOneScale([one, other]);
    expect(both[0]!.scale).toBe(both[1]!.scale);
    for (const ohm of [20, 60, 180]) {
      expect(readingAt(both[0]!, ohm)).toBeCloseTo(degrees(ohm, 1), 0);
      expect(readingAt(both[1]!, ohm)).toBeCloseTo(degrees(ohm, 1.1), 0);
    }
    const span = both[0]!.scale.highest - both[0]!.scale.lowest;
    const apart = (ohm: number): number =>
      columnAt(both[1]!.value, ohmAxis.index(ohm)) - columnAt(both[0]!.value, ohmAxis.index(ohm));
    expect(apart(20) * span).toBeCloseTo(degrees(20, 1.1) - degrees(20, 1), 0);
  });

  it('are none of none, and one alone stays as it is', () => {
    expect(onOneScale([])).toEqual([]);
    const one = curve(1, 'degC');
    expect(onOneScale([one])[0]).toBe(one);
  });
});
