import { honestEmpty, type HonestEmpty } from '../../core/strap/honest-empty';
import { strapOf, type Strap, type StrapRow, type StrapStep } from '../../core/strap/strap';
import { plain } from '../../words/notation';
import { STRAP_CAUTIONS } from '../../words/strap';
import { JSON_OPTION, type Command, type Report, type Surroundings } from '../command';
import {
  cellOf,
  CellReader,
  finish,
  optionalColumn,
  recogniseColumns,
  requireColumn,
} from '../input/columns';
import { readGrid } from '../input/input-file';
import { InputError, refusedError } from '../input-error';
import type { Arguments } from '../options';
import type { AnswerOf } from '../output/schemas';
import { textTable } from '../output/text-table';

const LITRE = { kind: 'number', value: 'L', min: 0, max: 1000 } as const;
const USUAL_DIVISION = 2;
const USUAL_PUMP_PERCENT = 0.5;
const USUAL_LITRE = 0.1;
const COVERAGE_FACTOR = 2;

/** Litres against the needle, and where E may honestly stand. */
export const strapCommand: Command = {
  name: 'strap',
  summary: 'litres against the fuel needle, both ways, and an honest empty',
  usage: 'STEPS.csv --unusable-l L [options]',
  example: 'needlewright strap steps.csv --unusable-l 2.5 --reserve-l 5',
  details: [
    'In: level_l (litres in the tank since honest low), reading, leg (up while filling, down by driving; up when left',
    'out), made (dropout where the needle fell away and came back). Steps of 5 to 10 % of the tank.',
    'Out: a table each way, what was flat or dropped out, and the lowest needle at which the reserve is there with 97.5 %.',
    ...STRAP_CAUTIONS,
  ],
  options: {
    'unusable-l': { ...LITRE, help: 'litres that stay whatever the pump draws; ask the maker\u2019s manual' },
    'closing-l': {
      ...LITRE,
      min: -1000,
      help: 'litres put in less litres taken out between two full tanks; spread over all steps',
    },
    'reserve-l': { ...LITRE, help: 'litres there must be to drive on at E; 5 when left out' },
    chance: {
      kind: 'number',
      value: 'P',
      min: 0,
      max: 1,
      help: 'with this chance or more; 0.975 when left out',
    },
    division: { kind: 'number', value: 'X', min: 0, help: 'smallest division of the dial; 2 when left out' },
    'pump-percent': {
      kind: 'number',
      value: 'PERCENT',
      min: 0,
      max: 10,
      help: '\u00b1 of the pump, 95 %; 0.5 (2014/32/EU, class 0.5) when left out',
    },
    ...JSON_OPTION,
  },
  words: { least: 1, most: 1 },
  run,
};

async function run(given: Arguments, surroundings: Surroundings): Promise<Report> {
  const path = given.words[0] ?? '-';
  const { steps, warnings } = await readSteps(path, surroundings);
  const unusableLitre = given.number('unusable-l');
  if (unusableLitre === undefined)
    throw new InputError('--unusable-l is missing: without it E would count fuel that no pump reaches');
  const strap = strapOf(steps, {
    unusableLitre,
    closingLitre: given.number('closing-l'),
    needleUncertainty: (COVERAGE_FACTOR * (given.number('division') ?? USUAL_DIVISION)) / (2 * Math.sqrt(3)),
    litreUncertainty: USUAL_LITRE,
    litrePart: (given.number('pump-percent') ?? USUAL_PUMP_PERCENT) / 100,
  });
  if (strap.kind === 'refused') throw refusedError(strap, `${path}: `);
  const empty = honestEmpty(strap, given.number('reserve-l') ?? 5, given.number('chance'));
  if (empty.kind === 'refused') throw refusedError(empty);
  return { text: textOf(strap, empty), json: jsonOf(strap, empty, warnings), warnings };
}

/** The steps of a file. Throws InputError with row and column. */
async function readSteps(
  path: string,
  surroundings: Surroundings,
): Promise<{ readonly steps: readonly StrapStep[]; readonly warnings: readonly string[] }> {
  const columns = recogniseColumns(await readGrid(path, surroundings), ['level', 'reading', 'leg', 'when']);
  const litre = requireColumn(path, columns, 'level', 'level_l');
  const needle = requireColumn(path, columns, 'reading', 'reading');
  if (litre.unit?.family !== 'volume')
    throw new InputError(`column "${litre.title}" is no volume; name it level_l`, { file: path });
  const [leg, made] = [optionalColumn(columns, 'leg'), optionalColumn(columns, 'when')];
  const reader = new CellReader(columns);
  const steps = columns.table.rows.map((row): StrapStep => {
    const way = leg === undefined ? '' : cellOf(row, leg).text.trim().toLowerCase();
    if (leg !== undefined && !['', 'up', 'down'].includes(way))
      reader.reject(row, leg, `"${way}" is neither up nor down`);
    const said = made === undefined ? '' : cellOf(row, made).text.trim().toLowerCase();
    if (made !== undefined && !['', 'dropout'].includes(said))
      reader.reject(row, made, `"${said}" is neither dropout nor empty`);
    return {
      litre: reader.number(row, litre, (value) => (value < 0 ? 'it cannot be negative' : undefined)),
      needle: reader.number(row, needle),
      way: way === 'down' ? 'driving' : 'filling',
      isDropout: said === 'dropout',
    };
  });
  finish(path, reader);
  return { steps, warnings: columns.warnings };
}

const tableText = (title: string, rows: readonly StrapRow[]): string[] =>
  rows.length === 0
    ? []
    : [
        '',
        title,
        ...textTable(
          [{ title: 'needle' }, { title: 'litres' }, { title: 'to drive on' }, { title: '\u00b1 (95 %)' }],
          rows.map((row) => [
            plain.number(Number(row.needle.toFixed(2))),
            row.litre.toFixed(1),
            row.usableLitre.toFixed(1),
            (COVERAGE_FACTOR * row.standardUncertainty).toFixed(1),
          ]),
        ),
      ];

const textOf = (strap: Strap, empty: HonestEmpty): string[] => [
  `E is honest at a needle of ${plain.number(Number(empty.needle.toFixed(2)))}: there are ${empty.reserveLitre} l or more to drive on with ${100 * empty.chance} % (most likely ${empty.usableLitre.toFixed(1)} l).`,
  ...(empty.isAtLowest ? ['Nobody read the needle lower: it may be honest lower still.'] : []),
  `${strap.unusableLitre} l stay in the tank whatever the pump draws.`,
  ...(strap.hysteresis === undefined
    ? ['Only one way was read: up and down may differ.']
    : [`Up and down differ by ${plain.number(Number(strap.hysteresis.toFixed(2)))} of the dial at most.`]),
  ...(strap.dropouts.length === 0
    ? []
    : [
        `The needle dropped out at ${strap.dropouts.map(({ litre }) => `${plain.number(litre)} l`).join(', ')}: the track is worn there.`,
      ]),
  ...tableText('Filling:', strap.filling),
  ...tableText('Down by driving:', strap.driving),
];

const rowJson = (row: StrapRow) => ({
  needle: row.needle,
  litre: row.litre,
  usable_litre: row.usableLitre,
  u_litre: row.standardUncertainty,
});

const jsonOf = (strap: Strap, empty: HonestEmpty, warnings: readonly string[]): AnswerOf<'strap'> => ({
  schema: 'needlewright/strap/1',
  kind: 'strap',
  filling: strap.filling.map(rowJson),
  driving: strap.driving.map(rowJson),
  hysteresis: strap.hysteresis ?? null,
  dropouts_l: strap.dropouts.map(({ litre }) => litre),
  unusable_l: strap.unusableLitre,
  honest_empty: {
    needle: empty.needle,
    usable_l: empty.usableLitre,
    reserve_l: empty.reserveLitre,
    chance: empty.chance,
    at_lowest: empty.isAtLowest,
  },
  warnings: [...warnings],
});
