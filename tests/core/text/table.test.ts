import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tableFromText } from '../../../host/core/text/table';
import { anyText } from '../../support/any-text';

const split = (text: string) => {
  const table = tableFromText(text);
  if (table.kind === 'refused') throw new Error(`${table.code} row ${table.row}: ${table.message}`);
  return table;
};

const cells = (text: string): string[][] => {
  const { heading, rows } = split(text);
  return (heading === undefined ? rows : [heading, ...rows]).map((row) => row.cells.map((cell) => cell.text));
};

describe('splitting a CSV text', () => {
  it.each([
    ['commas', 'a,b\n1,2\n'],
    ['semicolons', 'a;b\n1;2\n'],
    ['tabs', 'a\tb\n1\t2\n'],
    ['a byte order mark', '\ufeffa,b\n1,2\n'],
    ['carriage returns and line feeds', 'a,b\r\n1,2\r\n'],
    ['carriage returns alone', 'a,b\r1,2\r'],
    ['no line end at the end', 'a,b\n1,2'],
    ['comments and blank lines', '# made by hand\n\na,b\n  # more\n1,2\n\n'],
    ['quotes', '"a","b"\n"1","2"\n'],
    ['spaces around', ' a , b \n 1 , "2" \n'],
    ['rows of separators only', 'a,b\n,\n1,2\n,\n'],
  ])('understands %s', (_, text) => {
    expect(cells(text)).toEqual([
      ['a', 'b'],
      ['1', '2'],
    ]);
  });

  it('keeps separators, quotes and line ends that stand inside quotes', () => {
    expect(cells('a,b\n"1,5","say ""hot""\nthen"\n')[1]).toEqual(['1,5', 'say "hot"\nthen']);
  });

  it('counts rows as lines of the file, comments, blanks and quoted line ends included', () => {
    const { rows } = split('# c\r\na,b\r\n\r\n"x\r\ny",1\r\n3,4\r\n');
    expect(rows.map(({ row }) => row)).toEqual([4, 6]);
  });

  it('takes the separator of the header row, whatever the cells hold', () => {
    expect(cells('a;b\n1,5;2,5')[1]).toEqual(['1,5', '2,5']);
  });

  it.each([
    ['', 'the file is empty'],
    ['# only a comment\n', 'the file is empty'],
    ['a,b\n"1,2\n3,4\n', 'row 2: a quote is opened and never closed'],
  ])('refuses %j', (text, why) => {
    expect(() => split(text)).toThrow(why);
  });

  it('gives back every cell of a table, however it is written', () => {
    const cell = fc.string({ maxLength: 12 }).map((text) => text.replace(/[\r\n]/g, ' ').trim());
    const table = fc.tuple(
      fc.constantFrom(',', ';', '\t'),
      fc.constantFrom('\n', '\r\n'),
      fc.array(fc.tuple(cell, cell), { minLength: 1, maxLength: 8 }),
    );
    fc.assert(
      fc.property(table, ([separator, end, rows]) => {
        const quoted = rows.map((row) =>
          row.map((text) => `"${text.replaceAll('"', '""')}"`).join(separator),
        );
        const filled = rows.filter((row) => row.some((text) => text !== ''));
        const text = [`first${separator}second`, ...quoted].join(end);
        expect(cells(text).slice(1)).toEqual(filled.map((row) => [...row]));
      }),
    );
  });

  it('takes what a spreadsheet writes for an error as a cell, not as a remark that hides the row', () => {
    const text = 'a,b\n#REF!,1\n#N/A,2\n#DIV/0!,3\n# 4,4\n#WERT!;x,5\n#REF to the shop\n#1 of 2\n';
    expect(cells(text).map(([first]) => first)).toEqual(['a', '#REF!', '#N/A', '#DIV/0!', '#WERT!;x']);
  });

  it('refuses more rows than a fit can take, naming the first one too many', () => {
    const text = (rows: number): string => `a,b\n${'1,2\n'.repeat(rows)}`;
    expect(cells(text(10_000))).toHaveLength(10_001);
    expect(() => cells(text(10_001))).toThrow(
      'TABLE_TOO_LONG row 10002: there are 10001 rows; at most 10000',
    );
  });

  it('ends with a table or a refusal on any text at all, never otherwise', () => {
    fc.assert(
      fc.property(anyText(200), (text) => {
        expect(['table', 'refused']).toContain(tableFromText(text).kind);
      }),
    );
  });
});
