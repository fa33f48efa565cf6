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
const HEAD_GAP = 14;

/**
 * How much smaller the figures are written so that all of them stand on one sheet: 11 parts of 1/96 inch are 8.3 points,
 * the last step 6.8. What does not fit then is written as it is, on as many sheets as it takes.
 */
const SCALES = [1, 0.96, 0.92, 0.89, 0.86, 0.83];

/** The place for the figures, in the units in which they are laid out. */
type Space = { readonly width: number; readonly column: number; readonly bottom: number };

const spaceAt = (scale: number, topPx: number): Space => {
  const width = WIDTH / scale;
  return { width, column: (width - GAP) / 2, bottom: (SHEET.bottom - topPx) / scale };
};

/** What else the figures show: photographs, and the circuit where the first sheet had no room for it. */
type Shown = {
  readonly photographs: readonly Picture[];
  readonly circuit: ((width: number) => Section) | undefined;
};

/** The sheets for whoever checks the work: every figure, in two columns, then the method and what it was done with. */
export function figureSheets(letters: Letters, written: Written, shown: Shown): (readonly Item[])[] {
  const { simulated } = written.model;
  const topPx = SHEET.top + (simulated ? BAND_HEIGHT + 8 : 0);
  const drawn = SCALES.map((scale) => ({
    scale,
    draw: () => laidOut({ letters, written, shown, space: spaceAt(scale, topPx) }),
  }));
  const first = drawn[0]?.draw() ?? [];
  const found = first.length === 1 ? undefined : firstOnOneSheet(drawn.slice(1));
  const { scale, sheets } = found ?? { scale: 1, sheets: first };
  return sheets.map((items) => [
    ...(simulated ? simulatedBand(SHEET.top) : []),
    { kind: 'group', x: SHEET.left, y: topPx, ...(scale === 1 ? {} : { scale }), items },
  ]);
}

type Sheets = readonly (readonly Item[])[];

function firstOnOneSheet(
  drawn: readonly { readonly scale: number; readonly draw: () => Sheets }[],
): { readonly scale: number; readonly sheets: Sheets } | undefined {
  for (const { scale, draw } of drawn) {
    const sheets = draw();
    if (sheets.length === 1) return { scale, sheets };
  }
  return undefined;
}

function laidOut(matter: Matter): Sheets {
  const { letters, written, shown, space } = matter;
  const head = headOf(letters, written.model, space.width);
  const top = head.height + HEAD_GAP;
  const room = space.bottom - top;
  const pages = twoColumns(columnSections(letters, written, shown, space.column), room, {
    columnWidth: space.column,
    gap: GAP,
    height: room,
  });
  const sheets = pages.map(({ items, height }) => ({ items: [moved(0, top, items)], end: top + height }));
  const begun = sheets.length === 0 ? [{ items: [], end: top }] : sheets;
  return below(matter, begun, top).map(({ items }) => [...head.items, ...items]);
}

function headOf(letters: Letters, model: RecordModel, width: number): Block {
  const half = width / 2 - 8;
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
    items: [moved(0, 0, left.items), moved(width - half, 0, right.items)],
  };
}

function columnSections(letters: Letters, written: Written, { circuit }: Shown, column: number): Section[] {
  const tables = [
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
    .map((table) => tableSection(letters, table, column));
  return circuit === undefined ? tables : [circuit(column), ...tables];
}

type Matter = {
  readonly letters: Letters;
  readonly written: Written;
  readonly shown: Shown;
  readonly space: Space;
};

type Sheet = { readonly items: readonly Item[]; readonly end: number };

/** What runs over the whole width, below the columns and on as many sheets as it takes. */
function below(
  { letters, written, shown, space: { width, bottom } }: Matter,
  sheets: readonly Sheet[],
  top: number,
): Sheet[] {
  const { model } = written;
  const done = [...sheets];
  /** Whether it still stood on the sheet that was begun. */
  const put = (block: Block, gap: number, withNext = 0): boolean => {
    const current = done.at(-1);
    const isFirst = current === undefined || current.end <= top;
    const y = isFirst ? top : current.end + gap;
    if (current !== undefined && (isFirst || y + block.height + withNext <= bottom)) {
      done[done.length - 1] = {
        items: [...current.items, moved(0, y, block.items)],
        end: y + block.height,
      };
      return true;
    }
    done.push({ items: [moved(0, top, block.items)], end: top + block.height });
    return false;
  };
  /** The heading once more over a row that begins a sheet. */
  const repeat = (head: Block, row: Block): void => {
    const both = stacked([head, row]);
    done[done.length - 1] = { items: [moved(0, top, both.items)], end: top + both.height };
  };
  if (model.pairs.length > 0) {
    const { head, again, rows } = tableSection(letters, allPairsTable(written), width);
    put(head, 16, heightOf(rows.slice(0, 2)));
    for (const [index, row] of rows.entries()) {
      // Neither the last row nor what is said below it begins a sheet alone.
      const last = index === rows.length - 2 ? heightOf(rows.slice(-1)) : 0;
      if (!put(row, 0, last)) repeat(again, row);
    }
  }
  for (const [title, texts] of wideTexts(letters, model, width)) {
    if (texts.length === 0) continue;
    const lines = texts.flatMap((text) => linesOf(letters, text, width));
    const again = heading(letters, `${title} (continued)`, width);
    put(heading(letters, title, width), 16, HEADING_GAP + 2 * LINE);
    for (const [index, { block, withNext }] of lines.slice(0, -1).entries())
      if (!put(block, index === 0 ? HEADING_GAP : 0, withNext)) repeat(again, block);
  }
  put(titleBlock(letters, instrumentRows(model), width), 10);
  if (model.photographs.length > 0) {
    const room = bottom - (done.at(-1)?.end ?? top) - PHOTOGRAPHS_GAP - END_GAP - END_HEIGHT;
    put(
      photographsBlock({ letters, rows: model.photographs, pictures: shown.photographs }, width, room),
      PHOTOGRAPHS_GAP,
    );
  }
  put(endMark(model, width), END_GAP);
  return done;
}

const TEXT_SIZE = 11.5;
const LINE = TEXT_SIZE * 1.28;
const HEADING_GAP = 4;

/** `withNext`: what must stand below it on the same sheet. */
type TextLine = { readonly block: Block; readonly withNext: number };

/** A paragraph line by line, so that it may go on over a sheet's foot; no line of it stands there or above alone. */
function linesOf(letters: Letters, text: string, width: number): TextLine[] {
  const { items } = paragraph(letters, { text, width, size: TEXT_SIZE });
  const lines = items.map((item): Block => ({
    height: LINE,
    items: [item.kind === 'text' ? { ...item, y: TEXT_SIZE } : item],
  }));
  const next = (index: number): number =>
    index === lines.length - 2 || (index === 0 && lines.length > 1) ? LINE : 0;
  return [
    ...lines.map((block, index) => ({ block, withNext: next(index) })),
    { block: space(3), withNext: 0 },
  ];
}

type Titled = readonly [title: string, texts: readonly string[]];

/** What is said over the whole width. What takes one line stands without a heading of its own under the method. */
function wideTexts(letters: Letters, model: RecordModel, width: number): readonly Titled[] {
  const others: readonly Titled[] = [
    ['Beside the verdict', model.struck],
    ['Not asked', model.notAsked.length === 0 ? [] : [`${model.notAsked.join('; ')}.`]],
    ['Remarks', model.notes],
    ['Confirmed before the work', model.said],
  ];
  const inOne = ([title, texts]: Titled): string => `${title}: ${texts.join(' ')}`;
  const isShort = (each: Titled): boolean =>
    each[1].length === 1 && letters.widthOf(inOne(each), 'text', TEXT_SIZE) <= width;
  const method = [
    model.method,
    ...(model.law === undefined ? [] : [`${model.law}.`]),
    ...(model.fitted === undefined ? [] : [`In the sender\u2019s lead: ${model.fitted}`]),
    `Limit ${model.limitWords}.`,
    UNCERTAINTY_WORDS,
  ];
  return [
    [
      'How it was done, and with what',
      [method.join(' '), ...model.adjustments, ...others.filter(isShort).map(inOne)],
    ],
    ...others.filter((each) => !isShort(each)),
  ];
}

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

const endMark = ({ jobId }: RecordModel, width: number): Block => ({
  height: END_HEIGHT,
  items: [
    textAt(width / 2, 12, `End of record ${jobId}`.slice(0, 90), {
      size: 10.5,
      colour: INK.soft,
      anchor: 'middle',
    }),
  ],
});
