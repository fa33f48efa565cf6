import { describe, expect, it } from 'vitest';
import type { Gauge } from '../../host/job/schema/gauge';
import { confirmed, entryReading, readingTyped, turned, typedEntry, UNSET } from '../../host/web/entry/entry';

const fuel: Gauge = {
  quantity: 'fuel',
  mechanism: 'two-coil',
  unit: '%',
  marks: [
    { label: 'E', reading: 0, angleFraction: 0 },
    { label: '1/2', reading: 50, angleFraction: 0.4 },
    { label: 'F', reading: 100, angleFraction: 1 },
  ],
};

describe('the reading a person gives', () => {
  it.each([
    ['E', 0],
    ['f', 100],
    [' 1/2 ', 50],
    ['12,5', 12.5],
    ['75', 75],
  ])('understands %j as %d', (text, reading) => {
    expect(readingTyped(fuel, text)).toEqual({ kind: 'reading', reading });
  });

  it.each([
    ['half', 'TYPED_NOT_A_NUMBER'],
    ['340', 'READING_OFF_DIAL'],
    ['-60', 'READING_OFF_DIAL'],
  ])('refuses %j with %s', (text, code) => {
    expect(readingTyped(fuel, text)).toMatchObject({ kind: 'refused', code });
  });

  it('takes a number that is printed, rounded, at a mark to the digit as it was typed, and a name as the mark', () => {
    const psi: Gauge = {
      ...fuel,
      unit: 'psi',
      marks: [
        { label: '0', reading: 0, angleFraction: 0 },
        { label: '29', reading: 29.0075, angleFraction: 0.5 },
        { label: '4', reading: 58.015, angleFraction: 1 },
      ],
    };
    expect(readingTyped(psi, '29')).toEqual({ kind: 'reading', reading: 29 });
    // Printed "4" (bar) beside 58 psi is a name, not a number of psi.
    expect(readingTyped(psi, '4')).toEqual({ kind: 'reading', reading: 58.015 });
  });

  it('moves the drawn needle to what was typed', () => {
    expect(typedEntry(fuel, turned(0.9), '25').fraction).toBeCloseTo(0.2, 9);
  });

  it('keeps what was typed wrong, explains it, and gives no reading', () => {
    const entry = typedEntry(fuel, turned(0.9), '4x');
    expect(entry).toMatchObject({ typed: '4x', fraction: 0.9 });
    expect(entry.problem).toContain('4x');
    expect(entryReading(fuel, entry)).toBeUndefined();
  });

  it('is never assumed: nothing is read before the needle was put somewhere, nor from nonsense taken back', () => {
    expect(entryReading(fuel, UNSET)).toBeUndefined();
    expect(entryReading(fuel, typedEntry(fuel, typedEntry(fuel, UNSET, '4x'), ''))).toBeUndefined();
    expect(entryReading(fuel, typedEntry(fuel, UNSET, '50'))).toBe(50);
  });

  it('stands where it was confirmed, on its stop too, until it is moved', () => {
    const onStop = confirmed({ ...turned(0), atStop: 'low' });
    expect(onStop).toMatchObject({ stands: 'before', atStop: 'low' });
    expect(confirmed(typedEntry(fuel, UNSET, '50'))).toMatchObject({ stands: 'before', typed: '' });
    // Nonsense lifts it off the stop, and then nobody knows where it is.
    expect(typedEntry(fuel, typedEntry(fuel, onStop, '4x'), '')).toMatchObject({
      atStop: undefined,
      stands: 'unset',
    });
  });

  it('goes back to the needle when the digits are taken away', () => {
    const entry = typedEntry(fuel, typedEntry(fuel, turned(0.4), '4x'), '');
    expect(entryReading(fuel, entry)).toBeCloseTo(50, 9);
  });
});
