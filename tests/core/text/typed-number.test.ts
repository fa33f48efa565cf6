import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { typedNumber } from '../../../host/core/text/number';
import { anyText } from '../../support/any-text';

const understood = [
  ['1200', 1200],
  ['1 200', 1200],
  ['1\u202f200', 1200],
  ["1'200", 1200],
  ['1k2', 1200],
  ['1.2k', 1200],
  ['1,2k', 1200],
  ['1K2', 1200],
  ['2M2', 2_200_000],
  ['4R7', 4.7],
  ['47R', 47],
  ['12,5', 12.5],
  ['0,125', 0.125],
  ['1,20', 1.2],
  ['1.234,5', 1234.5],
  ['1,234.5', 1234.5],
  ['1,234,567', 1_234_567],
  ['.5', 0.5],
  ['5.', 5],
  ['-40', -40],
  ['\u221240', -40],
  ['+7', 7],
  ['1.2e3', 1200],
  ['1.2 k\u03a9', 1200],
  ['2.2 M\u03a9', 2_200_000],
  [' 90 ohm ', 90],
  ['90 \u03a9', 90],
] as const;

const notUnderstood = [
  ['', 'TYPED_EMPTY'],
  ['   ', 'TYPED_EMPTY'],
  ['warm', 'TYPED_NOT_A_NUMBER'],
  ['1k2k', 'TYPED_NOT_A_NUMBER'],
  ['1.2k3', 'TYPED_NOT_A_NUMBER'],
  ['k', 'TYPED_NOT_A_NUMBER'],
  ['--5', 'TYPED_NOT_A_NUMBER'],
  ['1,200', 'TYPED_AMBIGUOUS'],
  ['40 1200', 'TYPED_NOT_A_NUMBER'],
  ['40 C', 'TYPED_NOT_A_NUMBER'],
  ['1 mohm', 'TYPED_NOT_A_NUMBER'],
  ['Infinity', 'TYPED_NOT_A_NUMBER'],
  ['1,2,3', 'TYPED_AMBIGUOUS'],
  ['1.2.3', 'TYPED_AMBIGUOUS'],
  ['12,34.5', 'TYPED_AMBIGUOUS'],
  ['.', 'TYPED_AMBIGUOUS'],
  ['99999999999', 'TYPED_TOO_LARGE'],
] as const;

describe('typedNumber', () => {
  it.each(understood)('reads %j as %d', (text, value) => {
    expect(typedNumber(text)).toEqual({ kind: 'number', value });
  });

  it.each(notUnderstood)('refuses %j with %s and repeats what was typed', (text, code) => {
    const result = typedNumber(text);
    expect(result).toMatchObject({ kind: 'refused', code });
    if (result.kind === 'refused' && text.trim() !== '') expect(result.message).toContain(text);
  });

  it('reads back every number written in plain decimal', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (value) => {
        const written = value.toFixed(6);
        expect(typedNumber(written)).toEqual({ kind: 'number', value: Number(written) });
      }),
    );
  });

  it('answers any text with a finite number or a refusal, never with NaN', () => {
    fc.assert(
      fc.property(anyText(20), (text) => {
        const result = typedNumber(text);
        if (result.kind === 'number') expect(Number.isFinite(result.value)).toBe(true);
      }),
    );
  });
});
