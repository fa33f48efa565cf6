import { describe, expect, it } from 'vitest';
import { typedNumber, type CommaMeaning } from '../../../host/core/text/number';

const read: readonly (readonly [string, CommaMeaning, number])[] = [
  ['1200', 'unknown', 1200],
  ['1200.5', 'unknown', 1200.5],
  ['-12.5', 'unknown', -12.5],
  ['−12.5', 'unknown', -12.5],
  ['1.2e3', 'unknown', 1200],
  ['1k2', 'unknown', 1200],
  ['1.2k', 'unknown', 1200],
  ['4R7', 'unknown', 4.7],
  ['90 ohm', 'unknown', 90],
  ['1 200', 'unknown', 1200],
  ["1'200", 'unknown', 1200],
  ['12,5', 'unknown', 12.5],
  ['0,125', 'unknown', 0.125],
  ['1,200', 'decimal', 1.2],
  ['1,200', 'thousands', 1200],
  ['1,234,567', 'unknown', 1_234_567],
  ['1,200.5', 'unknown', 1200.5],
  ['1.200,5', 'decimal', 1200.5],
  ['.5', 'unknown', 0.5],
];

describe('a number as people write it', () => {
  it.each(read)('%s (comma: %s) is %d', (text, comma, value) => {
    expect(typedNumber(text, comma)).toEqual({ kind: 'number', value });
  });

  it.each([
    ['1,200', 'unknown', '1200 or 1.200'],
    ['1.200', 'decimal', '1200 or 1.200'],
    ['', 'unknown', 'nothing is written there'],
    ['abc', 'unknown', '"abc" is not a number'],
    ['1e999', 'unknown', 'is larger than anything'],
    ['NaN', 'unknown', 'is not a number'],
    ['Infinity', 'unknown', 'is not a number'],
    ['0x10', 'unknown', 'is not a number'],
  ] as const)('%s (comma: %s) is refused with its reason', (text, comma, why) => {
    const result = typedNumber(text, comma);
    expect(result.kind).toBe('refused');
    expect(result.kind === 'refused' && result.message).toContain(why);
  });
});
