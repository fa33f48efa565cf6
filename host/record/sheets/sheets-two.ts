import { UNCERTAINTY_WORDS } from '../../words/record';
import type { RecordModel } from '../model/record-model';
import { heading, nameBlock, paragraph, space, stacked, type Block, type Section } from '../paper/block';
import { heightOf, twoColumns } from '../paper/columns';
import { INK, moved, textAt, type Item, type Picture } from '../paper/items';
import type { Letters } from '../paper/letters';
import { tableSection } from '../paper/table';
import { BAND_HEIGHT, SHEET, simulatedBand } from './frame';
import { photographsBlock } from './photographs';
import {
  allPairsTable,
  budgetTable,
  checksTable,
  failuresTable,
  marksTable,
  readingsTable,
  sendersTables,
  waysTable,
  whatIfTable,
  type Written,
} from './tables';
import { titleBlock } from './title-block';

const WIDTH = SHEET.right - SHEET.left;
const GAP = 22;
const COLUMN = (WIDTH - GAP) / 2;
const HEAD_GAP = 14;

/** The sheets for whoever checks the work: every figure, in two columns, then the method and what it was done with. */
export function figureSheets(
  letters: Letters,
  written: Written,
  pictures: readonly Picture[],
): (readonly Item[])[] {
  const { model } = written;
  const head = headOf(letters, model);
  const top = SHEET.top + (model.simulated ? BAND_HEIGHT + 8 : 0) + head.height + HEAD_GAP;
  const room = SHEET.bottom - top;
  const pages = twoColumns(columnSections(letters, written), room, {
    columnWidth: COLUMN,
    gap: GAP,
    height: room,
  });
  const sheets = pages.map(({ items, height }) => ({
    items: [moved(SHEET.left, top, items)],
    end: top + height,
  }));
  const begun = sheets.length === 0 ? [{ items: [], end: top }] : sheets;
  const last = below({ letters, written, pictures }, begun, top);
  return last.map(({ items }) => [
    ...(model.simulated ? simulatedBand(SHEET.top) : []),
    moved(SHEET.left, top - HEAD_GAP - head.height, head.items),
    ...items,
  ]);
}

function headOf(letters: Letters, model: RecordModel): Block {
  const half = WIDTH / 2 - 8;
  const names = [model.vehicle, ...(model.customer === undefined ? [] : [model.customer])].join(', ');
  const left = stacked([
    nameBlock(letters, model.shop ?? model.title, half, 17),
    paragraph(letters, { text: names, width: half, size: 11.5, colour: INK.soft }),
  ]);
  const right = stacked([
    paragraph(letters, { text: 'The figures', width: half, size: 17, font: 'engraved', anchor: 'end' }),
    paragraph(letters, {
      text: 'for whoever checks this next',
      width: half,
      size: 11.5,
      colour: INK.soft,
      anchor: 'end',
    }),
  ]);
  return {
    height: Math.max(left.height, right.height),
    items: [moved(0, 0, left.items), moved(WIDTH - half, 0, right.items)],
  };
}

function columnSections(letters: Letters, written: Written): Section[] {
  return [
    marksTable(written),
    budgetTable(written),
    readingsTable(written),
    ...sendersTables(written),
    checksTable(written),
    failuresTable(written),
    whatIfTable(written),
    waysTable(written),
  ]
    .filter(({ rows, note }) => rows.length > 0 || (note ?? '') !== '')
    .map((table) => tableSection(letters, table, COLUMN));
}

type Matter = {
  readonly letters: Letters;
  readonly written: Written;
  readonly pictures: readonly Picture[];
};

type Sheet = { readonly items: readonly Item[]; readonly end: number };

/** What runs over the whole width, below the columns and on as many sheets as it takes. */
function below({ letters, written, pictures }: Matter, sheets: readonly Sheet[], top: number): Sheet[] {
  const { model } = written;
  const done = [...sheets];
  /** Whether it still stood on the sheet that was begun. */
  const put = (block: Block, gap: number, withNext = 0): boolean => {
    const current = done.at(-1);
    const isFirst = current === undefined || current.end <= top;
    const y = isFirst ? top : current.end + gap;
    if (current !== undefined && (isFirst || y + block.height + withNext <= SHEET.bottom)) {
      done[done.length - 1] = {
        items: [...current.items, moved(SHEET.left, y, block.items)],
        end: y + block.height,
      };
      return true;
    }
    done.push({ items: [moved(SHEET.left, top, block.items)], end: top + block.height });
    return false;
  };
  /** The heading once more over a row that begins a sheet. */
  const repeat = (head: Block, row: Block): void => {
    const both = stacked([head, row]);
    done[done.length - 1] = { items: [moved(SHEET.left, top, both.items)], end: top + both.height };
  };
  if (model.pairs.length > 0) {
    const { head, again, rows } = tableSection(letters, allPairsTable(written), WIDTH);
    put(head, 16, heightOf(rows.slice(0, 2)));
    for (const row of rows) if (!put(row, 0)) repeat(again, row);
  }
  for (const [title, texts] of wideTexts(model)) {
    if (texts.length === 0) continue;
    const lines = texts.flatMap((text) => linesOf(letters, text));
    put(heading(letters, title, WIDTH), 16, 2 * LINE);
    for (const [index, each] of lines.entries()) put(each, index === 0 ? 4 : 0);
  }
  put(titleBlock(letters, instrumentRows(model), WIDTH), 10);
  if (model.photographs.length > 0) {
    const room = SHEET.bottom - (done.at(-1)?.end ?? top) - PHOTOGRAPHS_GAP - END_GAP - END_HEIGHT;
    put(photographsBlock({ letters, rows: model.photographs, pictures }, WIDTH, room), PHOTOGRAPHS_GAP);
  }
  put(endMark(model), END_GAP);
  return done;
}

const TEXT_SIZE = 11.5;
const LINE = TEXT_SIZE * 1.28;

/** A paragraph line by line, so that it may go on over a sheet's foot. */
function linesOf(letters: Letters, text: string): Block[] {
  const { items } = paragraph(letters, { text, width: WIDTH, size: TEXT_SIZE });
  const lines = items.map((item): Block => ({
    height: LINE,
    items: [item.kind === 'text' ? { ...item, y: TEXT_SIZE } : item],
  }));
  return [...lines, space(3)];
}

const wideTexts = (model: RecordModel): (readonly [string, readonly string[]])[] => [
  [
    'How it was done, and with what',
    [
      model.method,
      ...(model.law === undefined ? [] : [`${model.law}.`]),
      UNCERTAINTY_WORDS,
      ...(model.fitted === undefined ? [] : [`In the sender\u2019s lead: ${model.fitted}`]),
      ...model.adjustments,
    ],
  ],
  ['Beside the verdict', model.struck],
  ['Not asked', model.notAsked.length === 0 ? [] : [`${model.notAsked.join('; ')}.`]],
  ['Remarks', model.notes],
  ['Confirmed before the work', model.said],
];

const PER_ROW = 4;

/** Four a row; a last row that is not full is as wide as the others. */
function instrumentRows({ instruments }: RecordModel) {
  const rows = Array.from({ length: Math.ceil(instruments.length / PER_ROW) }, (_, index) =>
    instruments.slice(index * PER_ROW, (index + 1) * PER_ROW),
  );
  return rows.map((row) => row.map(({ name, value }) => ({ name, value, parts: 1 })));
}

const PHOTOGRAPHS_GAP = 12;
const END_GAP = 8;
const END_HEIGHT = 16;

const endMark = ({ jobId }: RecordModel): Block => ({
  height: END_HEIGHT,
  items: [
    textAt(WIDTH / 2, 12, `End of record ${jobId}`.slice(0, 90), {
      size: 10.5,
      colour: INK.soft,
      anchor: 'middle',
    }),
  ],
});
