import type { Gauge } from '../../job/schema/gauge';
import { SUBJECT_WORDS, RULE_WORDS, moreOnSheetTwo, pairsWords } from '../../words/record';
import { printed } from '../../words/notation';
import type { Pictures } from '../model/pictures';
import type { RecordModel } from '../model/record-model';
import type { CircuitQuestion } from '../../scene/circuit-layout';
import { heading, nameBlock, paragraph, space, stacked, type Block, type Section } from '../paper/block';
import { boxPath, INK, moved, rule, textAt, type Item } from '../paper/items';
import type { Letters } from '../paper/letters';
import { tableSection, type Table } from '../paper/table';
import { circuitBlock } from '../plots/circuit';
import { errorPlot, ohmsPlot } from '../plots/plots';
import { marksTable, pairFigures, failuresTable, waysTable } from './tables';
import { BAND_HEIGHT, SHEET, simulatedBand } from './frame';
import { signItems } from './sign';
import { titleBlock } from './title-block';

const WIDTH = SHEET.right - SHEET.left;
const GAP = 22;
const COLUMN = (WIDTH - GAP) / 2;

type Sheet = {
  readonly letters: Letters;
  readonly model: RecordModel;
  readonly pictures: Pictures;
  readonly gauge: Gauge;
};

/** `hasFailures`: what a failed part does stands here and need not stand again; `hasCircuit` likewise. */
export type SheetOne = {
  readonly items: readonly Item[];
  readonly hasFailures: boolean;
  readonly hasCircuit: boolean;
};

/** The sheet for the customer: what was found, in which vehicle, by whom, and what to look out for. */
export function sheetOne(sheet: Sheet): SheetOne {
  const { letters, model } = sheet;
  const items: Item[] = [];
  let y: number = SHEET.top;
  const put = (block: Block, gap: number): void => {
    items.push(moved(SHEET.left, y, block.items));
    y += block.height + gap;
  };
  if (model.simulated) {
    items.push(...simulatedBand(y));
    y += BAND_HEIGHT + 8;
  }
  put(headOf(letters, model), 8);
  put(titleBlock(letters, cellRows(model), WIDTH), 12);
  put(verdictBlock(letters, model), 12);
  const foot = footBlock(letters, RULE_WORDS[model.rule]);
  const warnings = warningBlock(letters, model);
  const footTop = SHEET.bottom - foot.height;
  const warningsTop = footTop - warnings.height - (warnings.height > 0 ? 6 : 0);
  const middle = middleBlock(sheet, warningsTop - y - 8);
  put(middle.block, 0);
  items.push(moved(SHEET.left, warningsTop, warnings.items), moved(SHEET.left, footTop, foot.items));
  return { items, hasFailures: middle.hasFailures, hasCircuit: middle.hasCircuit };
}

function headOf(letters: Letters, model: RecordModel): Block {
  const half = WIDTH * 0.56;
  const shop = stacked([
    nameBlock(letters, model.shop ?? 'Shop:', half, 19),
    paragraph(letters, { text: model.title, width: half, size: 12, colour: INK.soft }),
  ]);
  const right = stacked([
    paragraph(letters, {
      text: 'Record of measurement',
      width: WIDTH - half - 10,
      size: 19,
      font: 'engraved',
      anchor: 'end',
    }),
    paragraph(letters, {
      text: SUBJECT_WORDS[model.quantity] ?? '',
      width: WIDTH - half - 10,
      size: 12,
      colour: INK.soft,
      anchor: 'end',
    }),
  ]);
  return {
    height: Math.max(shop.height, right.height),
    items: [moved(0, 0, shop.items), moved(half + 10, 0, right.items)],
  };
}

const WIDE = 2.1;
const cellRows = ({ particulars }: RecordModel) => {
  const cell = (name: string, parts: number) => ({
    name,
    parts,
    value: particulars.find((each) => each.name === name)?.value ?? '',
  });
  return [
    [cell('Customer', WIDE), cell('Vehicle', WIDE), cell('Registration', 1), cell('Odometer', 1)],
    [
      cell('Gauge', WIDE),
      cell('Gauge serial', 1.1),
      cell('Sender', 1.1),
      cell('Technician', 1),
      cell('Date of work', 1),
    ],
  ];
};

const SIGN_ROOM = 62;

function verdictBlock(letters: Letters, { found }: RecordModel): Block {
  const width = WIDTH - SIGN_ROOM;
  const said = stacked(
    [
      paragraph(letters, { text: found.sentence, width, size: 23, font: 'engraved' }),
      paragraph(letters, { text: found.more.join(' '), width, size: 12.5, colour: INK.soft }),
    ],
    2,
  );
  return {
    height: Math.max(46, said.height),
    items: [...signItems(found.sign, 25, 25, 21), moved(SIGN_ROOM, 0, said.items)],
  };
}

const LEAST_PLOT = 130;
const MOST_PLOT = 250;
/** Where nothing stands below it. */
const ALONE_PLOT = 330;

/** Two columns: the pictures above, circuit and pairs below; each plot as high as the sheet allows. */
function middleBlock(sheet: Sheet, height: number): Omit<SheetOne, 'items'> & { readonly block: Block } {
  const { letters, pictures, model } = sheet;
  const below = circuitPart(sheet);
  let isCircuitIn = true;
  const left = (plot: number): Block[] => [
    ...(pictures.ohms === undefined
      ? []
      : [
          stacked([
            heading(letters, pictures.ohms.title, COLUMN),
            space(3),
            ohmsPlot(letters, pictures.ohms.question, { width: COLUMN, height: plot }),
          ]),
        ]),
    ...(isCircuitIn ? below : []),
  ];
  const right = (plot: number): Block[] => [
    ...(pictures.errors === undefined
      ? []
      : [
          stacked([
            heading(
              letters,
              `Error of the reading, ${model.unit === '' ? 'as the dial shows it' : model.unit}`,
              COLUMN,
            ),
            space(3),
            errorPlot(letters, pictures.errors, model.unit, { width: COLUMN, height: plot }),
          ]),
        ]),
  ];
  const highest = (most: number): number => {
    let plot = most;
    while (
      plot > LEAST_PLOT &&
      Math.max(stacked(left(plot), 12).height, stacked(right(plot), 12).height) > height
    )
      plot -= 10;
    return plot;
  };
  let plot = highest(below.length === 0 ? ALONE_PLOT : MOST_PLOT);
  // Where long names take the room, the parts are named in the sentence above, and the circuit stands on the next sheet.
  isCircuitIn = stacked(left(plot), 12).height <= height;
  if (!isCircuitIn) plot = highest(MOST_PLOT);
  const [first, second] = [stacked(left(plot), 12), stacked(right(plot), 12)];
  const over = second.height > 0 ? [second] : [];
  const roomUnder = (blocks: readonly Block[]): number => height - stacked(blocks, 12).height - 12;
  const tables = rightTables(sheet, over.length === 0 ? height : roomUnder(over));
  const told = [...over, ...(tables.height > 0 ? [tables] : [])];
  const failures = wholeTable(letters, failuresTable({ model, gauge: sheet.gauge }));
  const hasFailures = model.failures.length > 0 && failures.height <= roomUnder(told);
  const other = stacked([...told, ...(hasFailures ? [failures] : [])], 12);
  return {
    block: {
      height: Math.max(first.height, other.height),
      items: [moved(0, 0, first.items), moved(COLUMN + GAP, 0, other.items)],
    },
    hasFailures,
    hasCircuit: isCircuitIn,
  };
}

function circuitPart({ letters, pictures, model, gauge }: Sheet): Block[] {
  if (pictures.circuit === undefined)
    return model.ways.length === 0 ? [] : [wholeTable(letters, waysTable({ model }))];
  const { head, rows } = circuitSection({ letters, model, gauge, circuit: pictures.circuit }, COLUMN);
  return [stacked([head, ...rows], 4)];
}

type Drawn = Pick<Sheet, 'letters' | 'model' | 'gauge'> & { readonly circuit: CircuitQuestion };

/** What is fitted, or was chosen, with its parts named below: never torn. */
export function circuitSection({ letters, model, gauge, circuit }: Drawn, width: number): Section {
  const title = model.fitted === undefined ? 'Circuit as chosen' : 'Circuit as left';
  const parts =
    model.parts.length === 0
      ? 'Sender straight to the gauge: no part was added.'
      : `${model.parts.join('; ')}. Behind the dash, insulated, labelled.`;
  const head = heading(letters, title, width);
  return {
    ...{ head, again: head, isWhole: true },
    rows: [
      circuitBlock(circuit, gauge.quantity, width),
      paragraph(letters, { text: parts, width, size: 11.5, colour: INK.soft }),
    ],
  };
}

const wholeTable = (letters: Letters, table: Table): Block => {
  const section = tableSection(letters, table, COLUMN);
  return stacked([section.head, ...section.rows]);
};

/** As many rows as there is room for, the ones that matter first; what is left stands on the next sheet. */
function rightTables({ letters, model, gauge }: Sheet, height: number): Block {
  const pairs = pairFigures({ model, gauge });
  const table: Table = pairs ?? marksTable({ model, gauge });
  if (table.rows.length === 0) return space(0);
  const note = pairs === undefined ? undefined : noteUnder(model);
  return fitted(letters, table, note, height);
}

const NOTE_SIZE = 10.5;

function noteUnder({ pairs, unit }: RecordModel): string {
  const expanded = pairs.flatMap(({ expandedUncertainty: each, struckBecause }) =>
    each === undefined || struckBecause !== undefined ? [] : [each],
  );
  return pairsWords(unit, expanded, printed);
}

function fitted(letters: Letters, table: Table, note: string | undefined, height: number): Block {
  const said = (text: string): Block =>
    paragraph(letters, { text, width: COLUMN, size: NOTE_SIZE, colour: INK.soft });
  const under = note === undefined ? [] : [space(3), said(note)];
  const whole = tableSection(letters, table, COLUMN);
  const of = (rows: readonly Block[], more: readonly Block[]): Block =>
    stacked([whole.head, ...rows, ...under, ...more]);
  for (let count = whole.rows.length; count > 0; count -= 1) {
    const left = whole.rows.length - count;
    const block = of(whole.rows.slice(0, count), left === 0 ? [] : [said(moreOnSheetTwo(left, 'row'))]);
    if (block.height <= height) return block;
  }
  return height >= 30 ? said(moreOnSheetTwo(table.rows.length, 'row')) : space(0);
}

const MOST_DANGERS = 3;

function warningBlock(letters: Letters, { found: { dangers } }: RecordModel): Block {
  if (dangers.length === 0) return space(0);
  const told = dangers.slice(0, MOST_DANGERS);
  const left = dangers.length - told.length;
  const text = [
    ...told,
    ...(left === 0 ? [] : [moreOnSheetTwo(left, 'failure')]),
    'Keep the warning lamp.',
  ].join(' ');
  const words = paragraph(letters, { text, width: WIDTH - 58, size: 12 });
  const height = Math.max(36, words.height + 14);
  return {
    height,
    items: [
      { kind: 'path', d: boxPath({ x: 0, y: 0, width: WIDTH, height }), stroke: INK.ink, width: 1.3 },
      ...signItems('danger', 24, height / 2, 10),
      moved(46, (height - words.height) / 2, words.items),
    ],
  };
}

/** Who signs, and by which rule it was judged. */
function footBlock(letters: Letters, ruleWords: string): Block {
  const lines: readonly (readonly [string, number, number])[] = [
    ['Technician', 0, 145],
    ['Customer, received', 163, 145],
    ['Date', 326, 84],
  ];
  const rules = paragraph(letters, {
    text: `Rule. ${ruleWords}`,
    width: WIDTH - 432,
    size: 9.5,
    colour: INK.soft,
  });
  return {
    height: 62,
    items: [
      ...lines.flatMap(([name, x, width]): Item[] => [
        rule([x, 42], width, 0.9),
        textAt(x, 55, name, { size: 10, colour: INK.soft }),
      ]),
      moved(432, 62 - rules.height, rules.items),
    ],
  };
}
