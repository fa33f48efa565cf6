import { describe, expect, it } from 'vitest';
import { unitChange } from '../../host/core/units';

const turned = (value: number, from: string, to: string): number => {
  const change = unitChange(from, to);
  return change.kind === 'refused' ? NaN : value * change.factor + change.offset;
};

// Source: BIPM SI brochure and NIST SP 811 appendix B, factors from memory; all follow from exact definitions.
const rows = [
  ['water boils at 212 degF', turned(212, 'degF', 'degC'), 100],
  ['-40 is the same on both scales', turned(-40, 'degF', 'degC'), -40],
  ['ice melts at 273.15 K', turned(273.15, 'K', 'degC'), 0],
  ['one psi in kPa', turned(1, 'psi', 'kPa'), 6.894757293168],
  ['a bar is 14.5 psi', turned(14.503773773, 'psi', 'kPa'), 100],
  ['one bar in kPa', turned(1, 'bar', 'kPa'), 100],
  ['one United States gallon in litres', turned(1, 'US gal', 'L'), 3.785411784],
  ['one imperial gallon in litres', turned(1, 'imp gal', 'L'), 4.54609],
  ['an imperial gallon is 1.2 of the United States', turned(1.2009499255, 'US gal', 'L'), 4.54609],
  ['half a tank is 50 %', turned(0.5, 'fraction', '%'), 50],
  ['a kilohm in ohms', turned(1, 'kohm', 'ohm'), 1000],
] as const;

describe('units', () => {
  it.each(rows)('%s', (_, value, expected) => expect(value).toBeCloseTo(expected, 8));
});
