import { describe, expect, it } from 'vitest';
import { fitCurve, gaugeResponse } from '../../../host/core/curve';
import { dialFromMarks, offScale } from '../../../host/core/dial';
import { trim } from '../../../host/core/network';
import { fitSender, senderResponse } from '../../../host/core/sender';
import { needleWords, offScaleWords } from '../../../host/words/network';
import { plain } from '../../../host/words/notation';
import { NTC_POINTS, sampleGauge } from '../../e2e/sample-job';

const marks = sampleGauge.marks;

const saidOff = (dial: Parameters<typeof offScale>[0], unit: string, reading: number): string | undefined => {
  const off = offScale(dial, reading);
  return off === undefined ? undefined : offScaleWords(off, unit, plain);
};

describe('a needle off its scale', () => {
  it.each([
    [-10.6, 'below C, on the low stop'],
    [37, 'below C'],
    [39.9, undefined],
    [40, undefined],
    [80, undefined],
    [120.5, undefined],
    [123, 'above H'],
    [180, 'above H, on the high stop'],
    [Infinity, 'above H, on the high stop'],
    [NaN, undefined],
  ])('at %d is told as %s', (reading, words) => {
    expect(saidOff(marks, 'degC', reading)).toBe(words);
  });

  it('is told with the unit where a number is printed, whichever way the marks run', () => {
    const fuel = [
      { label: '100', reading: 100 },
      { label: '0', reading: 0 },
    ];
    expect(saidOff(fuel, '%', 117)).toBe('above 100 %, on the high stop');
  });

  it('never has a number in the failure table', () => {
    const dial = dialFromMarks(marks);
    if (dial.kind === 'refused') throw new Error(dial.code);
    // A stabilised bimetal of 58 ohm: deflection as the heat in its winding. Source: Ohm's and Joule's laws.
    const arc = (ohm: number): number => 3 * (58 / (58 + ohm)) ** 2;
    const readings = [420, 300, 200, 130, 90, 60, 45].map((resistanceOhm) => ({
      resistanceOhm,
      reading: 40 + 80 * arc(resistanceOhm),
    }));
    const curve = fitCurve(readings, { dial, mechanism: 'thermal', quantity: 'temperature', unit: 'degC' });
    if (curve.kind === 'refused') throw new Error(curve.code);
    const sender = fitSender(
      NTC_POINTS.map(([value, resistanceOhm]) => ({ value, resistanceOhm })),
      { unit: 'degC' },
    );
    if (sender.kind === 'refused') throw new Error(sender.code);
    const response = senderResponse(sender);
    if ('code' in response) throw new Error(response.code);
    const found = trim(gaugeResponse(curve), response, { maxParts: 2, mechanism: 'thermal' });
    if (found.kind === 'refused') throw new Error(found.code);
    const failures = found.candidates.flatMap((candidate) => candidate.failures);
    const isOff = (reading: number): boolean => offScale(marks, reading) !== undefined;
    const gone = failures.filter((each) => isOff(each.indicatedAtFrom) && isOff(each.indicatedAtTo));
    expect(gone.length).toBeGreaterThan(0);
    for (const { needle } of failures)
      if (needle.does === 'stays' && typeof needle.at === 'number') expect(isOff(needle.at)).toBe(false);
    for (const { needle } of gone) expect(needleWords(needle, 'degC', plain)).toMatch(/below C|above H/);
  });
});
