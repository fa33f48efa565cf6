import { describe, expect, it } from 'vitest';
import { numberList } from '../../host/web/model/number-list';
import { pastedPoints } from '../../host/web/model/pasted-points';

const pairs = (text: string) =>
  pastedPoints(text).points.map(({ value, resistanceOhm }) => [value, resistanceOhm]);

describe('a pasted table', () => {
  it.each([
    [
      'tabs from a spreadsheet',
      '40\t1,200\n60\t500',
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
    expect(pastedPoints(text).problems).toEqual([]);
  });

  it('names the row that is wrong and keeps the others', () => {
    const { points, problems } = pastedPoints('40;1200\nforty;500\n80\n100;-5\n120;50');
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
