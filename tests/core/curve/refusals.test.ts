import { describe, expect, it } from 'vitest';
import { fitCurve, readingAt } from '../../../host/core/curve';
import type { GaugeReading } from '../../../host/core/curve';
import { isRefused } from '../../../host/core/refusal';
import { plain } from '../../../host/words/notation';
import { saidRefusal } from '../../../host/words/refusal';

describe('a curve is refused with', () => {
  const at = (resistanceOhm: number, reading: number): GaugeReading => ({ resistanceOhm, reading });
  it.each([
    ['CURVE_BAD_NUMBER', [at(-1, 2), at(2, 3), at(3, 4)]],
    ['CURVE_BAD_NUMBER', [at(1, NaN), at(2, 3), at(3, 4)]],
    ['CURVE_BAD_NUMBER', [{ ...at(1, 1), readingUncertainty: 0 }, at(2, 3), at(3, 4)]],
    ['CURVE_TOO_FEW', []],
    ['CURVE_TOO_FEW', [at(10, 1), at(10.005, 2), at(20, 3)]],
    ['CURVE_ALL_AT_STOPS', [10, 20, 30].map((ohm) => ({ ...at(ohm, 1), atStop: 'low' as const }))],
    ['CURVE_FLAT', [at(10, 50), at(20, 50), at(40, 50)]],
    ['CURVE_NOT_MONOTONE', [at(10, 90), at(20, 20), at(40, 85), at(80, 15), at(160, 95)]],
  ] as const)('%s', (code, readings) => {
    expect(fitCurve(readings)).toMatchObject({ kind: 'refused', code });
  });

  it('say how many there are, in words and four figures', () => {
    const messageOf = (readings: readonly GaugeReading[]): string => {
      const answer = fitCurve(readings);
      return isRefused(answer) ? saidRefusal(answer, plain) : '';
    };
    const told = (count: string): string =>
      `The needle was off its stops at ${count}; a curve needs 3 or more. Take more readings.`;
    expect(messageOf([])).toBe(told('no resistance'));
    expect(messageOf([at(10, 1), at(10, 2)])).toBe(told('1 resistance'));
    expect(messageOf([at(10, 1), at(20, 2)])).toBe(told('2 resistances'));
    expect(messageOf([at(104.758_886_352_4, NaN)])).toContain('Reading 1 (104.8 ohm, NaN) cannot be used');
    expect(messageOf([10, 20, 40].map((ohm) => at(ohm, 50.123_456)))).toContain('stood at 50.12 at');
  });

  it('CURVE_TOO_MANY above 10,000 readings, and above 300 at one resistance', () => {
    const many = Array.from({ length: 10_001 }, (_, i) => at(10 + i, i));
    expect(fitCurve(many)).toMatchObject({
      code: 'CURVE_TOO_MANY',
      slots: { readingCount: 10_001, most: 10_000 },
    });
    const crowd = [at(10, 1), at(20, 2), ...Array.from({ length: 301 }, () => at(40, 3))];
    expect(fitCurve(crowd)).toMatchObject({
      code: 'CURVE_TOO_MANY',
      slots: { readingCount: 301, most: 300, atOhm: 40 },
    });
    expect(fitCurve(crowd.slice(0, -1)).kind).toBe('curve');
  });

  it('CURVE_LAW_IMPOSSIBLE for a curve through each of more than 500 resistances', () => {
    const many = Array.from({ length: 501 }, (_, i) => at(10 * 1.01 ** i, i));
    const answer = fitCurve(many, { law: 'interpolant' });
    expect(answer).toMatchObject({ kind: 'refused', code: 'CURVE_LAW_IMPOSSIBLE' });
    expect(answer).toMatchObject({ slots: { law: 'interpolant', knotCount: 501 } });
  });

  it('CURVE_LAW_IMPOSSIBLE for a law with more parameters than readings', () => {
    const three = [at(10, 1), at(20, 2), at(40, 2.5)];
    expect(fitCurve(three, { law: 'cross-coil' })).toMatchObject({
      kind: 'refused',
      code: 'CURVE_LAW_IMPOSSIBLE',
    });
  });

  it('CURVE_BAD_NUMBER for the reading at a resistance below zero', () => {
    const curve = fitCurve([at(10, 1), at(20, 2), at(40, 2.5), at(80, 3)]);
    expect(isRefused(curve) ? curve : readingAt(curve, -1)).toMatchObject({
      code: 'CURVE_BAD_NUMBER',
      slots: { resistanceOhm: -1 },
    });
  });
});
