import { describe, expect, it } from 'vitest';
import { typedOhms } from '../../../host/core/by-hand';
import { partList } from '../../../host/core/text/part-list';

describe('a resistance as a person measured it', () => {
  it('has the leads taken off, and limit, offset and last digit as GUM combines rectangles', () => {
    // 0.8 % of 148.5 and 0.3 ohm between limits, 0.1 ohm steps: sqrt((1.188^2 + 0.3^2) / 3 + 0.1^2 / 12).
    const { resistanceOhm, uncertaintyOhm } = typedOhms({ shownOhm: 148.5, leadsOhm: 0.3 });
    expect(resistanceOhm).toBe(148.2);
    expect(uncertaintyOhm).toBeCloseTo(Math.sqrt((1.188 ** 2 + 0.3 ** 2) / 3 + 0.01 / 12), 9);
  });

  it('is as good as its meter', () => {
    expect(typedOhms({ shownOhm: 100.5 }, { percent: 0.1, ohm: 0 }).uncertaintyOhm).toBeLessThan(0.07);
  });
});

describe('a list of parts', () => {
  it('is read as people write it', () => {
    expect(partList('150\n2 x 220 1W; 4k7 1/4W\n# the drawer by the door\n3\u00d7 33, 0.5 W')).toEqual({
      kind: 'parts',
      parts: [
        { resistanceOhm: 150, count: 1 },
        { resistanceOhm: 220, ratingWatt: 1, count: 2 },
        { resistanceOhm: 4_700, ratingWatt: 0.25, count: 1 },
        { resistanceOhm: 33, ratingWatt: 0.5, count: 3 },
      ],
    });
  });

  it('counts the same part written twice', () => {
    expect(partList('100 1W\n100 1W')).toMatchObject({
      parts: [{ resistanceOhm: 100, ratingWatt: 1, count: 2 }],
    });
  });

  it.each([
    ['', 'no resistor'],
    ['150\nred one', 'line 2: "red one"'],
    ['0', 'line 1: "0" is no resistor'],
    ['0 x 150', 'counts no part'],
    ['1,200', 'is no resistance'],
    ['150 0W', 'watts that are no number'],
  ])('refuses %j and says where', (text, says) => {
    const read = partList(text);
    expect(read).toMatchObject({ kind: 'refused', code: 'PARTS_NOT_UNDERSTOOD' });
    expect(JSON.stringify(read)).toContain(JSON.stringify(says).slice(1, -1));
  });
});
