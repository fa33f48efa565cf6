import { describe, expect, it } from 'vitest';
import { typedIn } from '../../../host/core/text/number';

describe('a number typed with its unit', () => {
  it.each([
    ['12.6V', 'V', 12.6],
    ['12,6 volts', 'V', 12.6],
    ['4 mV', 'mV', 4],
    ['194 \u00b0F', 'degF', 194],
    ['5 f', '\u00b0F', 5],
    ['90 C', 'degC', 90],
    ['2 K', 'K', 2],
    ['\u00b12', 'K', 2],
    ['88 ohm', 'ohm', 88],
    ['1k2', 'ohm', 1200],
    ['1.2k', 'ohm', 1200],
    ['12 litres', 'L', 12],
    ['25 %', '%', 25],
    ['7', undefined, 7],
  ])('reads %j in a field of %j as %d', (text, unit, value) => {
    expect(typedIn(text, unit)).toEqual({ kind: 'number', value });
  });

  it.each([
    ['194 F', 'degC'],
    ['4 mV', 'V'],
    ['12 V', 'mV'],
    ['30 psi', 'bar'],
    ['88 V', 'ohm'],
  ])('does not read %j as a number of %s', (text, unit) => {
    expect(typedIn(text, unit)).toMatchObject({ kind: 'refused', code: 'TYPED_OTHER_UNIT' });
  });
});
