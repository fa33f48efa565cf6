import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SaidUnits } from '../../../host/core/text/columns';
import { MOST_TABLE_BYTES, textOfFile } from '../../../host/core/text/file-text';
import { numberList } from '../../../host/core/text/number';
import { senderTable, type SenderTable } from '../../../host/core/text/sender-table';

/** As the page reads what is pasted for a sender in degC. */
const pasted = (text: string, said: SaidUnits = {}): SenderTable => {
  const read = senderTable(text, { said, headless: true });
  if (read.kind !== 'sender-table') throw new Error(`${read.code}: ${read.message}`);
  return read;
};
const pairs = (text: string) => pasted(text).points.map(({ value, resistanceOhm }) => [value, resistanceOhm]);

describe('a pasted table', () => {
  it.each([
    [
      'tabs from a spreadsheet',
      '40\t1 200\n60\t500',
      [
        [40, 1200],
        [60, 500],
      ],
    ],
    [
      'semicolons and decimal commas',
      '40,5;1200\n60;500,25',
      [
        [40.5, 1200],
        [60, 500.25],
      ],
    ],
    [
      'commas',
      '40,1200\n60,500',
      [
        [40, 1200],
        [60, 500],
      ],
    ],
    [
      'commas with spaces',
      '40, 1200\n60, 500',
      [
        [40, 1200],
        [60, 500],
      ],
    ],
    [
      'spaces in columns',
      ' 40   1k2\n 60   500R',
      [
        [40, 1200],
        [60, 500],
      ],
    ],
    ['a heading', 'temperature_C;resistance_ohm\n40;1200', [[40, 1200]]],
    ['a heading with the resistance first', 'Resistance (ohm)\tdegC\n1200\t40', [[40, 1200]]],
    ['blank lines and remarks', '# bench 2\n\n40 1200 # stirred\n', [[40, 1200]]],
    [
      'line ends of another system',
      '40\t1200\r\n60\t500\r\n',
      [
        [40, 1200],
        [60, 500],
      ],
    ],
  ])('is understood with %s', (_what, text, expected) => {
    expect(pairs(text)).toEqual(expected);
    expect(pasted(text).problems).toEqual([]);
  });

  it('names the row that is wrong and keeps the others', () => {
    const { points, problems } = pasted('40;1200\nforty;500\n80\n100;-5\n120;50');
    expect(points.map((point) => point.row)).toEqual([1, 5]);
    expect(problems.map((problem) => problem.row)).toEqual([2, 3, 4]);
    expect(problems[0]?.message).toContain('forty');
  });
});

describe('a drawer of resistors', () => {
  it('is read in any usual way of writing it', () => {
    expect(numberList('10, 22; 4R7 1k2')).toEqual({ numbers: [10, 22, 4.7, 1200], wrong: [] });
    expect(numberList('')).toEqual({ numbers: [], wrong: [] });
  });

  it('names what it did not understand', () => {
    expect(numberList('10, ten')).toEqual({ numbers: [10], wrong: ['ten'] });
  });
});

const aLine = fc.oneof(
  fc
    .tuple(fc.integer({ min: -50, max: 500 }), fc.integer({ min: 0, max: 9_999 }))
    .map((pair) => pair.join(';')),
  fc.constantFrom(
    '',
    '# remark',
    'forty;500',
    '80',
    '1;2;3',
    ';;',
    '100;-5',
    '"1,5";"2,5"',
    '40 \u00b0C;1k2',
  ),
);

describe('a table from a file', () => {
  it('drops no line without a word: each is a point, or is told with its row and kept to be mended', () => {
    fc.assert(
      fc.property(fc.array(aLine, { maxLength: 40 }), (lines) => {
        const ohm = { resistance: 'ohm' };
        const { points, problems, rest } = pasted(['value;ohm', ...lines].join('\n'), ohm);
        const told = [...points, ...problems].map((each) => each.row).sort((one, other) => one - other);
        const meant = lines.flatMap((line, index) =>
          line.replace(/#.*/, '').replace(/;/g, '').trim() === '' ? [] : [index + 2],
        );
        expect(told).toEqual(meant);
        expect(rest).toBe(
          problems.length === 0 ? '' : ['value;ohm', ...problems.map((each) => each.text)].join('\n'),
        );
        if (rest === '') return;
        // What is left is no more and no less wrong than it was.
        expect(pasted(rest).points).toEqual([]);
        expect(pasted(rest).problems.map((each) => each.message)).toEqual(
          problems.map((each) => each.message),
        );
      }),
    );
  });

  it('finds its columns and its unit by the heading', () => {
    const text = 'No.\tT (\u00b0F)\tR (k\u03a9)\n1\t104\t1.2\n2\t140\t0.5';
    expect(pasted(text)).toMatchObject({ unit: 'degF', problems: [], rest: '' });
    expect(pairs(text)).toEqual([
      [104, 1200],
      [140, 500],
    ]);
    expect(pasted('pressure_bar;ohm\n1;10').unit).toBe('bar');
    expect(pasted('fuel (US gal);ohm\n1;10').unit).toBe('US gal');
    expect(pasted('value;ohm\n1;10').unit).toBeUndefined();
  });

  it('takes units behind figures and quotes around them', () => {
    expect(pairs('40 \u00b0C 1200 ohm\n60 degC, 500 \u03a9')).toEqual([
      [40, 1200],
      [60, 500],
    ]);
    expect(pairs('"40","1.2 k\u03a9"\n"60","1.5 k\u03a9"')).toEqual([
      [40, 1200],
      [60, 1500],
    ]);
  });

  it.each([
    ['temperature_K;u_temperature_K;ohm\n313.15;0.5;1200', 40, 0.5],
    ['temperature_C;u_temperature_F;ohm\n40;0.9;1200', 40, 0.5],
    ['temperature_F;u_temperature_C;ohm\n104;0.5;1200', 104, 0.9],
    ['level_percent;u_level_fraction;ohm\n50;0.02;1200', 50, 2],
  ])('takes an uncertainty for a difference in the unit of its value: %j', (text, value, uncertainty) => {
    // Source: NIST SP 811, B.8: an interval of 1 K is one of 1 degC and of 1.8 degF.
    const [point] = pasted(text).points;
    expect(point?.value).toBeCloseTo(value, 9);
    expect(point?.valueUncertainty).toBeCloseTo(uncertainty, 9);
  });

  it('guesses no column where there are three and no heading', () => {
    expect(() => pasted('40,5,1200')).toThrow(/3 figures and no heading/);
  });

  it('names the column that is wrong, and takes long tables whole', () => {
    expect(pasted('value;ohm\n40;x').problems[0]).toMatchObject({ row: 2, column: 'ohm' });
    const many = pasted(Array.from({ length: 3000 }, (_, index) => `${index};50`).join('\n'));
    expect(many.points.length).toBe(3000);
  });
});

describe('the text of a file', () => {
  const text = 'Temp \u00b0C;Ohm\n40;1200\n';
  const sixteen = (littleEndian: boolean, mark: boolean): Uint8Array => {
    const codes = [...(mark ? '\ufeff' : ''), ...text].map((character) => character.charCodeAt(0));
    return Uint8Array.from(
      codes.flatMap((code) => (littleEndian ? [code & 255, code >> 8] : [code >> 8, code & 255])),
    );
  };
  it.each([
    ['UTF-8', new TextEncoder().encode(text)],
    ['UTF-8 with its mark', new TextEncoder().encode(`\ufeff${text}`)],
    ['UTF-16, low byte first', sixteen(true, true)],
    ['UTF-16, high byte first', sixteen(false, true)],
    ['UTF-16 without its mark', sixteen(true, false)],
    ['Latin-1', Uint8Array.from([...text].map((character) => character.charCodeAt(0)))],
  ])('is read from %s', (_name, bytes) => {
    expect(textOfFile(bytes, TextDecoder, MOST_TABLE_BYTES)).toMatchObject({ kind: 'text', text });
  });

  it.each([
    ['FILE_EMPTY', Uint8Array.of()],
    ['FILE_TOO_LARGE', new Uint8Array(MOST_TABLE_BYTES + 1).fill(49)],
    ['FILE_NOT_TEXT', Uint8Array.of(0x50, 0x4b, 3, 4)],
    ['FILE_NOT_TEXT', Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, 0xa1)],
    ['FILE_NOT_TEXT', new TextEncoder().encode('%PDF-1.7')],
    ['FILE_NOT_TEXT', Uint8Array.of(65, 0, 0, 0, 66, 67)],
  ])('is refused with %s where it is none', (code, bytes) => {
    expect(textOfFile(bytes, TextDecoder, MOST_TABLE_BYTES)).toMatchObject({ kind: 'refused', code });
  });
});
