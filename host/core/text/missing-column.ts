import type { Columns, Stem, TableProblem } from './columns';
import { nearest } from './nearest';
import { unknownUnitHint } from './unknown-unit';

/** What the column of a dial's readings may be called. */
const READING_NAMES =
  'what the needle shows stands under reading, needle, gauge or indicated, with its unit behind, for example reading_C, reading_psi or reading_fraction';

/** What is said of a table without a column: the columns it has, and which was likely meant. */
export function missingColumn({ heading }: Columns, stem: Stem, properName: string): TableProblem {
  const titles = heading.cells.map(({ text }) => text).filter((text) => text !== '');
  const near = nearest(properName, titles);
  const rename = near === undefined ? '' : `; rename "${near}" if that is what it means`;
  const allowed = stem === 'reading' ? `; ${READING_NAMES}` : '';
  const hint = `${unknownUnitHint(titles) || rename}${allowed}`;
  return {
    kind: 'problem',
    code: 'TABLE_NO_HEADING',
    message: `there is no column ${properName}; the columns are ${titles.map((title) => `"${title}"`).join(', ')}${hint}`,
    row: heading.row,
  };
}
