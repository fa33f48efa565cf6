import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { curvesOfText, type CurveText } from '../../../host/core/text/several-curves';

const curvesIn = (text: string): readonly CurveText[] => {
  const found = curvesOfText(text);
  if ('kind' in found) throw new Error(found.message);
  return found;
};

describe('the curves of a text', () => {
  it.each([
    ['one table', 'ohm,reading\n10,1\n20,2\n'],
    ['one without a heading', '10 1\n20 2\n'],
    ['one with remarks and blank lines', '# a, b\nohm,reading\n10,1\n\n20,2\n\n# c, d\n30,3\n'],
    ['nothing', ''],
  ])('of %s is the text itself', (_, text) => {
    expect(curvesOfText(text)).toEqual([{ name: undefined, text }]);
  });

  it('stand on the lines where they stood', () => {
    const text = 'First\nohm,reading\n10,1\n20,2\n\nSecond one\nohm,reading\n30,3\n';
    const [first, second] = curvesIn(text);
    expect(first).toEqual({ name: 'First', text: '\nohm,reading\n10,1\n20,2\n\n\n\n\n' });
    expect(second?.name).toBe('Second one');
    expect(second?.text.split('\n').slice(6, 8)).toEqual(['ohm,reading', '30,3']);
    expect(second?.text.split('\n').slice(0, 6).join('')).toBe('');
  });

  it('are told apart by a column, which goes', () => {
    const found = curvesOfText('Specimen;ohm;reading\n"a ""b""";10;1\nc;20;2\n"a ""b""";30;3');
    expect(found).toEqual([
      { name: 'a "b"', text: 'ohm;reading\n10;1\n\n30;3' },
      { name: 'c', text: 'ohm;reading\n\n20;2' },
    ]);
  });

  it('hold every row once, however the tables are mixed', () => {
    const one = fc.array(fc.integer({ min: 1, max: 999 }), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(fc.array(one, { minLength: 1, maxLength: 4 }), (tables) => {
        const text = tables
          .map((ohms) => ['ohm,reading', ...ohms.map((ohm) => `${ohm},5`)].join('\n'))
          .join('\n\n');
        const found = curvesIn(text).map(({ text: own }) =>
          own.split('\n').filter((line) => /^\d/.test(line)),
        );
        expect(found).toEqual(tables.map((ohms) => ohms.map((ohm) => `${ohm},5`)));
      }),
    );
  });

  it.each([
    [
      'curves below each other',
      Array.from({ length: 501 }, (_, i) => `ohm,reading\n${i + 1},${i}\n\n`).join(''),
      /501 curves; at most 500/,
    ],
    [
      'parts that a column tells apart',
      ['part,ohm,reading', ...Array.from({ length: 501 }, (_, i) => `p${i},${i + 1},${i}`)].join('\n'),
      /501 curves; at most 500/,
    ],
    ['lines', `ohm,reading\n${'10,20\n'.repeat(50_001)}`, /more than 50000 lines/],
    ['characters on one line', `ohm,reading\n${'1,'.repeat(25 * 2 ** 20)}`, /50 million characters/],
  ])('are refused before any is read where there are too many %s: TABLE_TOO_LONG', (_, text, why) => {
    const found = curvesOfText(text);
    expect(found).toMatchObject({ kind: 'refused', code: 'TABLE_TOO_LONG' });
    expect('kind' in found ? found.message : '').toMatch(why);
  });
});
