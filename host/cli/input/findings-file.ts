import {
  isPossible,
  testRow,
  type Measure,
  type Reading,
  type Subject,
  type TestName,
} from '../../core/diagnosis';
import { measuredNumber } from '../../core/text/number';
import { normalName, unitFromText } from '../../core/units';
import type { Surroundings } from '../command';
import { InputError } from '../input-error';
import { testFrom } from './check-options';
import { readGrid } from './input-file';

/** Units that a measure may be written in, and what one of them is in its own. */
const UNITS: Readonly<Record<Measure, Readonly<Record<string, number>>>> = {
  place: { '%': 0.01 },
  step: { '%': 0.01 },
  volt: { V: 1, mV: 0.001 },
  millivolt: { mV: 1, V: 1000 },
  ohm: { ohm: 1, kohm: 1e3, Mohm: 1e6 },
  chance: {},
};

/** As people write that nothing conducts. */
const OPEN_WORDS = ['open', 'ol', 'o.l.', 'inf', 'infinite'];
const OPEN_OHM = 1e6;
const YES = ['yes', 'y', '1', 'true'];
const NO = ['no', 'n', '0', 'false'];

/** Values that no vehicle has: most likely another unit. Common practice, no source. */
const LIMITS: Readonly<Record<Measure, readonly [number, number]>> = {
  ...{ place: [-0.3, 1.3], step: [-1.3, 1.3], volt: [-32, 32], millivolt: [-16_000, 16_000] },
  ...{ ohm: [0, 1e9], chance: [0, 1] },
};

type Place = { readonly file: string; readonly row: number; readonly column: string };

/**
 * What was measured so far: a table with test, value and unit, in the order it was done. Throws InputError with file, row
 * and column for a test, a value or a unit that cannot be used.
 */
export async function readFindings(
  path: string,
  subject: Subject,
  surroundings: Surroundings,
): Promise<readonly Reading[]> {
  const { file, table } = await readGrid(path, surroundings);
  const heading = table.heading?.cells.map(({ text }) => normalName(text));
  if (heading === undefined)
    throw new InputError('the header row is missing; the first line is test,value,unit', { file, row: 1 });
  const column = (name: string): number => heading.indexOf(name);
  for (const name of ['test', 'value'])
    if (column(name) < 0)
      throw new InputError(`there is no column ${name}; the first line is test,value,unit`, {
        ...{ file, row: table.heading?.row },
      });
  return table.rows.map(({ row, cells }) => {
    const cell = (name: string): string => cells[column(name)]?.text.trim() ?? '';
    const test = testAt(cell('test'), subject, { file, row, column: 'test' });
    const place = { file, row, column: 'value' };
    return { test, value: valueAt(test, cell('value'), cell('unit'), place) };
  });
}

function testAt(text: string, { family, way }: Subject, place: Place): TestName {
  try {
    const test = testFrom(text, 'test');
    if (isPossible(test, family, way)) return test;
  } catch (error) {
    throw error instanceof InputError ? new InputError(error.why, place) : error;
  }
  throw new InputError(
    `${text} cannot be done on this gauge in this way; leave it out or change --way`,
    place,
  );
}

function valueAt(test: TestName, text: string, unitText: string, place: Place): number {
  const { measure } = testRow(test);
  const word = text.toLowerCase();
  if (measure === 'chance') {
    if (YES.includes(word)) return 1;
    if (NO.includes(word)) return 0;
    throw new InputError(`"${text}": ${test} is answered yes or no`, place);
  }
  if (measure === 'ohm' && OPEN_WORDS.includes(word)) return OPEN_OHM;
  const read = measuredNumber(text);
  if (read.kind === 'refused') throw new InputError(read.message, place);
  const value = read.value * factorOf(measure, unitText, read.unit?.name, place);
  const [least, most] = LIMITS[measure];
  if (value < least || value > most)
    throw new InputError(`${text} ${unitText} is more than any vehicle has here: another unit?`, place);
  return value;
}

/** From the unit of the row, or the one behind the figure, to the measure's own. */
function factorOf(measure: Measure, unitText: string, behind: string | undefined, place: Place): number {
  const known = UNITS[measure];
  const allowed = Object.keys(known).join(' or ');
  if (unitText === '' && behind === undefined)
    throw new InputError(`the unit is missing: ${allowed}`, { ...place, column: 'unit' });
  const unit = unitText === '' ? behind : unitFromText(unitText)?.name;
  const factor = unit === undefined ? undefined : known[unit];
  if (factor === undefined)
    throw new InputError(`"${unitText || behind}" does not fit: ${allowed}`, { ...place, column: 'unit' });
  return factor;
}
